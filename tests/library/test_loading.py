"""Loading the shipped library: what is written, what is left alone, what is refused and how it is said."""

import json
import shutil

import pytest
from django.core.management import CommandError, call_command
from django.db import DatabaseError, transaction

from library import contents
from library.actions.loading import load_library
from library.management.commands import load_library as command
from library.models import Exercise, ExerciseVersion, LibraryLoad
from studio.models import AuditEntry


@pytest.fixture
def shelf(tmp_path):
    """A copy of the data files that a test may change."""
    folder = tmp_path / "data"
    for part in ("exercises", "en", "poses"):
        shutil.copytree(contents.DATA / part, folder / part)
    return folder


def rewrite(folder, file, change):
    """Apply `change` to the parsed content of one file."""
    path = folder / file
    data = json.loads(path.read_text(encoding="utf-8"))
    change(data)
    path.write_text(json.dumps(data, ensure_ascii=False), encoding="utf-8")


def row(rows, wanted, field="id"):
    return next(one for one in rows if one[field] == wanted)


def change_purpose(folder, words="Another purpose."):
    rewrite(folder, "en/mat.json", lambda rows: row(rows, "mat_clam").update(purpose=words))


@pytest.mark.django_db
class TestWhatIsWritten:
    def test_every_text_becomes_an_exercise_with_one_shipped_version(self, shelf):
        loaded = load_library(folder=shelf)
        texts = sum(len(json.loads(path.read_text())) for path in (shelf / "en").glob("*.json"))
        assert (loaded.added, loaded.changed, loaded.unchanged) == (texts, 0, 0)
        assert Exercise.objects.with_content().count() == texts
        clam = Exercise.objects.select_related("current").get(key="mat_clam").current
        assert (clam.number, clam.origin, clam.base) == (1, "shipped", None)
        assert clam.facts["name"] == "Clam, side-lying"
        assert clam.text["id"] == "mat_clam"

    def test_a_pose_travels_with_its_exercise_and_may_be_missing(self, shelf):
        rewrite(shelf, "poses/chair.json", lambda data: data["poses"].clear())
        load_library(folder=shelf)
        drawn = Exercise.objects.select_related("current").get(key="mat_plank").current
        assert drawn.pose["start"]["solved"]
        assert Exercise.objects.select_related("current").get(key="ch_foot_toes").current.pose is None

    def test_an_exercise_without_a_text_is_not_loaded(self, shelf):
        rewrite(shelf, "en/arc.json", lambda rows: rows.remove(row(rows, "arc_breath")))
        load_library(folder=shelf)
        assert not Exercise.objects.filter(key="arc_breath").exists()

    def test_the_content_hash_is_that_of_the_payload(self, shelf):
        load_library(folder=shelf)
        version = ExerciseVersion.objects.first()
        assert version.content_hash == contents.content_hash(version.payload)


@pytest.mark.django_db
class TestASecondRun:
    def test_nothing_changed_writes_nothing(self, shelf, django_assert_num_queries):
        first = load_library(folder=shelf)
        with django_assert_num_queries(2):
            second = load_library(folder=shelf)
        assert (second.added, second.changed, second.unchanged) == (0, 0, first.added)
        assert LibraryLoad.objects.count() == 1

    def test_only_the_changed_exercise_gets_a_new_version(self, shelf):
        load_library(folder=shelf)
        before = ExerciseVersion.objects.count()
        change_purpose(shelf)
        loaded = load_library(folder=shelf)
        assert (loaded.added, loaded.changed) == (0, 1)
        assert ExerciseVersion.objects.count() == before + 1
        clam = Exercise.objects.select_related("current").get(key="mat_clam")
        assert (clam.current.number, clam.current.text["purpose"]) == (2, "Another purpose.")
        assert list(clam.versions.order_by("number").values_list("number", flat=True)) == [1, 2]

    def test_a_file_laid_out_anew_is_no_change(self, shelf):
        load_library(folder=shelf)
        rewrite(shelf, "en/mat.json", lambda rows: rows.reverse())
        loaded = load_library(folder=shelf)
        assert not loaded.did_something
        assert ExerciseVersion.objects.filter(number__gt=1).count() == 0

    def test_a_version_of_the_studio_stays_the_current_one(self, shelf, now):
        load_library(folder=shelf)
        clam = Exercise.objects.select_related("current").get(key="mat_clam")
        own = ExerciseVersion.objects.create(
            exercise=clam,
            number=2,
            content_hash="f" * 64,
            origin="studio",
            base=clam.current,
            payload=clam.current.payload,
            created_at=now,
        )
        clam.current = own
        clam.save()
        change_purpose(shelf)
        assert load_library(folder=shelf).changed == 1
        clam.refresh_from_db()
        assert clam.current_id == own.pk
        assert clam.versions.order_by("number").last().text["purpose"] == "Another purpose."

    def test_a_text_taken_out_leaves_its_exercise(self, shelf):
        load_library(folder=shelf)
        rewrite(shelf, "en/arc.json", lambda rows: rows.pop())
        load_library(folder=shelf)
        assert Exercise.objects.with_content().filter(key="arc_chest_lift").exists()

    def test_a_version_cannot_be_rewritten_in_the_database(self, shelf):
        load_library(folder=shelf)
        with pytest.raises(DatabaseError), transaction.atomic():
            ExerciseVersion.objects.update(payload={})


