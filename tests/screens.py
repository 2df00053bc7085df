"""Every screen of the demo, for whoever walks them all: the pictures, the accessibility rules, the sizes.

Made on the fullest rows that the laid demo holds. A role is "instructor", "front desk", "owner", "" for nobody,
or "of NAME" for the person whose record or plan a screen is.
"""

import uuid

from django.db.models import Count, F, Sum
from django.db.models.functions import Coalesce
from django.urls import reverse

from clients.models import Client, Flag, Measurement, Submission
from library import exercise_sets as sets
from library.actions import own as own_actions
from library.actions import sets as set_actions
from library.contents import content_hash
from library.models import ApparatusUnit, Exercise
from sessions.actions import records as record_actions
from sessions.demo.people import SIGN_INS
from sessions.models import Attendance, Handout, Incident, OwnWay, Plan, Record
from studio import clock
from studio.actions.audit import Actor
from studio.models import Staff

# A rule with two windows, the second of which can be made stricter.
_TO_RAISE = "?condition=acute_low_back_pain&demand=loaded_spinal_flexion"
SIZES = {"landscape": (1180, 820), "portrait": (820, 1180), "laptop": (1366, 768)}


def sign_in_of(word: str) -> tuple[str, str]:
    """Return name and passphrase of the first demo person whose role holds a word."""
    return next((name, phrase) for role, name, phrase in SIGN_INS if word in role.casefold())


