"""Plans below the screen: starting, adding, moving, settling, approving, versions, the log."""

import datetime as dt

import pytest

from library import tables
from sessions import judging, planning
from sessions.actions import plans as actions
from sessions.demo import factories as f
from sessions.models import Plan, PlanItem
from studio.actions.audit import Actor
from studio.models import AuditEntry, Stale
from tests.sessions.plan_scene import springs


@pytest.fixture
def desk_of(house, now, instructor):
    """A client with one booked session on a reformer, and the actor."""
    return Scene(instructor)


class Scene:
    def __init__(self, instructor):
        self.actor = Actor(person=instructor, role="instructor")
        self.instructor = instructor
        self.client = f.ClientFactory()
        self.reformer = f.UnitFactory(kind="reformer", name="Reformer 1")
        booking = f.BookingFactory(clients=[self.client], instructor=instructor, units=[self.reformer])
        self.attendance = booking.attendances.get()

    def plan(self, *keys) -> Plan:
        return f.PlanFactory(attendance=self.attendance, exercises=keys)

    def add(self, plan, key) -> PlanItem:
        exercise = f.ExerciseFactory(key=key)
        return actions.add_item(actor=self.actor, plan=plan, exercise=exercise, expected=plan.version)

    def approve(self, plan):
        plan = Plan.objects.get(pk=plan.pk)
        judged = actions.judged(plan, actions.active_flags(plan))
        seen = judging.mark(verdict for _item, verdict in judged)
        return actions.approve(actor=self.actor, plan=plan, expected=plan.version, seen=seen)

    def keep(self, item, reason="The physiotherapist rang: low range only."):
        item = PlanItem.objects.get(pk=item.pk)
        return actions.keep_avoid(actor=self.actor, item=item, expected=item.plan.version, reason=reason)

    def last_time(self, **close):
        booking = f.BookingFactory(
            clients=[self.client], instructor=self.instructor, wall_day=dt.date(2026, 11, 18)
        )
        return f.RecordFactory(
            attendance=booking.attendances.get(), finished_at=booking.ends_at, author=self.instructor, **close
        )


def test_starting_from_last_time_carries_what_was_done(desk_of):
    heavy = springs("heavy")
    record = desk_of.last_time()
    f.EntryFactory(record=record, exercise__key="ref_foot_heels", both={"repetitions": 10}, setting=heavy)
    f.EntryFactory(record=record, exercise__key="mat_roll_up", both={"repetitions": 4}, state="skipped")
    f.EntryFactory(
        record=record,
        exercise__key="st_wall_side_bend",
        left={"repetitions": 4},
        right={"repetitions": 5},
        adaptations=["smaller_range"],
        state="changed",
    )
    f.EntryFactory(record=record, exercise__key="mat_clam", right={"repetitions": 9})
    plan = actions.start(actor=desk_of.actor, attendance=desk_of.attendance, record=record)
    rows = list(plan.items.all())
    assert [(row.position, row.exercise.key) for row in rows] == [
        (1, "ref_foot_heels"),
        (2, "st_wall_side_bend"),
        (3, "mat_clam"),
    ]
    footwork, bend, clam = rows
    assert (footwork.repetitions, footwork.setting, footwork.unit) == (10, heavy, desk_of.reformer)
    assert (bend.sides, bend.first_side, bend.repetitions, bend.adaptations) == (
        "both",
        "left",
        4,
        ["smaller_range"],
    )
    assert (clam.sides, clam.first_side, clam.repetitions) == ("right", "right", 9)


def test_numbers_planned_apart_stay_apart_and_the_first_side_is_kept(desk_of):
    record = desk_of.last_time()
    before = f.PlanFactory(attendance=record.attendance)
    planned = f.PlanItemFactory(
        plan=before,
        exercise__key="mat_clam",
        first_side="right",
        repetitions=8,
        repetitions_right=6,
        minutes=5,
    )
    f.EntryFactory(
        record=record,
        exercise=planned.exercise,
        plan_item=planned,
        left={"repetitions": 8},
        right={"repetitions": 7},
    )
    plan = actions.start(actor=desk_of.actor, attendance=desk_of.attendance, record=record)
    row = plan.items.get()
    assert (row.first_side, row.repetitions, row.repetitions_right, row.minutes) == ("right", 8, 7, 5)


