"""A new authority: the owner is asked before, told after, and told which devices have not been back.

An authority that may vouch for a closed list of names only (RFC 5280, 4.2.1.10) cannot take a new one in, so every
device has to install its successor. What a device needs is in tests/studio/test_network.py.
"""

import datetime as dt

import pytest
from django.conf import settings as django_settings
from django.urls import reverse

from studio import certificates, clock
from studio.actions import audit, devices
from studio.actions import network as actions
from studio.models import AuditEntry, Device, Network
from tests.studio.test_network import _this_machine, authority_on_disk, on, switch_on  # noqa: F401

pytestmark = pytest.mark.django_db

NEW = {"other_address": "203.0.113.9"}
QUESTION = "does not cover this name or address"
NOTICE = "Install the new certificate on every tablet and laptop"


@pytest.fixture
def replaced(on, as_owner):  # noqa: F811
    assert switch_on(as_owner, version=on.version, install_again="on", **NEW).status_code == 302
    return Network.objects.get()


def pages(browser) -> list[str]:
    return [browser.get(reverse(name)).content.decode() for name in ("studio:network", "studio:studio")]


def test_saving_such_a_name_asks_first_and_changes_nothing(on, as_owner):  # noqa: F811
    before = authority_on_disk()
    answer = switch_on(as_owner, version=on.version, **NEW)
    page = answer.content.decode()
    assert answer.status_code == 422 and QUESTION in page and 'name="install_again"' in page
    assert "On each one: take the old certificate out" in page and 'value="203.0.113.9"' in page
    assert authority_on_disk() == before and Network.objects.get().addresses == ["192.168.7.12"]


def test_strict_browsers_are_told_of_the_way_left(on, as_owner):  # noqa: F811
    Network.objects.update(strict_transport=True)
    page = switch_on(as_owner, version=on.version, **NEW).content.decode()
    assert "Open the steps there by the address in numbers." in page


@pytest.mark.parametrize(
    "more",
    [
        pytest.param({"other_address": "192.168.9.9"}, id="address-of-a-local-network"),
        pytest.param({"names": ["heron.local"]}, id="fewer-names"),
        pytest.param({"plain_port": 8081}, id="a-port"),
    ],
)
def test_what_the_authority_covers_is_saved_without_a_question(on, as_owner, more):  # noqa: F811
    before = authority_on_disk()
    assert switch_on(as_owner, version=on.version, **more).status_code == 302
    assert authority_on_disk() == before
    assert not any(NOTICE in page for page in pages(as_owner))


def test_the_first_authority_asks_and_tells_nothing(on, as_owner):  # noqa: F811
    assert Network.objects.get().authority_at and actions.install_again() is None
    assert not any(NOTICE in page or QUESTION in page for page in pages(as_owner))


def test_both_pages_say_it_until_the_owner_says_it_is_done(replaced, as_owner):
    assert all(NOTICE in page for page in pages(as_owner))
    for _twice in range(2):
        assert as_owner.post(reverse("studio:network_installed")).status_code == 302
    assert not any(NOTICE in page for page in pages(as_owner))
    assert AuditEntry.objects.filter(action="network.installed_on_all").count() == 1


def test_a_lost_file_is_a_new_authority_too(on, as_owner):  # noqa: F811
    (django_settings.DATA_DIR / "network" / "authority.pem").unlink()
    assert QUESTION in switch_on(as_owner, version=on.version).content.decode()
    actions.certify(actor=audit.Actor.program("test"), row=on)
    assert all(NOTICE in page for page in pages(as_owner))


def test_one_that_ends_is_replaced_by_the_program_and_told(on, as_owner):  # noqa: F811
    days = certificates.AUTHORITY_DAYS - certificates.SERVER_DAYS + 1
    with clock.at(clock.now() + dt.timedelta(days=days)):
        actions.certify(actor=audit.Actor.program("test"), row=on)
    assert actions.install_again() is not None


def test_devices_that_have_not_been_back_are_named(on, as_owner, owner):  # noqa: F811
    def enrolled(name, hours_ago, **more):
        seen = clock.now() - dt.timedelta(hours=hours_ago) if hours_ago else None
        return Device.objects.create(
            name=name,
            kind="tablet",
            token_hash=name,
            enrolled_at=clock.now(),
            enrolled_by=owner,
            over_network_at=seen,
            **more,
        )

    enrolled("Window tablet", 2)
    enrolled("Long room tablet", 3)
    enrolled("Desk", None)
    enrolled("Given away", 4, revoked_at=clock.now())
    switch_on(as_owner, version=on.version, install_again="on", **NEW)
    assert actions.install_again().waiting == ["Long room tablet", "Window tablet"]
    assert all("Long room tablet, Window tablet" in page for page in pages(as_owner))
    later = clock.now() + dt.timedelta(minutes=5)
    Device.objects.filter(name="Window tablet").update(over_network_at=later)
    assert actions.install_again().waiting == ["Long room tablet"]


@pytest.mark.parametrize("secure", [True, False], ids=["over-tls", "this-machine"])
def test_a_device_is_noted_when_it_comes_over_the_network(house, owner, client, secure):
    token = "a device's own token"
    device = Device.objects.create(
        name="Tablet",
        kind="tablet",
        token_hash=devices._hashed(token),
        enrolled_at=clock.now(),
        enrolled_by=owner,
    )
    name = devices.COOKIE
    client.cookies[f"__Host-{name}" if secure else name] = token
    moment = clock.now()
    for seconds, noted in ((0, 0), (30, 0), (90, 90)):
        with clock.at(moment + dt.timedelta(seconds=seconds)):
            client.get(reverse("studio:sign_in"), secure=secure)
        device.refresh_from_db()
        expected = moment + dt.timedelta(seconds=noted) if secure else None
        assert device.over_network_at == expected
