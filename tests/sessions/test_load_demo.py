"""The command that lays the demo: once a week, only where a demo belongs, and in a sentence."""

import datetime as dt

import pytest
from django.core.management import CommandError, call_command
from django.db import connection

from sessions.demo import laying
from sessions.demo.factories import ClientFactory, FlagFactory, StudioFactory
from sessions.management.commands import load_demo
from studio import clock, guards
from studio.models import AuditEntry, Studio

pytestmark = pytest.mark.django_db
WEDNESDAY = dt.datetime(2026, 11, 25, 10, 20, tzinfo=dt.UTC)


@pytest.fixture
def laid(monkeypatch, settings, tmp_path):
    """A demo profile in which laying makes three rows; returns the instants it was laid for."""
    settings.PROFILE, settings.DATA_DIR = "demo", tmp_path
    instants = []

    def lay(now):
        instants.append(now)
        StudioFactory()
        FlagFactory(client=ClientFactory())

    monkeypatch.setattr(laying, "lay", lay)
    return instants


def load(at=WEDNESDAY, **options) -> str:
    with clock.at(at):
        return load_demo.bring_up_to_date()


@pytest.mark.parametrize("profile", ["studio", "tests"])
def test_a_real_studio_is_left_alone(profile, settings, laid):
    settings.PROFILE = profile
    with pytest.raises(CommandError, match="real studio"):
        call_command("load_demo")
    assert laid == []


def test_the_first_time_it_is_laid_and_stamped(laid, tmp_path):
    assert load() == "Demo: laid for the week of 23 November 2026."
    assert laid == [WEDNESDAY]
    assert (tmp_path / "demo-week").read_text().strip() == "2026-11-23"


@pytest.mark.parametrize("days", [0, 1, 4], ids=["at-once", "next-day", "on-sunday"])
def test_in_the_same_week_nothing_happens(laid, days):
    load()
    assert "already" in load(WEDNESDAY + dt.timedelta(days=days))
    assert len(laid) == 1


@pytest.mark.parametrize("days", [5, 12, -7], ids=["next-monday", "a-week-on", "clock-set-back"])
def test_in_another_week_it_is_laid_anew(laid, days):
    load()
    first = Studio.objects.get().public_id
    assert "laid anew" in load(WEDNESDAY + dt.timedelta(days=days))
    assert len(laid) == 2
    assert Studio.objects.get().public_id != first
    assert not AuditEntry.objects.exists()


def test_the_guards_stand_again_after_it_was_laid_anew(laid):
    load()
    load(WEDNESDAY + dt.timedelta(days=7))
    assert guards.missing(connection) == []


def test_a_demo_that_was_never_stamped_is_laid_anew(laid, tmp_path):
    load()
    (tmp_path / "demo-week").unlink()
    assert "laid anew" in load()


def test_when_laying_fails_the_old_demo_is_still_there(laid, monkeypatch):
    load()
    first = Studio.objects.get().public_id

    def broken(now):
        raise OSError("disk full")

    monkeypatch.setattr(laying, "lay", broken)
    with pytest.raises(OSError, match="disk full"):
        load(WEDNESDAY + dt.timedelta(days=7))
    assert Studio.objects.get().public_id == first
    assert guards.missing(connection) == []


def test_it_says_one_line(laid, capsys):
    with clock.at(WEDNESDAY):
        call_command("load_demo")
        call_command("load_demo", verbosity=0)
    assert capsys.readouterr().out == "Demo: laid for the week of 23 November 2026.\n"
