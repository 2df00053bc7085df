"""Exercise sets: out as one file and in again, checked like the shipped library, after a look that writes nothing."""

import copy
import json

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile
from django.urls import reverse
from hypothesis import given, settings
from hypothesis import strategies as st

from library import complaint_wording, own_drawing, tables
from library import exercise_sets as sets
from library.actions import own as own_actions
from library.actions import sets as actions
from library.contents import content_hash, payloads
from library.models import Exercise, ExerciseVersion, OfferedSet
from library.own_exercise import Library, copied
from sessions.demo import factories as f
from studio.actions.audit import Actor
from studio.models import AuditEntry
from tests import shelf as shelves

SHIPPED = payloads()
LIBRARY = Library(tables.exercises(), tables.vocab(), tables.rule_table().demands, tables.transfer_families())
FILE = "set.json"


def own_one(key="own_1", like="mat_pelvic_curl", name="Curl over a towel") -> dict:
    payload = copied(copy.deepcopy(SHIPPED[like]), key)
    payload["facts"]["name"] = name
    return payload


def pose_faults(pose) -> list[str]:
    return [complaint_wording.plain(one) for one in own_drawing.faults(pose)]


def read(content, present=None, pose_faults=pose_faults) -> sets.Reading:
    content = content if isinstance(content, bytes) else content.encode()
    present = {} if present is None else present
    return sets.read(
        content, LIBRARY, file=FILE, present=present, shipped=tables.exercises(), pose_faults=pose_faults
    )


def changed(change, rows=None, sha256="") -> bytes:
    """A set of one exercise as somebody changed it by hand."""
    whole = json.loads(sets.written(rows or [own_one()]))
    whole["sha256"] = sha256
    change(whole)
    return json.dumps(whole).encode()


class TestTheFile:
    def test_it_names_its_format_its_version_and_the_sum_of_its_exercises(self):
        whole = json.loads(sets.written([own_one()]))
        assert (whole["format"], whole["version"]) == ("evenside-exercise-set", 1)
        # FIPS 180-4: SHA-256 has 256 bits, 64 hex digits.
        assert len(whole["sha256"]) == 64
        assert list(whole) == ["format", "version", "sha256", "exercises"]

    def test_the_same_exercises_give_the_same_file_in_whatever_order(self):
        one, two = own_one(), own_one("own_2", "mat_clam", "Another clam")
        assert sets.written([one, two]) == sets.written([two, one])

    @settings(max_examples=25, deadline=None)
    @given(
        st.lists(st.sampled_from(sorted(SHIPPED)), min_size=1, max_size=6, unique=True),
        st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=60).filter(str.strip),
    )
    def test_what_goes_out_comes_in_with_the_same_content_hashes(self, keys, words):
        rows = {key: copy.deepcopy(SHIPPED[key]) for key in keys}
        for row in rows.values():
            row["text"]["purpose"] = words
        reading = read(sets.written(rows.values()), pose_faults=lambda pose: [])
        assert reading.problems == ()
        assert set(reading.added) == set(keys)
        assert {key: content_hash(one) for key, one in reading.payloads.items()} == {
            key: content_hash(one) for key, one in rows.items()
        }


def first(whole) -> dict:
    return whole["exercises"][0]


