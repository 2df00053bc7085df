"""The command that solves pose files: what it writes, what it says, and that the shipped files are its own."""

import json
from io import StringIO

import pytest
from django.core.management import CommandError, call_command

from library.body import filing
from library.body.poses import FOLDER

PHASES = ("start", "middle", "end")


@pytest.fixture
def folder(tmp_path):
    """One pose in a file, with nothing solved."""
    held = json.loads((FOLDER / "standing.json").read_text(encoding="utf-8"))
    pose = next(one for one in held["poses"] if one["key"] == "st_sit_to_stand")
    for phase in PHASES:
        for entry in ("solved", "solved_hips"):
            pose.get(phase, {}).pop(entry, None)
    text = filing.file_text(held["apparatus"], held["note"], [pose])
    (tmp_path / "standing.json").write_text(text, encoding="utf-8")
    return tmp_path


def run(folder, *keys, **options):
    said = StringIO()
    call_command("solve_poses", *keys, folder=folder, stdout=said, **options)
    return said.getvalue()


def held(folder):
    return json.loads((folder / "standing.json").read_text(encoding="utf-8"))["poses"][0]


def change(folder, **changes):
    text = json.loads((folder / "standing.json").read_text(encoding="utf-8"))
    text["poses"][0]["end"] |= changes
    (folder / "standing.json").write_text(json.dumps(text), encoding="utf-8")


def test_solved_angles_are_written_back_as_they_ship(folder):
    assert "1 poses solved" in run(folder)
    shipped = json.loads((FOLDER / "standing.json").read_text(encoding="utf-8"))["poses"]
    assert held(folder) == next(one for one in shipped if one["key"] == "st_sit_to_stand")


def test_check_writes_nothing(folder):
    before = (folder / "standing.json").read_bytes()
    run(folder, check=True)
    assert (folder / "standing.json").read_bytes() == before


def test_out_of_reach_is_named_and_stops(folder):
    change(folder, touch=[{"point": "mid.heel", "on": "floor", "x": 0.0}, {"point": "mid.palm", "z": 3.0}])
    said = StringIO()
    with pytest.raises(CommandError, match="st_sit_to_stand"):
        call_command("solve_poses", folder=folder, stdout=said)
    assert "End: mid.palm, " in said.getvalue()


def test_what_cannot_be_solved_keeps_the_angles_it_had(folder):
    run(folder)
    solved = held(folder)["end"]["solved"]
    change(folder, touch=[{"point": "mid.heel", "on": "floor"}, {"point": "mid.palm", "z": 3.0}])
    with pytest.raises(CommandError, match="Not solved: st_sit_to_stand"):
        run(folder)
    assert held(folder)["end"]["solved"] == solved


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"both": {"knnee": 4}}, "End: there is no angle “knnee”"),
        ({"both": {"knee": "much"}}, "End: knee needs a number"),
        ({"touch": [{"point": "mid.tail", "on": "floor"}]}, "End: there is no point “mid.tail”"),
        ({"touch": [{"point": "mid.heel", "on": "cloud"}]}, "there is no “cloud” here to touch"),
    ],
)
def test_slips_are_said_in_words(folder, changes, said):
    change(folder, **changes)
    heard = StringIO()
    with pytest.raises(CommandError, match="Not solved"):
        call_command("solve_poses", folder=folder, stdout=heard)
    assert said in heard.getvalue()


def test_an_unknown_key_is_refused(folder):
    with pytest.raises(CommandError, match="No pose is filed under mat_nothing"):
        run(folder, "mat_nothing")


def test_the_shipped_files_are_written_by_the_command():
    for path in FOLDER.glob("*.json"):
        text = path.read_text(encoding="utf-8")
        kept = json.loads(text)
        assert filing.file_text(kept["apparatus"], kept["note"], kept["poses"]) == text, path.name
