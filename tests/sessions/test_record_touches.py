"""What one touch of the recording screen costs: the same queries however much is planned, one wait for the disk."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.urls import reverse

from library.tables import rule_table
from sessions.demo.factories import FlagFactory, PlanItemFactory, StudioRuleFactory, TableReviewFactory
from sessions.models import Entry
from studio.models import AuditEntry, Studio
from tests.sessions.recorded import entry_id, make_session, queries_of

# Counted on the day it was written, with some room: a touch is to show within 100 ms on a small machine.
AT_MOST = 26
HTMX = {"HTTP_HX_REQUEST": "true"}


def to(held, name="entry"):
    return reverse(f"sessions:record_{name}", args=[held.attendance.public_id])


def touch(client, held, item, number, do):
    values = {"item": item.public_id, "id": str(entry_id(number)), "do": do}
    answer = client.post(to(held), values, **HTMX)
    assert answer.status_code == 200 and "<h1 data-focus>" in answer.content.decode()


@pytest.mark.django_db
@pytest.mark.parametrize("do", ["as_planned", "save", "skip"])
def test_a_touch_asks_the_same_however_long_the_plan_is(as_instructor, instructor, now, do):
    held = make_session(instructor)
    touch(as_instructor, held, held.curl, 1, do)
    few = queries_of(lambda: touch(as_instructor, held, held.scooter, 2, do))
    for _number in range(9):
        PlanItemFactory(plan=held.plan, exercise__key="mat_clam", sides="both", first_side="left")
    rows = list(held.plan.items.all())
    for number, item in enumerate(rows[2:10], start=3):
        touch(as_instructor, held, item, number, do)
    many = queries_of(lambda: touch(as_instructor, held, rows[10], 20, do))
    assert many == few <= AT_MOST


@pytest.mark.django_db
def test_taking_back_asks_the_same_however_much_is_recorded(as_instructor, instructor, now):
    held = make_session(instructor)
    for _number in range(9):
        PlanItemFactory(plan=held.plan, exercise__key="mat_clam")
    rows = list(held.plan.items.all())
    touch(as_instructor, held, rows[0], 1, "as_planned")

    def undo():
        assert as_instructor.post(to(held, "undo"), **HTMX).status_code == 200

    few = queries_of(undo)
    for number, item in enumerate(rows[:9], start=1):
        touch(as_instructor, held, item, number, "as_planned")
    assert queries_of(undo) == few <= AT_MOST
    assert Entry.objects.count() == 8


@pytest.mark.django_db
def test_undo_comes_back_as_the_row_that_was_taken_back(as_instructor, instructor, now):
    held = make_session(instructor)
    touch(as_instructor, held, held.curl, 1, "as_planned")
    answer = as_instructor.post(to(held, "undo"), **HTMX)
    page = answer.content.decode()
    assert "Pelvic curl</h1>" in page and "Taken back: Pelvic curl." in page and "<html" not in page
    assert answer["HX-Replace-Url"].endswith(f"?item={held.curl.public_id}")
    assert not Entry.objects.exists()


# sqlite.org/pragma.html, synchronous=FULL: every commit waits until its content is on the disk.
@pytest.mark.django_db(transaction=True)
@pytest.mark.parametrize("name", ["entry", "undo"])
def test_a_touch_waits_for_the_disk_once_and_keeps_both_lines_of_the_log(
    as_instructor, instructor, now, name
):
    held = make_session(instructor)
    touch(as_instructor, held, held.curl, 1, "as_planned")
    logged = AuditEntry.objects.order_by("pk").last().pk
    with CaptureQueriesContext(connection) as caught:
        if name == "entry":
            touch(as_instructor, held, held.scooter, 2, "as_planned")
        else:
            assert as_instructor.post(to(held, "undo"), **HTMX).status_code == 200
    assert [query["sql"] for query in caught if query["sql"] == "COMMIT"] == ["COMMIT"]
    changed = {"entry": "record.entry_saved", "undo": "record.entry_undone"}[name]
    lines = AuditEntry.objects.filter(pk__gt=logged).order_by("pk").values_list("action", flat=True)
    assert list(lines) == [changed, "record.read"]


@pytest.mark.django_db
def test_a_sign_of_stopping_writes_nothing_of_the_next_row(as_instructor, instructor, now):
    held = make_session(instructor)
    logged = AuditEntry.objects.count()
    values = {"item": held.curl.public_id, "id": str(entry_id(1)), "felt_numb_or_weak_both": "1"}
    assert as_instructor.post(to(held), {**values, "do": "as_planned"}, **HTMX).status_code == 422
    assert not Entry.objects.exists() and AuditEntry.objects.count() == logged


def care_of(page: str) -> str:
    """Return the sheet of what to take care of as it stands in a page."""
    return page[page.index('id="all-flags"') :].partition("</dialog>")[0]


def mark_of(page: str) -> str:
    return re.search(r'data-mark="([^"]+)"', care_of(page)).group(1)


@pytest.mark.django_db
class TestWhatToTakeCareOf:
    """Most of a touch's answer: left out while the screen says it holds just that, sent anew else."""

    @pytest.fixture
    def held(self, instructor, now):
        held = make_session(instructor)
        FlagFactory(client=held.attendance.client, condition="glaucoma")
        return held

    def shown(self, client, held, mark="", **more):
        headers = {"HTTP_X_CARES": mark} if mark else {}
        values = {"item": held.curl.public_id, "id": str(entry_id(1)), "do": "judge"}
        return client.post(to(held), values, **HTMX, **headers, **more).content.decode()

    def test_it_is_left_out_while_the_same_stands_there(self, as_instructor, held):
        whole = self.shown(as_instructor, held)
        assert "reasons-body" in care_of(whole)
        short = self.shown(as_instructor, held, mark_of(whole))
        assert "hx-preserve" in care_of(short) and "reasons-body" not in care_of(short)
        assert 'data-opens="all-flags"' in short

    def test_without_a_word_of_what_stands_there_it_is_sent(self, as_instructor, held):
        for mark in ("", "other"):
            assert "hx-preserve" not in care_of(self.shown(as_instructor, held, mark))

    def test_a_page_of_its_own_is_always_whole(self, as_instructor, held):
        mark = mark_of(self.shown(as_instructor, held))
        page = as_instructor.get(to(held).removesuffix("entry/"), HTTP_X_CARES=mark).content.decode()
        assert "hx-preserve" not in page and "reasons-body" in care_of(page)

    @pytest.mark.parametrize(
        "change",
        [
            lambda held: FlagFactory(client=held.attendance.client, condition="asthma"),
            lambda held: StudioRuleFactory(condition="glaucoma", demand="kneeling_load"),
            lambda held: TableReviewFactory(table_version=rule_table().version),
            lambda held: Studio.objects.update(locale="en-us"),
        ],
        ids=["a flag more", "a rule of the studio", "a review", "another language"],
    )
    def test_whatever_it_says_otherwise_is_sent_at_once(self, as_instructor, held, change):
        before = self.shown(as_instructor, held)
        change(held)
        after = self.shown(as_instructor, held, mark_of(before))
        assert "hx-preserve" not in care_of(after) and "reasons-body" in care_of(after)


# sqlite.org/eqp.html: what the plan of a query names, and that a sort of its own shows as a "TEMP B-TREE".
@pytest.mark.django_db
def test_the_newest_notes_are_found_without_reading_all_that_was_ever_recorded(
    as_instructor, instructor, now
):
    held = make_session(instructor)
    with CaptureQueriesContext(connection) as caught:
        touch(as_instructor, held, held.curl, 1, "as_planned")
    notes = next(query["sql"] for query in caught if '"note" AS "note"' in query["sql"])
    with connection.cursor() as cursor:
        plan = " ".join(row[-1] for row in cursor.execute(f"EXPLAIN QUERY PLAN {notes}").fetchall())
    assert "entries_newest_of_author" in plan and "TEMP B-TREE" not in plan