def screens() -> list[tuple[str, str, str]]:
    """Return (picture name, role, address) for every screen, on the fullest rows of the demo."""
    flagged = Flag.objects.active().order_by("client_id").first().client
    handout = Handout.objects.current().order_by("pk").first()
    client = handout.client if handout else flagged
    recorded = Record.objects.filter(finished_at__isnull=False).order_by("-pk").first()
    planned = Plan.objects.filter(attendance__state__in=("booked", "arrived"))
    # One with work of both sides in it, and more after that.
    sided = planned.filter(items__sides="both", items__position__lt=6).order_by("pk").first()
    planned = sided or planned.order_by("pk").first()
    running = _begun(planned) if planned else None
    coming = Attendance.objects.filter(state="booked").order_by("booking__starts_at").first()
    bare = Client.objects.exclude(pk__in=Submission.objects.values("client")).first() or client
    rows = [
        ("today", "instructor", reverse("sessions:today") + "?whose=all"),
        ("diary", "instructor", reverse("sessions:bookings")),
        ("booking", "instructor", reverse("sessions:booking", args=[coming.booking.public_id])),
        ("booking-change", "front desk", reverse("sessions:booking_change", args=[coming.booking.public_id])),
        ("client", "instructor", reverse("sessions:client", args=[client.public_id])),
        ("story", "instructor", reverse("sessions:timeline", args=[client.public_id])),
        ("flags", "instructor", reverse("clients:flags", args=[flagged.public_id])),
        ("flag-add", "instructor", reverse("clients:flag_add", args=[flagged.public_id])),
        ("instruction-add", "instructor", reverse("clients:instruction_add", args=[flagged.public_id])),
        ("answers", "instructor", reverse("clients:answers", args=[flagged.public_id])),
        ("goals", "instructor", reverse("clients:goals", args=[client.public_id])),
        ("care", "instructor", reverse("clients:care", args=[client.public_id])),
        *_measures(client),
        ("progress", "instructor", reverse("sessions:progress", args=[_measured().public_id])),
        ("home-practice", "instructor", reverse("sessions:home_practice", args=[client.public_id])),
        ("clients", "instructor", reverse("clients:list")),
        ("library", "instructor", reverse("library:list")),
        ("library-none", "instructor", reverse("library:list") + "?words=teaser+plank&apparatus=mat"),
        ("conditions", "instructor", reverse("library:conditions")),
        ("condition", "instructor", reverse("library:condition", args=["postnatal_caesarean"])),
        ("what-changes", "instructor", reverse("sessions:what_changes", args=[_dated().public_id])),
        ("client-exercise", "instructor", _for_a_client(flagged)),
        ("own-way", "instructor", _own_way()),
        ("how-far", "instructor", _how_far()),
        ("find", "instructor", reverse("sessions:find", args=[flagged.public_id]) + "?words=leg"),
        ("exercise", "instructor", reverse("library:exercise", args=[_exercise().public_id])),
        ("exercise-bare", "instructor", reverse("library:exercise", args=[_bare_exercise().public_id])),
        *_maps(client),
        *_own_exercises(),
        ("desk-today", "front desk", reverse("sessions:today")),
        ("desk-client", "front desk", reverse("sessions:client", args=[_on_a_pass().public_id])),
        ("passes", "front desk", reverse("sessions:passes", args=[_with_passes().public_id])),
        ("client-new", "front desk", reverse("clients:new")),
        ("intake", "front desk", reverse("clients:intake", args=[bare.public_id])),
        ("book", "front desk", reverse("sessions:booking_new")),
        ("studio", "owner", reverse("studio:studio")),
        ("apparatus", "owner", reverse("library:apparatus")),
        ("rules", "owner", reverse("library:rules")),
        ("rule-pick", "owner", reverse("library:rule_new") + "?condition=acute_low_back_pain"),
        ("rule-new", "owner", reverse("library:rule_new") + _TO_RAISE),
        ("review-new", "owner", reverse("library:review_new")),
        ("settings", "owner", reverse("studio:settings")),
        ("hours", "owner", reverse("studio:hours")),
        ("network", "owner", reverse("studio:network")),
        ("room-new", "owner", reverse("studio:room_new")),
        ("staff-new", "owner", reverse("studio:staff_new")),
        ("staff", "owner", reverse("studio:staff", args=[Staff.objects.order_by("pk").last().public_id])),
        ("words", "owner", reverse("studio:text", args=["consent"])),
        ("away", "owner", reverse("sessions:away")),
        ("unit", "owner", reverse("library:unit", args=[ApparatusUnit.objects.first().public_id])),
        ("unit-new", "owner", reverse("library:unit_new")),
        ("spring-new", "owner", reverse("library:spring_new")),
        ("devices", "owner", reverse("studio:devices")),
        ("components", "owner", reverse("studio:kit")),
        ("mine", "instructor", reverse("studio:mine")),
        ("help", "instructor", reverse("studio:help")),
        ("sign-in", "", reverse("studio:sign_in")),
        ("have-code", "", reverse("studio:have_code")),
    ]
    if planned:
        rows.append(
            ("plan", _teacher(planned), reverse("sessions:plan", args=[planned.attendance.public_id]))
        )
    opened = Plan.objects.filter(attendance__state__in=("booked", "arrived"), approved_at=None)
    # The one whose client has the most to mind, so that rows with reasons are seen.
    opened = opened.annotate(minded=Count("attendance__client__flags")).order_by("-minded", "pk")
    opened = opened.exclude(pk=planned.pk).first() if planned else None
    if opened:
        rows.append(
            ("plan-open", _teacher(opened), reverse("sessions:plan", args=[opened.attendance.public_id]))
        )
        picker = reverse("sessions:plan_add", args=[opened.attendance.public_id]) + "?words=roll"
        rows.append(("plan-add", _teacher(opened), picker))
        rows.append(("plan-instead", _teacher(opened), _instead_of_a_row(opened)))
    rows.append(("start", "instructor", reverse("sessions:record", args=[coming.public_id])))
    if running:
        rows.append(("floor", f"of {running.author.sign_in_name}", _record(running)))
        rows.extend(_swap_on_the_floor(running, planned))
        rows.append(("stop", f"of {running.author.sign_in_name}", _record(running) + "stop/"))
        rows.append(("close", f"of {running.author.sign_in_name}", _record(running) + "close/"))
    if recorded:
        rows.append(("record", f"of {recorded.author.sign_in_name}", _record(recorded)))
    if handout:
        rows.append(("handout", "instructor", reverse("sessions:handout", args=[handout.public_id])))
    incident = Incident.objects.first()
    if incident:
        rows.append(("incident", "instructor", reverse("sessions:incident", args=[incident.public_id])))
    return rows