BROKEN = {
    "another format": (lambda w: w.update(format="diary"), "", "format", "is not 'evenside-exercise-set'"),
    "a later version": (lambda w: w.update(version=2), "", "version", "is not 1"),
    "true for a version": (lambda w: w.update(version=True), "", "version", "is not 1"),
    "an entry too many": (lambda w: w.update(script="x"), "", "script", "is not an entry here"),
    "no sum": (lambda w: w.pop("sha256"), "", "sha256", "is missing"),
    "a sum that does not fit": (lambda w: w.update(sha256="0" * 64), "", "sha256", "does not fit"),
    "no exercises": (lambda w: w.update(exercises=[]), "", "exercises", "is a list of 1 to"),
    "exercises that are none": (lambda w: w.update(exercises=["x"]), "entry 1", "id", "needs facts with an id"),
    "an id with a path": (lambda w: first(w)["facts"].update(id="../x"), "entry 1", "id", "small letters"),
    "an id of nobody": (lambda w: first(w)["facts"].update(id="mat_new"), "mat_new", "id", "begins with own_"),
    "the same twice": (lambda w: w["exercises"].append(first(w)), "own_1", "id", "is there twice"),
    "a part too many": (lambda w: first(w).update(code="x"), "own_1", "", "and nothing else"),
    "no such level": (lambda w: first(w)["facts"].update(level="hard"), "own_1", "level", "not in the closed list"),
    "a number in words": (lambda w: first(w)["facts"].update(reps_min="ten"), "own_1", "reps_min", "whole number"),
    "a fact left out": (lambda w: first(w)["facts"].pop("sides"), "own_1", "sides", "is missing"),
    "demands that are no list": (lambda w: first(w)["facts"].update(demands=3), "own_1", "demands", "is a list"),
    "a taken name": (lambda w: first(w)["facts"].update(name="Clam, side-lying"), "own_1", "name", "already a name"),
    "an easier one of nowhere": (
        lambda w: first(w)["facts"].update(regression_to=["mat_no"]), "own_1", "regression_to", "is no exercise",
    ),
    "one step": (lambda w: first(w)["text"].update(steps=["One."]), "own_1", "steps", "two or more"),
    "a text of another": (lambda w: first(w)["text"].update(id="own_2"), "own_1", "text id", "is the id"),
    "a field of no text": (lambda w: first(w)["text"].update(html="<b>"), "own_1", "html", "is not a field"),
    "a name without end": (lambda w: first(w)["facts"].update(name="x" * 81), "own_1", "name", "longer than 80"),
    "a text without end": (lambda w: first(w)["text"].update(dose="x" * 2001), "own_1", "dose", "longer than 2000"),
    "a pose of another": (lambda w: first(w)["pose"].update(key="mat_clam"), "own_1", "pose", "as its key"),
    "a pose that is none": (lambda w: first(w).update(pose={"key": "own_1"}), "own_1", "pose", "cannot be drawn"),
    "a pose that is a list": (lambda w: first(w).update(pose=[1]), "own_1", "pose", "as its key"),
}  # fmt: skip


@pytest.mark.parametrize(("change", "entry", "field", "says"), BROKEN.values(), ids=BROKEN)
def test_a_set_broken_by_hand_is_refused_with_file_entry_and_field(change, entry, field, says):
    problems = read(changed(change)).problems
    (one, *_more) = [problem for problem in problems if (problem.entry, problem.field) == (entry, field)]
    assert one.file == FILE
    assert says in one.says


UNREADABLE = {
    "no JSON": (b"{", "is not valid JSON"),
    "no text": (b"\xff\xfe", "is not text in UTF-8"),
    "not a number": (b'{"version": NaN}', "is not valid JSON"),
    "an entry twice": (b'{"format": 1, "format": 2}', "has the entry 'format' twice"),
    "too deep": (b"[" * 100_000, "is not valid JSON"),
    "too large": (b" " * (sets.LARGEST_BYTES + 1), "is larger than 8 MB"),
    "a list": (b"[]", "this is no exercise set"),
}


@pytest.mark.parametrize(("content", "says"), UNREADABLE.values(), ids=UNREADABLE)
def test_what_is_no_set_is_refused_in_one_sentence(content, says):
    (problem,) = read(content).problems
    assert says in problem.says


def test_all_that_is_wrong_is_said_at_once():
    def change(whole):
        first(whole)["facts"].update(level="hard", breath="gills")
        first(whole)["text"].update(cues=["One."])

    assert {one.field for one in read(changed(change)).problems} == {"level", "breath", "cues"}


def test_every_shipped_drawing_would_be_drawn_and_nothing_else_comes_out_of_one():
    drawn = [one["pose"] for one in SHIPPED.values() if one["pose"]][::29]
    assert drawn and all(map(own_drawing.can_draw, drawn))
    assert not any(map(own_drawing.can_draw, [None, {}, [], {"key": "x", "start": {}, "end": {}}, "<svg/>"]))