def test_two_who_start_one_plan_get_the_same(desk_of):
    one = actions.start(actor=desk_of.actor, attendance=desk_of.attendance)
    assert actions.start(actor=desk_of.actor, attendance=desk_of.attendance) == one
    assert AuditEntry.objects.filter(action="plan.started").count() == 1


def test_adding_takes_usual_dose_side_unit_and_last_springs(desk_of):
    f.FlagFactory(client=desk_of.client, condition="knee_replacement", side="right")
    record = desk_of.last_time()
    f.EntryFactory(record=record, exercise__key="ref_scooter", both={}, setting=springs("light"))
    plan = desk_of.plan()
    row = desk_of.add(plan, "ref_scooter")
    usual = planning.usual_repetitions(tables.exercise("ref_scooter"))
    assert (row.position, row.sides, row.first_side, row.repetitions) == (1, "both", "right", usual)
    assert (row.unit, row.setting) == (desk_of.reformer, springs("light"))
    plain = desk_of.add(plan, "mat_pelvic_curl")
    assert (plain.position, plain.sides, plain.first_side, plain.unit, plain.setting) == (2, "", "", None, {})


def test_two_units_of_a_kind_leave_the_choice_open(desk_of):
    desk_of.attendance.booking.units.add(f.UnitFactory(kind="reformer"))
    assert desk_of.add(desk_of.plan(), "ref_foot_heels").unit is None


def test_moving_and_removing_keep_the_numbers_in_order(desk_of):
    plan = desk_of.plan("mat_pelvic_curl", "mat_clam", "mat_cat")
    first, second, third = plan.items.all()

    def order():
        return [(row.position, row.exercise.key) for row in Plan.objects.get(pk=plan.pk).items.all()]

    actions.move_item(actor=desk_of.actor, item=third, expected=1, by=-1)
    assert order() == [(1, "mat_pelvic_curl"), (2, "mat_cat"), (3, "mat_clam")]
    first = PlanItem.objects.get(pk=first.pk)
    actions.move_item(actor=desk_of.actor, item=first, expected=2, by=-1)
    assert order()[0] == (1, "mat_pelvic_curl")
    actions.remove_item(actor=desk_of.actor, item=PlanItem.objects.get(pk=first.pk), expected=3)
    assert order() == [(1, "mat_cat"), (2, "mat_clam")]


def test_every_change_counts_the_version_and_a_stale_one_writes_nothing(desk_of):
    plan = desk_of.plan("mat_pelvic_curl")
    item = plan.items.get()
    actions.change_item(actor=desk_of.actor, item=item, expected=1, values={"repetitions": 10})
    with pytest.raises(Stale):
        late = PlanItem.objects.get(pk=item.pk)
        actions.change_item(actor=desk_of.actor, item=late, expected=1, values={"repetitions": 3})
    assert PlanItem.objects.get(pk=item.pk).repetitions == 10
    assert Plan.objects.get(pk=plan.pk).version == 2


def test_saving_nothing_new_writes_nothing(desk_of):
    item = desk_of.plan("mat_pelvic_curl").items.get()
    actions.change_item(actor=desk_of.actor, item=item, expected=1, values={"repetitions": 8})
    assert Plan.objects.get().version == 1
    assert not AuditEntry.objects.filter(action="plan.item_changed").exists()


def test_only_the_side_sheets_own_values_are_taken(desk_of):
    item = desk_of.plan("mat_pelvic_curl").items.get()
    with pytest.raises(ValueError, match="keep_reason"):
        actions.change_item(actor=desk_of.actor, item=item, expected=1, values={"keep_reason": "x"})


def test_an_avoid_needs_a_reason_and_a_new_cause_needs_a_new_one(desk_of):
    f.FlagFactory(client=desk_of.client, condition="osteoporosis")
    plan = desk_of.plan("mat_pelvic_curl", "mat_roll_up")
    with pytest.raises(actions.Unsettled) as refused:
        desk_of.approve(plan)
    assert refused.value.numbers == [2]
    kept = desk_of.keep(plan.items.last())
    assert (kept.keep_by, kept.keep_at.hour) == (desk_of.instructor, 10)
    # A disc that does not like bending forbids the same movement for a cause nobody has weighed yet.
    f.FlagFactory(client=desk_of.client, condition="disc_flexion_intolerant")
    with pytest.raises(actions.Unsettled):
        desk_of.approve(plan)
    desk_of.keep(plan.items.last(), "Both causes were talked through with the physiotherapist.")
    assert desk_of.approve(plan).approved_by == desk_of.instructor


