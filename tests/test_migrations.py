"""The migrations describe the models as they are."""

import pytest
from django.core.management import call_command

pytestmark = pytest.mark.django_db


def test_no_migration_is_missing(capsys):
    call_command("makemigrations", check=True, dry_run=True, verbosity=1)
    assert "No changes detected" in capsys.readouterr().out


def test_nothing_waits_to_be_applied():
    call_command("migrate", check_unapplied=True, verbosity=0)


def test_nothing_is_wrong_with_the_set_up():
    call_command("check", fail_level="WARNING", databases=["default"], verbosity=0)
