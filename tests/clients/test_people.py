"""Finding clients, taking one on file, changing the contact."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from clients.models import Client
from sessions.demo.factories import ClientFactory, FlagFactory, SubmissionFactory
from studio.models import AuditEntry
from tests.clients.forms import contact

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now")]

LIST, NEW = "/clients/", "/clients/new/"


def page(browser, address, data=None, **headers):
    answer = browser.post(address, data, **headers) if data is not None else browser.get(address, **headers)
    return answer, answer.content.decode()


# The list


def test_list_shows_everybody(as_desk):
    ClientFactory(full_name="Zoë O'Brien")
    answer, text = page(as_desk, LIST)
    assert answer.status_code == 200
    assert "Zoë O&#x27;Brien" in text
    assert "1 client" in text


def test_list_without_clients_says_what_comes_first(as_desk):
    assert "No clients yet" in page(as_desk, LIST)[1]


def test_search_posts_and_finds(as_instructor):
    ClientFactory(full_name="Zoë Lanternby")
    ClientFactory(full_name="Bashir Windrow")
    _answer, text = page(as_instructor, LIST, {"words": "zoe"})
    assert "Zoë Lanternby" in text
    assert "Bashir Windrow" not in text


def test_search_by_address_finds_nothing_more(as_instructor):
    """A name in an address would end up in logs: only a form is listened to."""
    ClientFactory(full_name="Zoë Lanternby")
    ClientFactory(full_name="Bashir Windrow")
    assert "Bashir Windrow" in page(as_instructor, LIST + "?words=zoe")[1]


def test_search_part_for_htmx(as_desk):
    ClientFactory(full_name="Zoë Lanternby")
    answer, text = page(as_desk, LIST, {"words": "zoe"}, HTTP_HX_REQUEST="true", HTTP_HX_TARGET="found")
    assert text.lstrip().startswith('<div id="found"')
    assert "announce" in answer.headers["HX-Trigger"]


@pytest.mark.parametrize("typed", ["zoe", "900 555"], ids=["a name without its accent", "part of the number"])
def test_enter_opens_the_only_one_found(as_desk, typed):
    client = ClientFactory(full_name="Zoë Lanternby", telephone="07700 900555")
    ClientFactory(full_name="Someone Unlike", call_name="Unlike", telephone="07700 900111")
    answer, _text = page(as_desk, LIST, {"words": typed, "open": "1"})
    assert answer.url == f"/clients/{client.public_id}/"
    asked = page(as_desk, LIST, {"words": typed, "open": "1"}, HTTP_HX_REQUEST="true")[0]
    assert asked["HX-Redirect"] == f"/clients/{client.public_id}/"
    # Letters on the way do not carry away whoever still types; nor does Enter with several, or with nothing.
    assert page(as_desk, LIST, {"words": typed}, HTTP_HX_REQUEST="true")[0].status_code == 200
    assert page(as_desk, LIST, {"words": "n", "open": "1"})[0].status_code == 200
    assert page(as_desk, LIST, {"words": "", "open": "1"})[0].status_code == 200


def test_nobody_found_says_so(as_desk):
    ClientFactory()
    assert "Nobody by that name" in page(as_desk, LIST, {"words": "xyzzy"})[1]


@pytest.mark.parametrize("number", ["0", "-1", "999", "two", ""])
def test_page_that_is_none_shows_one_that_is(as_desk, number):
    ClientFactory()
    assert page(as_desk, LIST, {"words": "", "page": number})[0].status_code == 200


def test_long_list_comes_in_pages(as_desk):
    ClientFactory.create_batch(45)
    first = page(as_desk, LIST)[1]
    second = page(as_desk, LIST, {"words": "", "page": "2"})[1]
    assert first.count("rowlink") == 40
    assert second.count("rowlink") == 5


@pytest.mark.parametrize("asks", ["GET", "POST"])
def test_list_takes_the_same_queries_for_two_and_for_twelve(as_desk, asks):
    def count():
        with CaptureQueriesContext(
            connection,
        ) as found:
            page(as_desk, LIST, {"words": "a"} if asks == "POST" else None)
        return len(found)

    def add(number):
        for client in ClientFactory.create_batch(number):
            FlagFactory(client=client)
            SubmissionFactory(client=client)

    add(2)
    count()  # the session is written once
    two = count()
    add(10)
    assert count() == two


def test_left_clients_are_for_the_owner(as_desk, as_owner):
    ClientFactory(full_name="Petra Gone", archived_on=dt.date(2026, 1, 1))
    assert "Petra Gone" not in page(as_desk, LIST)[1]
    assert "Petra Gone" in page(as_owner, LIST)[1]


def test_desk_marks(as_desk, as_instructor):
    FlagFactory()
    assert "Ask an instructor before booking" in page(as_desk, LIST)[1]
    assert "Form missing" in page(as_desk, LIST)[1]
    assert "Ask an instructor before booking" not in page(as_instructor, LIST)[1]


# A new client


def test_new_client_is_on_file(as_desk, desk):
    answer, _text = page(as_desk, NEW, contact())
    client = Client.objects.get()
    assert answer.status_code == 302
    assert answer.url == f"/clients/{client.public_id}/"
    assert (client.full_name, client.birth_date) == ("Sunniva Saltmarsh", dt.date(1980, 5, 3))
    entry = AuditEntry.objects.get(action="client.added")
    assert (entry.person, entry.thing_id) == (desk, client.public_id)
    assert "Sunniva" not in str(entry.__dict__)


@pytest.mark.parametrize("name", ["O'Brien", "王", "=SUM(1)", "<b>", "Ngũgĩ wa Thiong’o", "Robert'); DROP--"])
def test_names_are_ordinary(as_desk, name):
    answer, _text = page(as_desk, NEW, contact(full_name=name, call_name=name))
    client = Client.objects.get()
    assert answer.status_code == 302
    assert client.full_name == client.call_name == name
    text = page(as_desk, LIST)[1]
    assert "<b>" not in text.replace("<b><bdi>", "")


@pytest.mark.parametrize(
    ("changed", "field", "sentence"),
    [
        pytest.param({"full_name": ""}, "full_name", "Type the full name.", id="no name"),
        pytest.param({"full_name": "   "}, "full_name", "Type the full name.", id="a name of spaces"),
        pytest.param({"birth_date": ""}, "birth_date", "Type the date of birth.", id="no birth date"),
        pytest.param({"birth_date": "3rd of May"}, "birth_date", "day, month, year", id="not a date"),
        pytest.param({"birth_date": "2026-02-30"}, "birth_date", "day, month, year", id="no such day"),
        pytest.param({"birth_date": "2026-11-26"}, "birth_date", "still to come", id="tomorrow"),
        pytest.param({"birth_date": "1899-12-31"}, "birth_date", "before 1900", id="before 1900"),
        pytest.param({"telephone": ""}, "telephone", "one of them is needed", id="no way to reach them"),
        pytest.param({"telephone": "12"}, "telephone", "six digits", id="too short a number"),
        pytest.param({"telephone": "ring the bell 123456"}, "telephone", "no letters", id="letters"),
        pytest.param({"email": "not an address"}, "email", "email", id="email that is none"),
        pytest.param({"emergency_name": ""}, "emergency_name", "ring in an emergency", id="nobody to ring"),
        pytest.param({"emergency_telephone": ""}, "emergency_telephone", "number to ring", id="no number"),
    ],
)
def test_what_is_wrong_is_said_at_the_field_and_kept(as_desk, changed, field, sentence):
    answer, text = page(as_desk, NEW, contact(**changed))
    form = answer.context["form"]
    assert answer.status_code == 422
    assert sentence in " ".join(form.errors[field])
    assert 'value="Rowan Fernhollow"' in text or field == "emergency_name"
    assert not Client.objects.exists()


def test_what_to_call_them_is_the_first_word_unless_typed(as_desk):
    page(as_desk, NEW, contact(full_name="  Zoë Anne Lanternby", call_name=""))
    assert Client.objects.get().call_name == "Zoë"


@pytest.mark.parametrize("day", ["1900-01-01", "2026-11-25"])
def test_edges_of_birth_dates(as_desk, day):
    assert page(as_desk, NEW, contact(birth_date=day))[0].status_code == 302


def test_email_alone_is_enough(as_desk):
    assert page(as_desk, NEW, contact(telephone="", email="s@example.org"))[0].status_code == 302


@pytest.mark.parametrize(
    "other",
    [
        pytest.param({"telephone": "+44 7700 900555"}, id="same telephone, written otherwise"),
        pytest.param(
            {"full_name": "SUNNIVA SALTMARSH", "birth_date": dt.date(1980, 5, 3)}, id="same name and day"
        ),
    ],
)
def test_second_person_is_pointed_out_before_saving(as_desk, other):
    twin = ClientFactory(**other)
    answer, text = page(as_desk, NEW, contact())
    assert answer.status_code == 409
    assert Client.objects.count() == 1
    assert "Save all the same" in text
    assert twin.public_id in text
    assert 'value="Sunniva Saltmarsh"' in text
    answer, _text = page(as_desk, NEW, contact(seen=twin.public_id, all_the_same="yes"))
    assert answer.status_code == 302
    assert Client.objects.count() == 2


def test_somebody_else_who_turns_up_is_pointed_out_again(as_desk):
    twin = ClientFactory(telephone="07700 900555")
    newer = ClientFactory(full_name="Sunniva Saltmarsh", birth_date=dt.date(1980, 5, 3))
    answer, text = page(as_desk, NEW, contact(seen=twin.public_id, all_the_same="yes"))
    assert answer.status_code == 409
    assert newer.public_id in text


@pytest.mark.parametrize(
    "other",
    [
        pytest.param({"birth_date": dt.date(1980, 5, 3)}, id="same day, other name"),
        pytest.param({"full_name": "Sunniva Saltmarsh", "birth_date": dt.date(1981, 5, 3)}, id="other day"),
        pytest.param({"full_name": "Sunniva Salt", "birth_date": dt.date(1980, 5, 3)}, id="shorter name"),
    ],
)
def test_somebody_else_is_not_pointed_out(as_desk, other):
    ClientFactory(**other)
    assert page(as_desk, NEW, contact())[0].status_code == 302


# Changing the contact


def change_address(client):
    return reverse("clients:contact", args=[client.public_id])


def test_contact_is_changed(as_desk, desk):
    client = ClientFactory(full_name="Wenna Oakapple")
    answer, _text = page(as_desk, change_address(client), contact(full_name="Wenna Thistlewick", version=1))
    client.refresh_from_db()
    assert answer.status_code == 302
    assert (client.full_name, client.version, client.changed_by) == ("Wenna Thistlewick", 2, desk)
    assert list(Client.objects.found("thistle")) == [client]
    assert list(Client.objects.found("07700 900555")) == [client]
    assert "full_name" in AuditEntry.objects.get(action="client.contact_changed").fields


def test_two_at_once_second_sees_both_and_loses_nothing(as_desk, as_owner, owner):
    client = ClientFactory(full_name="Wenna Oakapple")
    page(as_owner, change_address(client), contact(full_name="Wenna of the Owner", version=1))
    answer, text = page(as_desk, change_address(client), contact(full_name="Wenna of the Desk", version=1))
    client.refresh_from_db()
    assert answer.status_code == 409
    assert client.full_name == "Wenna of the Owner"
    assert "Wenna of the Owner" in text
    assert 'value="Wenna of the Desk"' in text
    assert owner.call_name in text
    # Saved again after looking, it goes through.
    answer, _text = page(as_desk, change_address(client), contact(full_name="Wenna of the Desk", version=2))
    client.refresh_from_db()
    assert (answer.status_code, client.full_name) == (302, "Wenna of the Desk")


def test_form_offers_the_version_to_save_next(as_desk, as_owner):
    client = ClientFactory()
    page(as_owner, change_address(client), contact(version=1))
    _answer, text = page(as_desk, change_address(client), contact(full_name="Another", version=1))
    assert '<input type="hidden" name="version" value="2"' in text


@pytest.mark.parametrize("version", ["", "x", None])
def test_missing_version_overwrites_nothing(as_desk, version):
    client = ClientFactory(full_name="Wenna Oakapple")
    answer, _text = page(as_desk, change_address(client), contact(version=version))
    client.refresh_from_db()
    assert answer.status_code in (409, 422)
    assert client.full_name == "Wenna Oakapple"


def test_bad_contact_keeps_heading_and_typing(as_desk):
    client = ClientFactory(full_name="Wenna Oakapple")
    answer, text = page(as_desk, change_address(client), contact(full_name="Typed", telephone="1", version=1))
    assert answer.status_code == 422
    assert "<bdi>Wenna Oakapple</bdi>" in text
    assert 'value="Typed"' in text


def test_emergency_contact_is_the_desks_and_the_owners(as_instructor, as_owner):
    """The roles table: instructors read whom to ring and do not change it."""
    client = ClientFactory()
    page(as_instructor, change_address(client), contact(emergency_name="By Instructor", version=1))
    client.refresh_from_db()
    assert client.full_name == "Sunniva Saltmarsh"
    assert client.emergency_name == "Rowan Fernhollow"
    page(as_owner, change_address(client), contact(emergency_name="By Owner", version=2))
    client.refresh_from_db()
    assert client.emergency_name == "By Owner"


def test_unknown_client_is_missing(as_desk):
    assert page(as_desk, "/clients/nobodyhere/contact/")[0].status_code == 404


def test_left_client_answers_like_a_missing_one(as_desk):
    client = ClientFactory(archived_on=dt.date(2026, 1, 1))
    assert page(as_desk, change_address(client))[0].status_code == 404
