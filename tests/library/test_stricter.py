"""What the table says all through a window, against small tables worked out by hand."""

import pytest

from library.rule_wording import rule_window, window_words
from library.stricter import ALWAYS, Window, said, stricter_than
from library.tables import Table, rule_table
from library.verdicts import VERDICTS


def table(*rules, basis="event_days") -> Table:
    """A table of one condition and one demand; rules are (verdict, basis, from_day, to_day[, spell])."""
    rows = [
        {
            "id": f"R{number}",
            "condition": "c",
            "demand": "d",
            "verdict": verdict,
            "window": {"basis": kind, "from_day": first, "to_day": end},
            "spell": spell[0] if spell else None,
            "reason": "",
            "adaptation": "",
            "sources": [],
        }
        for number, (verdict, kind, first, end, *spell) in enumerate(rules)
    ]
    return Table(
        {
            "schema_version": 1,
            "rules": rows,
            "demands": [{"id": "d", "sided": False}],
            "conditions": [{"id": "c", "sided": False, "window_basis": basis}],
            "supine_spell": {"demand": "d", "limit_s": 180, "break_s": 60},
        }
    )


EVENT = "event_days"
FIRST_SIX = ("avoid", EVENT, 0, 42)
THEN_ON = ("modify", EVENT, 42, None)
CASES = {
    "nothing is said": ((), ALWAYS, "none"),
    "always": ((("modify", "ongoing", None, None),), ALWAYS, "modify"),
    "the strictest of two": (
        (("watch", "ongoing", None, None), ("avoid", "ongoing", None, None)),
        ALWAYS,
        "avoid",
    ),
    "an end: afterwards the table is silent": ((FIRST_SIX,), ALWAYS, "none"),
    "two windows that meet": ((FIRST_SIX, THEN_ON), ALWAYS, "modify"),
    "two windows with a day between": ((("avoid", EVENT, 0, 41), THEN_ON), ALWAYS, "none"),
    "inside one window": ((FIRST_SIX, THEN_ON), Window(EVENT, 0, 42), "avoid"),
    "a day longer than one window": ((FIRST_SIX, THEN_ON), Window(EVENT, 0, 43), "modify"),
    "from the limit on": ((FIRST_SIX, THEN_ON), Window(EVENT, 42, None), "modify"),
    "a day before the limit": ((FIRST_SIX, THEN_ON), Window(EVENT, 41, 42), "avoid"),
    # 'Long ago' leaves only rules with a beginning and no end (the rules of use of the table).
    "without limits, and long ago": ((("avoid", EVENT, None, None),), ALWAYS, "none"),
    "without limits, within a window": ((("avoid", EVENT, None, None),), Window(EVENT, 0, None), "avoid"),
    "short and long spells alike": (
        (("modify", "ongoing", None, None, "short"), ("avoid", "ongoing", None, None, "long")),
        ALWAYS,
        "modify",
    ),
    "one spell by itself": (
        (("modify", "ongoing", None, None, "short"), ("avoid", "ongoing", None, None, "long")),
        Window(spell="long"),
        "avoid",
    ),
    "only long spells are spoken of": ((("avoid", "ongoing", None, None, "long"),), ALWAYS, "none"),
}


@pytest.mark.parametrize(("rules", "window", "expected"), CASES.values(), ids=CASES)
def test_the_laxest_word_in_a_window(rules, window, expected):
    assert said(table(*rules), "c", "d", window) == expected


@pytest.mark.parametrize(
    ("verdict", "stricter"),
    [
        ("none", ("watch", "modify", "avoid")),
        ("watch", ("modify", "avoid")),
        ("modify", ("avoid",)),
        ("avoid", ()),
    ],
)
def test_nothing_laxer_is_offered(verdict, stricter):
    assert stricter_than(verdict) == stricter


def test_of_the_shipped_table_each_rule_bounds_its_own_window():
    shipped = rule_table()
    for rule in shipped.rules:
        window = Window(rule.basis, rule.from_day, rule.to_day, rule.spell)
        says = said(shipped, rule.condition, rule.demand, window)
        if rule.basis == "ongoing" or rule.from_day is not None or rule.to_day is not None:
            assert VERDICTS.index(says) <= VERDICTS.index(rule.verdict), rule.id


WORDS = {
    "always": (ALWAYS, "always"),
    "weeks from the start": (Window(EVENT, 0, 42), "in the first 6 weeks"),
    "no beginning": (Window(EVENT, None, 42), "in the first 6 weeks"),
    "one week": (Window(EVENT, 0, 7), "in the first 1 week"),
    "days": (Window(EVENT, 0, 10), "in the first 10 days"),
    "between": (Window(EVENT, 42, 84), "from 6 weeks to 12 weeks"),
    "no end": (Window(EVENT, 84, None), "from 12 weeks on"),
    "pregnancy": (Window("gestation_days", None, 98), "up to 14 weeks of pregnancy"),
    "later in pregnancy": (Window("gestation_days", 112, 196), "from 16 weeks to 28 weeks of pregnancy"),
    "a long spell": (
        Window("gestation_days", 112, None, "long"),
        "from 16 weeks of pregnancy on, more than 3 minutes on the back",
    ),
    "a short spell": (
        Window("gestation_days", 196, None, "short"),
        "from 28 weeks of pregnancy on, up to 3 minutes on the back",
    ),
}


@pytest.mark.parametrize(("window", "words"), WORDS.values(), ids=WORDS)
def test_windows_in_words(window, words):
    assert window_words(window) == words


def test_every_shipped_window_has_words():
    assert all(rule_window(rule) for rule in rule_table().rules)
