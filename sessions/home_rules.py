"""Home practice as plain values: doses, minutes, and the gates an exercise passes before it goes home.

An item is a dict, as sessions.models.HomePractice keeps it:
    exercise: public id; sides: "both", "left", "right", or "" for work without sides; repetitions, seconds:
    of each side, seconds of one hold; repetitions_right, seconds_right: the right side's own numbers, or
    None; per_week: 7, 4 or 3 days of any week, or None for `days`; days: weekdays, Monday is 0; adaptations:
    ids; change: a sentence to the client in the instructor's words; cue: the client's words; has_it: they
    have what it needs, though their list does not say so; taught_on: ISO date on which the instructor said
    that it was taught or seen done, or ""; beyond: somebody said yes to more than MOST.
"""

import re
from collections.abc import Collection, Iterable, Iterator, Sequence

from sessions import planning
from studio.folding import fold

# Two to four is done better than more (Henry 1999, Bachmann 2018); one more where somebody says yes to it.
FEWEST, MOST, MOST_AGREED = 2, 4, 5
# Above this the page warns. Common practice, no source.
LONG_MINUTES = 12
# Steps of quality from this one up count as done well enough to be done alone.
STEADY = 3
# A stretch whose one repetition takes this long is held, not repeated.
HELD_FROM = 15

# Words in names of conditions and of clinicians that a sheet may use: they tell nothing.
_EVERYDAY = (
    "about active after ankle approach arch arching armpit around artery back behind bending between bone both "
    "breast breastbone cause collarbone condition connective control controlled doctor elbow example factors "
    "feeling feet first floor foot forward fresh front general girdle groin hand having heel high joint knee "
    "kneecap known last lateral left long loss made months more multiple muscles neck not other pain pelvic "
    "physio physiotherapist positional post pressure problem raised recent related removed right risk several "
    "severe shoulder side standing strain stress taking term than that through tissue treated under "
    "uncontrolled unknown untreated weakness weeks when with without worse worsening wrist"
)
_WORD = re.compile(r"[^\W_]+")
EVERYDAY = frozenset(_WORD.findall(_EVERYDAY))

AVOID, UNTRIED, CHANGE = "avoid", "untried", "change"
PROPS, TAUGHT, BEYOND = "props", "taught", "beyond"
# Why an exercise is no exercise for paper, whoever the client is.
STUDIO_ONLY, NO_WORDS, NO_DRAWING = "studio_only", "no_words", "no_drawing"
UNCLASSIFIED = "unclassified"


def usual(exercise: str, facts: dict) -> dict:
    """Return an item with the usual dose: the middle of the range, every day, both sides alike."""
    return {
        "exercise": exercise,
        "sides": "both" if planning.is_sided(facts) else "",
        "repetitions": planning.usual_repetitions(facts),
        "seconds": facts["seconds_per_rep"] if is_held(facts) else None,
        "repetitions_right": None,
        "seconds_right": None,
        "per_week": 7,
        "days": [],
        "cue": "",
        "change": "",
        "adaptations": [],
        "has_it": False,
        "taught_on": "",
        "beyond": False,
    }


def whole(item: dict, facts: dict) -> dict:
    """Return an item with every key: those that it does not name are as usual, its days stand."""
    per_week = None if item.get("days") else 7
    return {**usual(item["exercise"], facts), "per_week": per_week, **item}


def is_held(facts: dict) -> bool:
    """Return whether one repetition is a hold that is counted in seconds."""
    if facts["breath"] == "hold_keep_breathing" or facts["compare_by"] == "hold_s":
        return True
    return "stretch" in facts["families"] and facts["seconds_per_rep"] >= HELD_FROM


def seconds(item: dict, facts: dict) -> float:
    """Return the bare time of an item: set-up, every repetition, the switch of sides."""
    return planning.bare_seconds(counted(item, facts))


def counted(item: dict, facts: dict) -> planning.Row:
    """Return an item as the sums take it."""
    # A hold without a number of repetitions is held once.
    count = item["repetitions"] or (1 if item["seconds"] else 0)
    right = count if item["repetitions_right"] is None else item["repetitions_right"]
    sides = {
        "": {"both": count},
        "both": {"left": count, "right": right},
        "left": {"left": count},
        "right": {"right": count},
    }[item["sides"]]
    hold = {"hold": item["seconds"], "hold_right": item["seconds_right"]}
    return planning.Row(facts, **hold, **sides)


def minutes(total_seconds: float) -> int:
    """Return minutes rounded half up, and never nothing."""
    return planning.shown_minutes(total_seconds)


def is_long(total_seconds: float) -> bool:
    return total_seconds > LONG_MINUTES * 60


def dose(item: dict, facts: dict) -> dict:
    """Return the dose as sessions.handout takes it: the same on both sides unless typed different."""
    left = _count(item["repetitions"], item["seconds"])
    if not item["sides"]:
        return {"both": left}
    if item["sides"] != "both":
        return {item["sides"]: left, "means": facts["side_means"]}
    times, held = item["repetitions_right"], item["seconds_right"]
    right = _count(item["repetitions"] if times is None else times, item["seconds"] if held is None else held)
    return {"left": left, "right": right, "means": facts["side_means"]}


def _count(times: int | None, held: int | None) -> dict:
    values = {"times": times or None, "seconds": held or None}
    return {name: value for name, value in values.items() if value}


