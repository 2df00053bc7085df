"""Steps for tests of the lock: a browser on an enrolled device, coming in, time going by."""

import datetime as dt

import pytest
from django.contrib.auth.hashers import make_password
from django.test import Client as Browser
from django.urls import reverse

from sessions.demo.factories import PASSPHRASE, DeviceFactory
from studio import clock
from studio.actions.devices import COOKIE
from studio.models import Device, Pin, StaffSession

START = dt.datetime(2026, 11, 25, 10, 15, tzinfo=dt.UTC)
PIN, OTHER_PIN, WRONG = "830264", "617935", "905173"
PAGES = ["studio:help", "clients:list", "sessions:today", "sessions:bookings", "library:list", "studio:mine"]


def minutes(count: float) -> dt.datetime:
    """Return the time so many minutes after the start."""
    return START + dt.timedelta(minutes=count)


def give_pin(person, digits=PIN) -> None:
    Pin.objects.create(person=person, digits=make_password(digits), set_at=START)


def device_browser(token="a-tablet", kind="tablet") -> Browser:
    """Return a browser that holds the token of a device; the device is made the first time."""

    browser = Browser()
    browser.cookies[COOKIE] = token
    if not any(Device.objects.filter(name=token)):
        DeviceFactory(token=token, name=token, kind=kind)
    return browser


def sign_in(browser, name="maris", passphrase=PASSPHRASE):
    return browser.post(reverse("studio:sign_in"), {"sign_in_name": name, "passphrase": passphrase})


def lock_now(browser):
    return browser.post(reverse("studio:lock_now"))


def unlock(browser, person, pin=PIN, **more):
    return browser.post(reverse("studio:lock"), {"person": person.public_id, "pin": pin, **more})


def opens(browser, name="studio:help") -> bool:
    """Return whether a page answers with itself."""
    return browser.get(reverse(name)).status_code == 200


def state(browser) -> str:
    return browser.get(reverse("studio:lock_state")).content.decode()


def replay(key, browser=None) -> Browser:
    """Return a browser that shows an old session cookie, on the same device as another when one is given."""
    again = Browser()
    if browser is not None and COOKIE in browser.cookies:
        again.cookies[COOKIE] = browser.cookies[COOKIE].value
    again.cookies["evenside_tests"] = key
    return again


def key_of(browser) -> str:
    return browser.cookies["evenside_tests"].value


def running(person):
    return StaffSession.objects.running().filter(person=person)


@pytest.fixture
def maris(instructor):
    give_pin(instructor)
    return instructor


@pytest.fixture
def juniper(desk):
    give_pin(desk, OTHER_PIN)
    return desk


@pytest.fixture
def tablet(maris):
    """An enrolled tablet on which the instructor has just signed in with the passphrase."""
    browser = device_browser()
    with clock.at(START):
        sign_in(browser)
    return browser