@pytest.mark.django_db
class TestTheAuditLog:
    def test_one_entry_for_each_run_with_changes(self, shelf):
        load_library(folder=shelf)
        load_library(folder=shelf)
        change_purpose(shelf)
        load_library(folder=shelf)
        entries = AuditEntry.objects.filter(action="library.loaded")
        assert [entry.role for entry in entries] == ["program", "program"]


def _drop(field):
    return lambda entry: entry.pop(field)


def _put(field, value):
    return lambda entry: entry.__setitem__(field, value)


# What is broken (file, list in it, id field, entry, change), and what the sentence must name.
BROKEN = {
    "no cautions": ("en/mat.json", None, "mat_clam", _drop("cautions"), "cautions: is missing"),
    "one cue only": ("en/mat.json", None, "mat_clam", _put("cues", ["One."]), "cues: is a list of two"),
    "blank purpose": ("en/mat.json", None, "mat_clam", _put("purpose", "  "), "purpose: needs words"),
    "unknown field": ("en/mat.json", None, "mat_clam", _put("colour", "x"), "colour: is not a field"),
    "home without client": ("en/mat.json", None, "mat_clam", _drop("client"), "client: is missing: this"),
    "client not for home": (
        "en/mat.json",
        None,
        "mat_leg_pull_front",
        _put("client", {"how": "a", "breath": "b", "easier": "c"}),
        "client: is not a field",
    ),
    "client without breath": (
        "en/mat.json",
        None,
        "mat_clam",
        _put("client", {"how": "a", "easier": "c"}),
        "client breath: is missing",
    ),
    "fault of another": (
        "en/mat.json",
        None,
        "mat_clam",
        _put("watch", [{"fault": "trunk_sags", "see": "a", "say": "b"}]),
        "watch: speaks of the exercise's own faults",
    ),
    "text of nothing": ("en/mat.json", None, "mat_clam", _put("id", "mat_no"), "mat_no, id: no exercise"),
    "text in another file": (
        "en/mat.json",
        None,
        "mat_clam",
        _put("id", "arc_breath"),
        "belongs in en/arc.json",
    ),
    "open list": (
        "exercises/mat.json",
        "exercises",
        "mat_clam",
        _put("breath", "hold_it"),
        "breath: 'hold_it' is not in the closed list",
    ),
    "unknown demand": (
        "exercises/mat.json",
        "exercises",
        "mat_clam",
        _put("demands", ["flying"]),
        "demands: 'flying' is not in",
    ),
    "repetitions upside down": (
        "exercises/mat.json",
        "exercises",
        "mat_clam",
        _put("reps_min", 40),
        "reps_min: is at least 1",
    ),
    "leads nowhere": (
        "exercises/mat.json",
        "exercises",
        "mat_clam",
        _put("regression_to", ["mat_none"]),
        "regression_to: 'mat_none' is no exercise",
    ),
    "spring upside down": (
        "exercises/reformer.json",
        "exercises",
        "ref_frog",
        _put("spring_max", "very_light"),
        "spring_grade: lies between",
    ),
    "pose of nothing": ("poses/mat.json", "poses", "mat_plank", _put("key", "mat_no"), "mat_no, key: no ex"),
}


@pytest.mark.parametrize("broken", BROKEN.values(), ids=BROKEN.keys())
@pytest.mark.django_db
def test_a_broken_file_is_refused_by_file_entry_and_field(shelf, broken):
    file, inside, entry, change, says = broken
    id_field = "key" if file.startswith("poses") else "id"

    def edit(data):
        change(row(data[inside] if inside else data, entry, id_field))

    rewrite(shelf, file, edit)
    with pytest.raises(contents.BrokenLibrary) as refused:
        load_library(folder=shelf)
    (message,) = [str(problem) for problem in refused.value.problems if says in str(problem)]
    assert message.startswith(f"library/data/{file}, ")
    assert not Exercise.objects.exists()


@pytest.mark.django_db
def test_a_file_that_is_no_json_says_its_line(shelf):
    (shelf / "en/arc.json").write_text('[\n {"id": "arc_breath",,}\n]')
    with pytest.raises(contents.BrokenLibrary, match=r"library/data/en/arc.json, line 2: is not valid JSON"):
        load_library(folder=shelf)


@pytest.mark.django_db
def test_an_id_twice_is_refused(shelf):
    rewrite(shelf, "en/arc.json", lambda rows: rows.append(dict(rows[0])))
    with pytest.raises(contents.BrokenLibrary, match="arc_breath, id: is there twice"):
        load_library(folder=shelf)


@pytest.mark.django_db
class TestTheCommand:
    def test_prints_one_line_each_time(self, capsys):
        call_command("load_library")
        first = capsys.readouterr().out
        call_command("load_library")
        second = capsys.readouterr().out
        count = Exercise.objects.with_content().count()
        assert first == f"Library: {count} exercises added, 0 changed, 0 as they were.\n"
        assert second == f"Library: {count} exercises, nothing new.\n"

    def test_is_quiet_when_asked(self, capsys):
        call_command("load_library", verbosity=0)
        assert capsys.readouterr().out == ""

    def test_passes_the_problems_on(self, monkeypatch):
        problem = contents.Problem("library/data/en/mat.json", "mat_clam", "cues", "needs words.")

        def refuse(**_kwargs):
            raise contents.BrokenLibrary((problem,))

        monkeypatch.setattr(command, "load_library", refuse)
        with pytest.raises(CommandError, match="mat_clam, cues: needs words"):
            call_command("load_library")