def test_there_is_nothing_to_keep_where_nothing_is_to_be_avoided(desk_of):
    plan = desk_of.plan("mat_pelvic_curl")
    with pytest.raises(actions.NothingToKeep):
        desk_of.keep(plan.items.get())
    assert Plan.objects.get().version == 1


def test_an_empty_plan_is_not_approved(desk_of):
    with pytest.raises(actions.Unsettled):
        desk_of.approve(desk_of.plan())


def test_a_flag_that_came_after_the_page_was_opened_stops_the_approval(desk_of):
    plan = desk_of.plan("mat_roll_up")
    seen = judging.mark(verdict for _i, verdict in actions.judged(plan, []))
    f.FlagFactory(client=desk_of.client, condition="osteopenia")
    with pytest.raises(actions.MovedOn):
        actions.approve(actor=desk_of.actor, plan=plan, expected=1, seen=seen)
    assert Plan.objects.get().approved_at is None


def test_approving_pins_content_judgement_and_table(desk_of):
    f.FlagFactory(client=desk_of.client, condition="osteopenia")
    plan = desk_of.plan("mat_roll_up")
    exercise = plan.items.get().exercise
    before = exercise.current
    desk_of.approve(plan)
    row = plan.items.get()
    pinned = row.verdict
    assert row.exercise_version == before and row.table_version == tables.rule_table().version
    assert pinned["verdict"] != "none" and pinned["reasons"]
    # Later the studio writes another name and other demands; the approved row says what it said.
    payload = {**before.payload, "facts": {**before.facts, "name": "Another name", "demands": []}}
    exercise.current = f.ExerciseVersionFactory(exercise=exercise, payload=payload)
    exercise.save()
    row = plan.items.get()
    assert (row.content.name, row.verdict) == (before.name, pinned)


def test_an_approved_plan_is_closed_until_it_is_reopened(desk_of):
    plan = desk_of.plan("mat_pelvic_curl")
    desk_of.approve(plan)
    plan = Plan.objects.get()
    with pytest.raises(actions.Closed):
        desk_of.add(plan, "mat_clam")
    plan = actions.reopen(actor=desk_of.actor, plan=Plan.objects.get(), expected=2)
    row = plan.items.get()
    assert (plan.approved_at, row.exercise_version, row.verdict, row.table_version) == (None, None, None, "")
    assert desk_of.add(Plan.objects.get(), "mat_clam").position == 2


def test_a_reason_outlives_approving_and_reopening(desk_of):
    f.FlagFactory(client=desk_of.client, condition="osteoporosis")
    plan = desk_of.plan("mat_roll_up")
    desk_of.keep(plan.items.get())
    desk_of.approve(plan)
    actions.reopen(actor=desk_of.actor, plan=Plan.objects.get(), expected=3)
    assert desk_of.approve(plan).approved_at


def test_every_act_is_in_the_log_without_its_words(desk_of):
    f.FlagFactory(client=desk_of.client, condition="osteoporosis")
    plan = actions.start(actor=desk_of.actor, attendance=desk_of.attendance)
    curl, roll = desk_of.add(plan, "mat_pelvic_curl"), desk_of.add(plan, "mat_roll_up")
    actions.change_item(
        actor=desk_of.actor, item=PlanItem.objects.get(pk=curl.pk), expected=3, values={"note": "planted"}
    )
    actions.move_item(actor=desk_of.actor, item=PlanItem.objects.get(pk=curl.pk), expected=4, by=1)
    desk_of.keep(roll, "planted reason")
    actions.remove_item(actor=desk_of.actor, item=PlanItem.objects.get(pk=curl.pk), expected=6)
    desk_of.approve(plan)
    actions.reopen(actor=desk_of.actor, plan=Plan.objects.get(), expected=8)
    entries = AuditEntry.objects.filter(action__startswith="plan.")
    assert [entry.action for entry in entries.order_by("id")] == [
        "plan.started",
        "plan.item_added",
        "plan.item_added",
        "plan.item_changed",
        "plan.item_moved",
        "plan.avoid_kept",
        "plan.item_removed",
        "plan.approved",
        "plan.reopened",
    ]
    assert all(entry.person == desk_of.instructor for entry in entries)
    assert "planted" not in str([(e.fields, e.thing_id, e.outcome) for e in entries])
