"""Two people save the same row: the second is told, sees both texts, and nothing is written over.

Source: OWASP verification standard 5.0, 15.4.2 (checks and writes as one step).
"""

import threading

import pytest
from django.db import connection

from clients.models import Client
from sessions.demo.factories import ClientFactory
from studio import clock
from studio.models import Stale

pytestmark = pytest.mark.django_db


@pytest.fixture
def two_readers(instructor):
    """The same client, read twice before either saves."""
    pk = ClientFactory(full_name="Wenna Oakapple", telephone="07700 900001").pk
    return Client.objects.get(pk=pk), Client.objects.get(pk=pk)


def save(row, person, **changes):
    expected = row.version
    for name, value in changes.items():
        setattr(row, name, value)
    row.save_version(expected, list(changes), by=person, at=clock.now())


def test_the_first_save_goes_through_and_says_who(two_readers, instructor, now):
    first, _second = two_readers
    save(first, instructor, telephone="07700 900002")
    stored = Client.objects.get(pk=first.pk)
    assert (stored.telephone, stored.version) == ("07700 900002", 2)
    assert (stored.changed_by, stored.changed_at) == (instructor, now)


def test_the_second_save_is_refused_with_the_row_as_it_stands(two_readers, instructor, other_instructor):
    first, second = two_readers
    save(first, instructor, telephone="07700 900002")
    with pytest.raises(Stale) as told:
        save(second, other_instructor, telephone="07700 900003")
    assert told.value.current.telephone == "07700 900002"
    assert told.value.current.changed_by == instructor
    assert second.telephone == "07700 900003", "what the second typed is still at hand"
    assert Client.objects.get(pk=first.pk).telephone == "07700 900002"


def test_a_different_field_from_an_older_page_is_refused_too(two_readers, instructor, other_instructor):
    first, second = two_readers
    save(first, instructor, telephone="07700 900002")
    with pytest.raises(Stale):
        save(second, other_instructor, email="wenna@example.org")


def test_a_save_writes_only_the_fields_it_names(two_readers, instructor):
    first, _second = two_readers
    first.email = "never-named@example.org"
    save(first, instructor, telephone="07700 900002")
    assert Client.objects.get(pk=first.pk).email == ""


def test_saving_again_with_the_new_version_goes_through(two_readers, instructor):
    first, _second = two_readers
    save(first, instructor, telephone="07700 900002")
    save(first, instructor, telephone="07700 900003")
    assert Client.objects.get(pk=first.pk).version == 3


@pytest.mark.django_db(transaction=True)
def test_of_many_at_once_exactly_one_wins(instructor):
    pk = ClientFactory().pk
    rows = [Client.objects.get(pk=pk) for _ in range(8)]
    together = threading.Barrier(len(rows))
    outcomes = []

    def try_it(number, row):
        together.wait()
        try:
            save(row, instructor, telephone=f"07700 9000{number:02d}")
            outcomes.append("saved")
        except Stale:
            outcomes.append("told")
        finally:
            connection.close()

    threads = [threading.Thread(target=try_it, args=pair) for pair in enumerate(rows)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(outcomes) == ["saved"] + ["told"] * (len(rows) - 1)
    assert Client.objects.get(pk=pk).version == 2