def often(item: dict) -> dict:
    """Return how often as sessions.handout takes it."""
    if item["per_week"]:
        return {"days": item["per_week"]}
    return {"weekdays": item["days"]} if len(item["days"]) < 7 else {"days": 7}


def missing(item: dict, facts: dict, owned: Collection[str]) -> list[str]:
    """Return what the exercise needs and the client is not known to have, unless the instructor said so."""
    return [] if item["has_it"] else [prop for prop in facts["home_props"] if prop not in owned]


def is_steady(item: dict, noted: Collection[str]) -> bool:
    """Return whether every side that goes home was once noted at Steady or better.

    noted: the sides ("left", "right", "both") on which it was.
    """
    if "both" in noted:
        return True
    asked = {"": (), "both": ("left", "right")}.get(item["sides"], (item["sides"],))
    return bool(noted) and all(side in noted for side in asked)


def off_paper(facts: dict, text: dict, pose: dict | None) -> str:
    """Return why an exercise cannot stand on a handout at all, or "" where it can.

    text, pose: as an exercise version holds them; the words for the client may be missing, the pose None.
    """
    if not facts["home_ok"]:
        return STUDIO_ONLY
    if facts["demands"] is None:
        return UNCLASSIFIED
    if not text.get("client", {}).get("how"):
        return NO_WORDS
    return "" if pose else NO_DRAWING


def needs(
    item: dict,
    facts: dict,
    verdict: str,
    *,
    owned: Collection[str],
    noted: Collection[str],
    place: int,
    untried: bool = False,
) -> list[str]:
    """Return what keeps an item from going home, most serious first; nothing where it may.

    verdict: what the judge says today. owned: things at home. noted: see is_steady. place: how many
    items stand before it. untried: an 'avoid' is lifted by an adaptation that the client has not done with this
    exercise in the studio. AVOID and UNTRIED are never answered here; the others are by the item's own keys.
    """
    found = []
    if verdict == "avoid":
        found.append(AVOID)
    if untried:
        found.append(UNTRIED)
    if verdict == "modify" and not item["adaptations"] and not item["change"].strip():
        found.append(CHANGE)
    if missing(item, facts, owned):
        found.append(PROPS)
    if not item["taught_on"] and not is_steady(item, noted):
        found.append(TAUGHT)
    if place >= MOST and not item["beyond"]:
        found.append(BEYOND)
    return found


def placed(items: Sequence[dict], item: dict) -> list[dict]:
    """Return the items with this one in the place of its exercise, or at the end."""
    if any(other["exercise"] == item["exercise"] for other in items):
        return [item if other["exercise"] == item["exercise"] else other for other in items]
    return [*items, item]


def without(items: Sequence[dict], exercise: str) -> list[dict]:
    return [item for item in items if item["exercise"] != exercise]


def ordered(items: Sequence[dict], exercises: Sequence[str]) -> list[dict]:
    """Return the items in the order of these exercises; those that are not named come last, as they stood."""
    places = {exercise: place for place, exercise in enumerate(exercises)}
    return sorted(items, key=lambda item: places.get(item["exercise"], len(places)))


def moved(items: Sequence[dict], exercise: str, by: int) -> list[dict]:
    """Return the items with one of them a place earlier (by -1) or later (1); at an end it stays."""
    items = list(items)
    place = next((n for n, item in enumerate(items) if item["exercise"] == exercise), None)
    if place is None or not 0 <= place + by < len(items):
        return items
    items[place], items[place + by] = items[place + by], items[place]
    return items


def alternated(lies: Sequence[bool]) -> list[int]:
    """Return an order of places in which no two exercises on the back follow each other, where there is one.

    lies: whether each is flat on the back, in its order. Both kinds keep their own order; the kind there is
    more of begins, or the one that stands first. Where there are too many on the back, the last stay together.
    """
    back = [place for place, flat in enumerate(lies) if flat]
    other = [place for place, flat in enumerate(lies) if not flat]
    back_begins = len(back) > len(other) or (len(back) == len(other) and bool(lies) and lies[0])
    first, second = (back, other) if back_begins else (other, back)
    order = []
    for n in range(max(len(first), len(second))):
        order += [*first[n : n + 1], *second[n : n + 1]]
    return order


def together(lies: Sequence[bool]) -> list[tuple[int, int]]:
    """Return the pairs of neighbouring places that are both on the back."""
    return [(n, n + 1) for n in range(len(lies) - 1) if lies[n] and lies[n + 1]]


def told(text: str, names: Iterable[str]) -> list[str]:
    """Return the words of a text that tell what is on file, in their order.

    names: names of conditions and of clinicians. Their everyday words do not tell; of a long word its
    beginning does, so that "pregnant" tells a pregnancy.
    """
    stems = {stem for name in names for stem in _stems(name)}
    found = []
    for word in _WORD.findall(text):
        folded = fold(word)
        if any(folded == stem or (len(stem) >= 5 and folded.startswith(stem)) for stem in stems):
            found.append(word)
    return found


def _stems(name: str) -> Iterator[str]:
    """Yield what a telling word of a name begins with."""
    for word in _WORD.findall(name):
        folded = fold(word)
        if folded in EVERYDAY or not (len(folded) >= 4 or (word.isupper() and len(word) == 3)):
            continue
        yield folded[:-3] if len(folded) >= 8 else folded
