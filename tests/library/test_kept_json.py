"""What is read of a version is shared: nobody can change it, and other content is another value."""

import copy
import json
import pickle

import pytest
from django.db import connection, models

from library.actions.loading import load_library
from library.models import ExerciseVersion
from library.models.kept_json import ClosedDict, ClosedList, KeptJSONField, closed, read
from tests.rows import each

VALUE = {
    "facts": {"id": "mat_clam", "demands": ["hip", {"side": "left"}], "none": None},
    "n": [1, [2.5, True]],
}
CHANGES = {
    "a key": lambda one: one.__setitem__("x", 1),
    "a key further in": lambda one: one["facts"].__setitem__("id", "other"),
    "del": lambda one: one.__delitem__("n"),
    "update": lambda one: one.update(x=1),
    "|=": lambda one: one.__ior__({"x": 1}),
    "setdefault": lambda one: one.setdefault("x", 1),
    "pop": lambda one: one.pop("n"),
    "popitem": lambda one: one.popitem(),
    "clear": lambda one: one.clear(),
    "an entry": lambda one: one["n"].__setitem__(0, 9),
    "append": lambda one: one["n"].append(9),
    "extend": lambda one: one["n"].extend([9]),
    "+=": lambda one: one["n"].__iadd__([9]),
    "*=": lambda one: one["n"].__imul__(2),
    "insert": lambda one: one["n"].insert(0, 9),
    "remove": lambda one: one["n"].remove(1),
    "pop an entry": lambda one: one["n"].pop(),
    "reverse": lambda one: one["n"].reverse(),
    "sort": lambda one: one["facts"]["demands"].sort(key=str),
    "clear a list": lambda one: one["n"].clear(),
    "del an entry": lambda one: one["n"].__delitem__(0),
    "deep": lambda one: one["facts"]["demands"][1].update(side="right"),
}


@each("change", CHANGES.values(), ids=list(CHANGES))
def test_nothing_in_it_can_be_changed(change):
    value = read(json.dumps(VALUE))
    with pytest.raises(TypeError, match="copy it before"):
        change(value)
    assert value == VALUE


def test_every_way_to_change_a_dict_or_a_list_is_closed():
    reading = {"copy", "get", "items", "keys", "values", "fromkeys", "count", "index"}
    for kind, shut in ((dict, ClosedDict), (list, ClosedList)):
        ways = {name for name in vars(kind) if not name.startswith("_")} - reading
        ways |= {"__setitem__", "__delitem__", "__ior__", "__iadd__", "__imul__"} & set(vars(kind))
        assert {name for name in ways if getattr(shut, name) is getattr(kind, name)} == set()


@pytest.mark.parametrize(
    "copied",
    [copy.deepcopy, lambda one: pickle.loads(pickle.dumps(one)), lambda one: json.loads(json.dumps(one))],
    ids=["deep copy", "pickled", "written and read"],
)
def test_a_copy_is_plain_and_equal(copied):
    one = copied(closed(VALUE))
    one["facts"]["demands"].append("more")
    assert one == {**VALUE, "facts": {**VALUE["facts"], "demands": ["hip", {"side": "left"}, "more"]}}


def test_merging_gives_a_plain_dict():
    value = closed(VALUE)
    for merged in ({**value}, value | {}, dict(value)):
        merged["x"] = 1
        assert type(merged) is dict


@pytest.mark.django_db
def test_the_same_text_is_read_once_and_another_is_another(shelf):
    load_library(folder=shelf)
    clam, again = (ExerciseVersion.objects.get(exercise__key="mat_clam") for _time in range(2))
    assert clam.payload is again.payload
    plank = ExerciseVersion.objects.get(exercise__key="mat_plank")
    assert plank.payload != clam.payload
    # The same row with other content: what a restored copy of the data, or a test's own database, may hold.
    with connection.cursor() as cursor:
        cursor.execute("DROP TRIGGER IF EXISTS library_exerciseversion_no_update")
        names = [row[0] for row in cursor.execute("SELECT name FROM sqlite_master WHERE type='trigger'")]
        for name in names:
            if "exerciseversion" in name:
                cursor.execute(f'DROP TRIGGER "{name}"')
        cursor.execute(
            "UPDATE library_exerciseversion SET payload=json_set(payload, '$.facts.name', 'Other') WHERE id=%s",
            [clam.pk],
        )
    assert ExerciseVersion.objects.get(pk=clam.pk).name == "Other"
    assert clam.name == "Clam, side-lying"


@pytest.mark.django_db
def test_parts_of_it_are_read_alike(shelf):
    load_library(folder=shelf)
    rows = ExerciseVersion.objects.filter(exercise__key="mat_clam")
    (facts, name, count, pose) = rows.values_list(
        "payload__facts", "payload__facts__name", "payload__facts__reps_min", "payload__no_such"
    ).get()
    whole = rows.get().facts
    assert (facts, name, count, pose) == (whole, whole["name"], whole["reps_min"], None)


def test_for_the_database_and_migrations_it_is_a_plain_field():
    field = ExerciseVersion._meta.get_field("payload")
    assert isinstance(field, KeptJSONField)
    assert field.deconstruct()[1:] == models.JSONField(name="payload").deconstruct()[1:]
