"""What changes when, as a client's page: the postnatal client on three dates, a pregnant one, and nobody's business.

Six weeks, twelve weeks and twenty-six after the birth, and 14, 16 and 28 weeks of pregnancy, are the limits of the
rule table; the dates are counted by hand (40 weeks to the due date, Naegele's rule).
"""

import datetime as dt
import re

import pytest
from django.urls import reverse

from library import tables
from sessions.demo.factories import ClientFactory, FlagFactory, InstructionFactory
from studio import clock
from studio.models import AuditEntry

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now", "house")]


def page_of(browser, client, weeks=""):
    answer = browser.get(reverse("sessions:what_changes", args=[client.public_id]) + weeks)
    assert answer.status_code == 200
    return answer.content.decode()


def days_of(page):
    return re.findall(r"From (\w{3} \d+ \w{3} \d{4})", page)


BORN = dt.date(2026, 11, 2)


@pytest.mark.parametrize(
    ("today", "days"),
    [
        (dt.date(2026, 11, 25), ["Mon 14 Dec 2026", "Mon 25 Jan 2027"]),
        (dt.date(2026, 12, 14), ["Mon 25 Jan 2027"]),
        (dt.date(2027, 1, 25), ["Mon 3 May 2027"]),
        (dt.date(2027, 5, 3), []),
    ],
    ids=["three weeks after", "the day six weeks end", "the day twelve weeks end", "half a year after"],
)
def test_a_client_after_a_birth_on_three_dates(as_instructor, today, days):
    client = ClientFactory()
    FlagFactory(client=client, condition="postnatal_vaginal", on=BORN)
    with clock.at(dt.datetime.combine(today, dt.time(10, 15), dt.UTC)):
        page = page_of(as_instructor, client, "?weeks=16")
    assert days_of(page) == days
    assert ("Nothing changes in this time" in page) == (not days)


def test_a_pregnant_client_sees_the_days_in_the_list_and_in_the_picture(as_instructor):
    """Due 9 June 2027: 14 weeks on 9 December, 16 weeks on 23 December; 28 weeks, 17 March, is day 112."""
    client = ClientFactory()
    FlagFactory(client=client, condition="pregnancy", due_on=dt.date(2027, 6, 9))
    page = page_of(as_instructor, client)
    assert days_of(page) == ["Wed 9 Dec 2026", "Wed 23 Dec 2026", "Wed 17 Mar 2027"]
    down = re.search(r"<li>((?!<li>).)*Lying face down(.*?)</li>", page, re.S)
    assert down
    strips = re.findall(r'class="band" viewBox="0 0 720 30" role="img" aria-label="([^"]+)"', page)
    assert strips
    assert all(strip.startswith("from 25 Nov: ") and "; from " in strip for strip in strips)
    assert "it is not a permission" in page.lower()


def test_the_end_of_a_clinicians_word_is_a_change(as_instructor):
    client = ClientFactory()
    InstructionFactory(client=client, about="jump_impact", verdict="avoid", until_on=dt.date(2026, 12, 1))
    page = page_of(as_instructor, client)
    assert days_of(page) == ["Wed 2 Dec 2026"]
    assert "Jumping and landing" in page and "before: Avoid" in page


def test_how_long_the_clinic_is_asked_for_stands_there(as_instructor):
    """A new hip asks for a written word; the limit is the table's, its last day is the day before."""
    client = ClientFactory()
    FlagFactory(client=client, condition="hip_replacement_posterior", side="left", on=dt.date(2026, 11, 2))
    days = tables.rule_table().conditions["hip_replacement_posterior"]["clearance"]["until_day"]
    last = dt.date(2026, 11, 2) + dt.timedelta(days=days - 1)
    page = page_of(as_instructor, client)
    assert "Asked for until then" in page
    assert f"last day {last.day} {last:%b} {last.year}" in page


@pytest.mark.parametrize("state", ["proposed", "resting", "ended"])
def test_only_flags_that_count_are_looked_at(as_instructor, state):
    client = ClientFactory()
    FlagFactory(client=client, condition="postnatal_vaginal", on=BORN, state=state)
    assert "No flag counts at present. That is not a permission." in page_of(as_instructor, client)


@pytest.mark.parametrize(
    ("asked", "shown"), [("?weeks=26", 26), ("?weeks=9", 16), ("?weeks=x", 16), ("", 16)]
)
def test_how_far_ahead_is_one_of_four(as_instructor, asked, shown):
    page = page_of(as_instructor, ClientFactory(), asked)
    assert f'aria-current="true">{shown} weeks' in page


def test_reading_it_is_written_down(as_instructor):
    client = ClientFactory()
    page_of(as_instructor, client)
    assert AuditEntry.objects.filter(action="flags.read").count() == 1


def test_queries_do_not_grow_with_the_flags(as_instructor, django_assert_num_queries):
    few, many = ClientFactory(), ClientFactory()
    for client, times in ((few, 2), (many, 12)):
        for n in range(times):
            FlagFactory(client=client, condition="postnatal_vaginal", on=BORN - dt.timedelta(days=n))
    from django.db import connection
    from django.test.utils import CaptureQueriesContext

    page_of(as_instructor, few)
    with CaptureQueriesContext(connection) as seen:
        page_of(as_instructor, few)
    with django_assert_num_queries(len(seen)):
        page_of(as_instructor, many)
    assert len(seen) < 20


def test_flags_and_client_lead_to_it(as_instructor):
    client = ClientFactory()
    FlagFactory(client=client, condition="postnatal_vaginal", on=BORN)
    there = reverse("sessions:what_changes", args=[client.public_id])
    for name in ("sessions:client", "clients:flags"):
        page = as_instructor.get(reverse(name, args=[client.public_id])).content.decode()
        assert f'href="{there}"' in page
        assert f'href="{reverse("library:condition", args=["postnatal_vaginal"])}"' in page