def _begun(plan) -> Record:
    """Begin the session of a plan and record up to its first work with two sides: the screen is mid-way."""
    actor = Actor(person=plan.attendance.booking.instructor)
    record = record_actions.start(actor=actor, attendance=plan.attendance, flags_seen=True)
    items = list(plan.items.select_related("exercise__current"))
    sided = next((place for place, item in enumerate(items) if item.sides == "both"), 1)
    for item in items[: max(sided, 1)]:
        done = record_actions.as_planned(item, uuid.uuid4())
        record_actions.save_entry(actor=actor, record=record, item=item, done=done)
    return record


def _for_a_client(client) -> str:
    exercise = Exercise.objects.get(key="mat_roll_up")
    return reverse("sessions:client_exercise", args=[client.public_id, exercise.public_id])


def _own_way() -> str:
    kept = OwnWay.objects.exclude(setting={}).exclude(range="").order_by("pk").first()
    return reverse("sessions:own_way", args=[kept.client.public_id, kept.exercise.public_id])


def _how_far() -> str:
    """Return the page of what works where left and right go differently far."""
    kept = OwnWay.objects.filter(limit__has_key="left").order_by("pk").first()
    return reverse("sessions:own_way", args=[kept.client.public_id, kept.exercise.public_id])


def _maps(client) -> list[tuple[str, str, str]]:
    """Return the maps and the ideas, without a client and for one."""
    exercise = Exercise.objects.get(key="mat_pelvic_curl")
    skill, family = "trunk_flexor_strength", "tf_bridge"
    return [
        ("map", "instructor", reverse("library:map", args=[exercise.public_id])),
        ("map-skill", "instructor", reverse("library:map_skill", args=[skill])),
        ("ideas", "instructor", reverse("library:transfers")),
        ("idea", "instructor", reverse("library:transfer", args=[family])),
        (
            "client-map",
            "instructor",
            reverse("sessions:client_map", args=[client.public_id, exercise.public_id]),
        ),
        ("client-idea", "instructor", reverse("sessions:client_transfer", args=[client.public_id, family])),
    ]


def _own_exercises() -> list[tuple[str, str, str]]:
    """Return the pages of the studio's own exercises: one half written, one changed on both sides, a set."""
    owner = Actor(person=Staff.objects.filter(is_owner=True).first())
    like = Exercise.objects.with_content().get(key="ref_foot_v")
    draft = own_actions.begin(actor=owner, like=like)
    own_actions.write_step(actor=owner, draft=draft, expected=1, facts={"name": "Footwork on a wedge"})
    bare, where = own_actions.begin(actor=owner), {"apparatus": "mat", "position": "seated"}
    own_actions.write_step(actor=owner, draft=bare, expected=1, facts=where)
    text = like.current.text | {"purpose": "Both legs press the carriage, heels joined."}
    twin, other = _both_changed(owner), sets.written([like.current.payload | {"text": text}])
    offered = set_actions.offer(actor=owner, content=other.encode(), file_name="exercise-set.json")
    pages = [
        ("own", "owner", reverse("library:own")),
        ("own-new", "instructor", reverse("library:own_new")),
        *(
            (f"own-{step}", "instructor", reverse("library:own_step", args=[draft.public_id, step]))
            for step in ("what", "work", "figure", "around", "words", "demands")
        ),
        ("own-figure-begin", "instructor", reverse("library:own_figure", args=[bare.public_id])),
        ("own-look", "instructor", reverse("library:own_look", args=[draft.public_id])),
        ("changed", "owner", reverse("library:changed")),
        ("settle", "owner", reverse("library:settle", args=[twin.public_id])),
        ("sets", "owner", reverse("library:sets")),
        ("set-look", "owner", reverse("library:set", args=[offered.public_id])),
    ]
    return [*pages, ("exercise-unclassified", "instructor", _unclassified(owner))]


def _both_changed(owner) -> Exercise:
    """Have an exercise of which the studio and the shipped library have each changed the purpose."""
    twin = Exercise.objects.with_content().get(key="mat_clam")
    shipped, words = twin.current, {**twin.current.text, "purpose": "The studio’s own purpose."}
    if not shipped.is_own:
        payload = {**shipped.payload, "text": words}
        own_actions.add_version(actor=owner, exercise=twin, payload=payload, base=shipped)
        payload = {
            **shipped.payload,
            "text": {**words, "purpose": "As it ships now.", "dose": "8 each side."},
        }
        twin.versions.create(
            number=3, content_hash=content_hash(payload), payload=payload, created_at=clock.now()
        )
    return twin