@pytest.mark.django_db
@pytest.mark.usefixtures("now")
class TestInAndOut:
    def exported(self, person, keys=None) -> bytes:
        rows = Exercise.objects.select_related("current")
        rows = rows.filter(key__in=keys) if keys else rows
        return actions.export(actor=Actor(person=person), exercises=list(rows)).encode()

    def test_the_whole_library_into_an_empty_studio_has_the_same_content_hashes(self, owner):
        content = sets.written(SHIPPED.values()).encode()
        offered = actions.offer(actor=Actor(person=owner), content=content, file_name=FILE)
        done = actions.take(actor=Actor(person=owner), offered=offered)
        assert len(done.added) == len(SHIPPED) == Exercise.objects.count()
        rows = Exercise.objects.values_list("key", "current__content_hash")
        assert dict(rows) == {key: content_hash(one) for key, one in SHIPPED.items()}
        assert self.exported(owner) == content

    def test_an_own_and_a_changed_one_are_added_and_changed_and_what_is_the_same_is_left(self, owner):
        shelves.load()
        clam = copy.deepcopy(SHIPPED["mat_clam"])
        clam["text"]["purpose"] = "Another purpose."
        content = sets.written([own_one(), clam, SHIPPED["mat_plank"]]).encode()
        offered = actions.offer(actor=Actor(person=owner), content=content, file_name=FILE)
        done = actions.take(actor=Actor(person=owner), offered=offered)
        assert (done.added, done.changed, done.same) == (("own_1",), ("mat_clam",), ("mat_plank",))
        now = Exercise.objects.select_related("current__base").get(key="mat_clam").current
        assert (now.number, now.origin, now.base.origin, now.author) == (2, "studio", "shipped", owner)
        assert not Exercise.objects.select_related("current").get(key="own_1").current.is_classified
        said = list(AuditEntry.objects.values_list("action", flat=True))
        assert said.count("exercise.imported") == 2 and said.count("set.taken") == 1

    def test_twice_is_refused(self, owner):
        content = sets.written([own_one()]).encode()
        offered = actions.offer(actor=Actor(person=owner), content=content, file_name=FILE)
        actions.take(actor=Actor(person=owner), offered=offered)
        with pytest.raises(own_actions.Over):
            actions.take(actor=Actor(person=owner), offered=offered)
        assert ExerciseVersion.objects.filter(exercise__key="own_1").count() == 1

    def test_a_shelf_that_changed_since_the_look_is_looked_at_again(self, owner):
        content = sets.written([own_one()]).encode()
        offered = actions.offer(actor=Actor(person=owner), content=content, file_name=FILE)
        f.ExerciseFactory(key="mat_clam")
        with pytest.raises(own_actions.MovedOn):
            actions.take(actor=Actor(person=owner), offered=offered)
        assert not Exercise.objects.filter(key="own_1").exists()
        offered.refresh_from_db()
        assert offered.taken_at is None

    def test_what_is_classified_here_stays_so(self, owner):
        f.ExerciseFactory(key="mat_clam")
        clam = copy.deepcopy(SHIPPED["mat_clam"])
        clam["facts"] |= {"demands": None, "demand_sides": {}}
        with pytest.raises(actions.BrokenSet, match="cannot make that unsaid"):
            actions.offer(actor=Actor(person=owner), content=sets.written([clam]).encode(), file_name=FILE)


@pytest.mark.django_db
@pytest.mark.usefixtures("now")
class TestThePages:
    @pytest.fixture(autouse=True)
    def laid(self):
        shelves.load()

    def offer(self, browser, content: bytes):
        file = SimpleUploadedFile(FILE, content, "application/json")
        return browser.post(reverse("library:set_offer"), {"file": file})

    def test_out_changed_by_hand_refused_mended_and_in(self, as_owner):
        answer = as_owner.post(reverse("library:set_export"), {"everything": "on"})
        assert answer["Content-Disposition"] == 'attachment; filename="exercise-set-2026-11-25.json"'
        whole = json.loads(answer.content)
        clam = next(row for row in whole["exercises"] if row["facts"]["id"] == "mat_clam")
        clam["facts"]["level"] = "hard"
        answer = self.offer(as_owner, json.dumps(whole).encode())
        assert (answer.status_code, "changed by hand" in answer.content.decode()) == (422, True)
        whole["sha256"] = ""
        answer = self.offer(as_owner, json.dumps(whole).encode())
        text = answer.content.decode()
        assert answer.status_code == 422
        assert "set.json, mat_clam, level:" in text and "not in the closed list" in text
        assert not OfferedSet.objects.exists()
        assert not ExerciseVersion.objects.filter(origin="studio").exists()

        clam["facts"]["level"] = "foundation"
        clam["text"]["purpose"] = "Mended purpose."
        answer = self.offer(as_owner, json.dumps(whole).encode())
        assert answer.status_code == 302, answer.content.decode()
        text = as_owner.get(answer.url).content.decode()
        assert "Mended purpose." in text and "286 exercises stand here already" in text
        assert not ExerciseVersion.objects.filter(origin="studio").exists()
        as_owner.post(answer.url)
        assert Exercise.objects.get(key="mat_clam").current.text["purpose"] == "Mended purpose."

    def test_nothing_chosen_and_no_file(self, as_owner):
        answer = as_owner.post(reverse("library:set_export"), {})
        assert (answer.status_code, "Choose at least one" in answer.content.decode()) == (422, True)
        answer = as_owner.post(reverse("library:set_offer"), {})
        assert (answer.status_code, "Choose a file." in answer.content.decode()) == (422, True)

    def test_what_a_file_says_is_never_markup(self, as_owner):
        row = own_one()
        row["text"]["purpose"] = "<script>alert(1)</script>"
        answer = self.offer(as_owner, sets.written([row]).encode())
        as_owner.post(answer.url)
        exercise = Exercise.objects.get(key="own_1")
        text = as_owner.get(reverse("library:exercise", args=[exercise.public_id])).content.decode()
        assert "<script>alert" not in text and "&lt;script&gt;" in text
