"""Loading the shipped library: what is written, what is left alone, what is refused and how it is said."""

import pytest
from django.core.management import CommandError, call_command
from django.db import DatabaseError, transaction

from library import contents
from library.actions.loading import load_library
from library.management.commands import load_library as command
from library.models import Exercise, ExerciseVersion, LibraryLoad
from studio.models import AuditEntry
from tests.library.data_copy import rewrite, row, rows_in


def only_purpose(text):
    for field in set(text) - {"id", "purpose"}:
        del text[field]


def change_purpose(folder, words="Another purpose."):
    rewrite(folder, "en/mat.json", lambda rows: row(rows, "mat_clam").update(purpose=words))


@pytest.mark.django_db
class TestWhatIsWritten:
    def test_each_of_the_287_becomes_an_exercise_with_one_shipped_version(self, shelf):
        loaded = load_library(folder=shelf)
        # The number the catalogue itself gives.
        assert (loaded.added, loaded.changed, loaded.unchanged) == (287, 0, 0)
        assert Exercise.objects.with_content().count() == 287
        clam = Exercise.objects.select_related("current").get(key="mat_clam").current
        assert (clam.number, clam.origin, clam.base) == (1, "shipped", None)
        assert clam.facts["name"] == "Clam, side-lying"
        assert clam.text["id"] == "mat_clam"

    def test_with_words_or_with_no_more_than_a_purpose(self, shelf):
        rewrite(shelf, "en/mat.json", lambda rows: only_purpose(row(rows, "mat_clam")))
        load_library(folder=shelf)
        clam, plank = (
            Exercise.objects.with_content().get(key=key).current for key in ("mat_clam", "mat_plank")
        )
        assert (clam.has_words, set(clam.text)) == (False, {"id", "purpose"})
        assert plank.has_words

    def test_writing_the_words_later_makes_a_new_version(self, shelf):
        whole = (shelf / "en/mat.json").read_text()
        rewrite(shelf, "en/mat.json", lambda rows: only_purpose(row(rows, "mat_clam")))
        load_library(folder=shelf)
        (shelf / "en/mat.json").write_text(whole)
        assert load_library(folder=shelf).changed == 1
        assert Exercise.objects.with_content().get(key="mat_clam").current.has_words

    def test_a_pose_travels_with_its_exercise_and_may_be_missing(self, shelf):
        rewrite(shelf, "poses/chair.json", lambda data: data["poses"].clear())
        load_library(folder=shelf)
        drawn = Exercise.objects.select_related("current").get(key="mat_plank").current
        assert drawn.pose["start"]["solved"]
        assert Exercise.objects.select_related("current").get(key="ch_foot_toes").current.pose is None

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

    def test_an_exercise_taken_out_of_the_files_stays(self, shelf):
        load_library(folder=shelf)
        # It belongs to no transfer family, and no other leads to it.
        for file in ("exercises/trapeze_table.json", "en/trapeze_table.json", "poses/trapeze_table.json"):
            rewrite(shelf, file, lambda data: rows_in(data).remove(row(rows_in(data), "tt_full_hang")))
        load_library(folder=shelf)
        assert Exercise.objects.with_content().filter(key="tt_full_hang").exists()

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


@pytest.mark.django_db
class TestABrokenLibrary:
    def test_is_refused_before_anything_is_written(self, shelf):
        rewrite(shelf, "en/mat.json", lambda rows: row(rows, "mat_clam").pop("cautions"))
        with pytest.raises(contents.BrokenLibrary, match=r"data/en/mat.json, mat_clam, cautions: is missing"):
            load_library(folder=shelf)
        assert not Exercise.objects.exists()
        assert not LibraryLoad.objects.exists()

    def test_leaves_what_was_loaded_before(self, shelf):
        load_library(folder=shelf)
        rewrite(
            shelf, "exercises/mat.json", lambda data: row(data["exercises"], "mat_clam").update(reps_min=99)
        )
        with pytest.raises(contents.BrokenLibrary):
            load_library(folder=shelf)
        assert Exercise.objects.with_content().get(key="mat_clam").current.facts["reps_min"] == 8
        assert LibraryLoad.objects.count() == 1

    def test_is_looked_at_again_when_only_the_rules_changed(self, shelf):
        load_library(folder=shelf)
        rewrite(shelf, "rules/demands.json", lambda data: data["demands"].pop())
        with pytest.raises(contents.BrokenLibrary, match="vocab.json, demand"):
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