def _unclassified(owner) -> str:
    """Return the page of an exercise of the studio's that nobody has classified."""
    like = Exercise.objects.with_content().get(key="mat_pelvic_curl")
    draft = own_actions.begin(actor=owner, like=like)
    facts = {"name": f"Curl over a towel {draft.pk}"}
    own_actions.write_step(actor=owner, draft=draft, expected=1, facts=facts)
    version = own_actions.keep(actor=owner, draft=draft, expected=2, seen=0)
    return reverse("library:exercise", args=[version.exercise.public_id])


def _instead_of_a_row(plan) -> str:
    row = plan.items.order_by("-exercise__key", "pk").first()
    return reverse("sessions:plan_item_instead", args=[plan.attendance.public_id, row.public_id])


def _swap_on_the_floor(running, plan) -> list[tuple[str, str, str]]:
    """Return what to do instead of the row that is on, and the screen once the bridge is done in its place."""
    role, screen = f"of {running.author.sign_in_name}", _record(running)
    done = running.entries.values("plan_item")
    row = plan.items.exclude(pk__in=done).order_by("position").first()
    other = Exercise.objects.get(key="mat_bridge_hold")
    return [
        ("floor-instead", role, f"{screen}instead/?item={row.public_id}"),
        ("floor-how-far", role, f"{screen}how-far/?item={row.public_id}"),
        ("floor-swapped", role, f"{screen}?item={row.public_id}&instead={other.public_id}"),
    ]


def _teacher(plan) -> str:
    return f"of {plan.attendance.booking.instructor.sign_in_name}"


def _measured() -> Client:
    """Return the client whose sides were measured most often: the fullest page of progress."""
    counted = Client.objects.annotate(times=Count("measurements")).order_by("-times", "pk")
    return counted.first()


def _dated() -> Client:
    """Return a client whose verdicts follow the date: one who is pregnant, or else one with a dated flag."""
    dated = Flag.objects.active().exclude(due_on=None, event_on=None).select_related("client")
    return dated.order_by(F("due_on").asc(nulls_last=True), "-event_on").first().client


def _on_a_pass() -> Client:
    """Return the client with the most sessions left on passes; anybody where nobody has one."""
    counted = Client.objects.annotate(left=Coalesce(Sum("passes__entries__delta"), 0)).order_by("-left", "pk")
    return counted.first()


def _with_passes() -> Client:
    """Return the client with the most to see on the page of passes; anybody where nobody has one."""
    counted = Client.objects.annotate(lines=Count("passes__entries")).order_by("-lines", "pk")
    return counted.first()


def _exercise() -> Exercise:
    return Exercise.objects.with_content().get(key="ch_standing_pump")


def _bare_exercise() -> Exercise:
    """Return one of which only the purpose is written; where all are whole, any."""
    rows = Exercise.objects.with_content().order_by("key")
    return next((one for one in rows if not one.current.has_words), _exercise())


def _record(record) -> str:
    return reverse("sessions:record", args=[record.attendance.public_id])


def credentials(role: str) -> tuple[str, str]:
    """Return name and passphrase of who sees a screen."""
    if role.startswith("of "):
        name = role.removeprefix("of ")
        return next((n, phrase) for _role, n, phrase in SIGN_INS if n == name)
    return sign_in_of(role)


def _measures(client) -> list[tuple[str, str, str]]:
    """Return the screens of the measures: the list, and one of each kind of form."""
    keys = ("back_saver_sit_and_reach", "side_bridge")
    rows = [("measures", "instructor", reverse("clients:measures", args=[client.public_id]))]
    for key in keys:
        address = reverse("clients:measure_take", args=[client.public_id, key])
        rows.append((f"measure-{key.replace('_', '-')}", "instructor", address))
    row = Measurement.objects.standing().order_by("-pk").first()
    if row:
        address = reverse("clients:measure_correct", args=[row.client.public_id, row.measure, row.public_id])
        rows.append(("measure-correct", "instructor", address))
    return rows
