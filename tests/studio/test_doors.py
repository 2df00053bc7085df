"""Deny by default: a page is open only to the roles and methods it names, and every refusal is written down.

Source: OWASP verification standard 5.0, 8.1.1, 8.2.1, 8.3.1 (deny by default, on the server), 16.3.2 (refusals
are logged).
"""

import pytest
from django.http import Http404

from clients.models import Client, Flag
from sessions.demo.factories import ClientFactory, FlagFactory
from studio.access import opens
from studio.models import AuditEntry, Door

pytestmark = [pytest.mark.django_db, pytest.mark.urls("tests.studio.house_urls")]


@pytest.mark.parametrize("role", ["as_owner", "as_instructor", "as_desk"])
@pytest.mark.parametrize("address", ["/trial/undeclared/", "/trial/undeclared-post/"])
def test_a_view_that_does_not_say_is_closed_to_everyone(role, address, request):
    browser = request.getfixturevalue(role)
    assert browser.post(address).status_code == 403
    assert browser.get(address).status_code == 403


def test_a_view_that_does_not_say_is_closed_to_nobody_signed_in(as_nobody):
    assert as_nobody.get("/trial/undeclared/").status_code == 302


@pytest.mark.parametrize(
    ("role", "status"), [("as_owner", 200), ("as_instructor", 403), ("as_desk", 403), ("as_nobody", 302)]
)
def test_only_the_named_role_gets_in(role, status, request):
    assert request.getfixturevalue(role).get("/trial/owners-only/").status_code == status


@pytest.mark.parametrize(
    ("role", "status"), [("as_owner", 200), ("as_instructor", 200), ("as_desk", 403), ("as_nobody", 302)]
)
def test_a_form_obeys_the_same_rule(role, status, request):
    assert request.getfixturevalue(role).post("/trial/health-form/").status_code == status


@pytest.mark.parametrize("method", ["get", "put", "delete", "patch", "options"])
def test_other_methods_are_not_there(as_owner, method):
    assert getattr(as_owner, method)("/trial/health-form/").status_code == 405


def test_head_goes_with_get(as_owner):
    assert as_owner.head("/trial/plain/").status_code == 200


def test_a_part_of_a_page_is_refused_like_the_page(as_desk):
    answer = as_desk.get("/trial/owners-only/", headers={"HX-Request": "true"})
    assert answer.status_code == 403


def test_naming_a_role_that_does_not_exist_is_not_an_open_door(as_owner):
    assert opens("owners")(lambda request: None).opens_to == {"owners"}


class TestWhatIsWrittenDown:
    def test_a_refused_role(self, as_desk, desk):
        as_desk.get("/trial/owners-only/")
        entry = AuditEntry.objects.get(action="access.refused")
        assert (entry.person, entry.role, entry.outcome) == (desk, "front_desk", "refused")
        assert entry.fields == ["owners_only"]
        assert entry.session_mark and entry.device == "127.0.0.1"

    def test_ten_refusals_are_ten_entries(self, as_desk):
        for _ in range(10):
            as_desk.get("/trial/owners-only/")
        assert AuditEntry.objects.filter(action="access.refused").count() == 10

    def test_an_id_that_is_foreign_or_missing(self, as_desk, desk):
        gone = ClientFactory(archived_on="2026-01-01")
        pages = {as_desk.get(f"/trial/clients/{key}/").status_code for key in (gone.public_id, "no-such-id")}
        assert pages == {404}
        entries = AuditEntry.objects.filter(action="access.refused")
        assert [(e.person, e.outcome, e.fields) for e in entries] == [
            (desk, "missing", ["trial:one_client"])
        ] * 2

    def test_an_address_that_does_not_exist_is_not(self, as_desk):
        assert as_desk.get("/nothing/here/").status_code == 404
        assert not AuditEntry.objects.filter(action="access.refused").exists()


class TestObjects:
    """A row that is foreign answers exactly like one that is missing."""

    @pytest.fixture
    def archived(self, house):
        return ClientFactory(archived_on="2026-01-01")

    def test_those_who_left_are_for_the_owner(self, archived, owner, instructor, desk):
        assert Client.objects.get_seen(owner, archived.public_id) == archived
        for person in (instructor, desk):
            with pytest.raises(Http404):
                Client.objects.get_seen(person, archived.public_id)

    def test_foreign_and_missing_say_the_same(self, archived, instructor):
        with pytest.raises(Http404) as foreign:
            Client.objects.get_seen(instructor, archived.public_id)
        with pytest.raises(Http404) as missing:
            Client.objects.get_seen(instructor, "no-such-id")
        assert str(foreign.value) == str(missing.value)

    def test_the_desk_sees_no_flag(self, desk, instructor):
        flag = FlagFactory()
        assert Flag.objects.get_seen(instructor, flag.public_id) == flag
        with pytest.raises(Http404):
            Flag.objects.get_seen(desk, flag.public_id)

    def test_a_closed_account_sees_nothing(self, owner):
        client = ClientFactory()
        owner.is_active = False
        with pytest.raises(Http404):
            Client.objects.get_seen(owner, client.public_id)

    def test_a_model_that_does_not_say_refuses(self, owner):
        class Forgot(Door):
            pass

        with pytest.raises(NotImplementedError, match="does not say who may see Client"):
            Forgot(model=Client).seen_by(owner)

    def test_public_ids_are_long_and_never_in_sequence(self):
        """96 random bits are 16 characters of base 64."""
        ids = [ClientFactory().public_id for _ in range(20)]
        assert len(set(ids)) == 20
        assert {len(public_id) for public_id in ids} == {16}
