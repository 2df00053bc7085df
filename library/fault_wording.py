"""What is wrong with an exercise or a set of them, in the words of a page: the sentences of the rules through gettext.

The rules (`library.contents_rules` and its like, `library.exercise_sets`) are plain and speak English, for whoever
writes the data files; here each of their sentences has its own for the page. `{name}` stands for what differs.
"""

import re
from collections.abc import Callable

from django.utils.translation import gettext_lazy

from library.contents import Problem

_OF_ONE = [
    ("is missing: this exercise may go home.", gettext_lazy("is missing: this exercise may go home.")),
    ("is missing.", gettext_lazy("is missing.")),
    (
        "is not a field here. Take it out or put its name right.",
        gettext_lazy("is not a field here. Take it out or put its name right."),
    ),
    ("needs words.", gettext_lazy("needs words.")),
    ("is a list of two or more sentences.", gettext_lazy("is a list of two or more sentences.")),
    ("is a list of what to see and what to say.", gettext_lazy("is a list of what to see and what to say.")),
    (
        "has a fault, what to see and what to say, all with words.",
        gettext_lazy("has a fault, what to see and what to say, all with words."),
    ),
    (
        "speaks of the exercise's own faults, each once: {faults}.",
        gettext_lazy("speaks of the exercise’s own faults, each once: %(faults)s."),
    ),
    (
        "is how, breath and easier, in the client's words.",
        gettext_lazy("is how, breath and easier, in the client’s words."),
    ),
    (
        "'{value}' is not in the closed list '{name}'.",
        gettext_lazy("“%(value)s” is not in the closed list “%(name)s”."),
    ),
    ("names at least one.", gettext_lazy("names at least one.")),
    ("names something twice.", gettext_lazy("names something twice.")),
    ("is one id, or null.", gettext_lazy("is one id, or null.")),
    ("is a list of ids or words.", gettext_lazy("is a list of ids or words.")),
    ("is a whole number, 0 or more.", gettext_lazy("is a whole number, 0 or more.")),
    (
        "gives a side for each demand that has one.",
        gettext_lazy("gives a side for each demand that has one."),
    ),
    ("is true or false.", gettext_lazy("is true or false.")),
    ("is a whole number, or null.", gettext_lazy("is a whole number, or null.")),
    ("lies between {low} and {high}.", gettext_lazy("lies between %(low)s and %(high)s.")),
    ("is no more than reps_max.", gettext_lazy("is no more than reps_max.")),
    (
        "makes {seconds} s in all; {low} to {high} s are usual.",
        gettext_lazy("makes %(seconds)s s in all; %(low)s to %(high)s s are usual."),
    ),
    (
        "is given for sided work, and only for that.",
        gettext_lazy("is given for sided work, and only for that."),
    ),
    (
        "is given where one side follows the other, and only there.",
        gettext_lazy("is given where one side follows the other, and only there."),
    ),
    (
        "'{demand}' has no sides: take its side out.",
        gettext_lazy("“%(demand)s” has no sides: take its side out."),
    ),
    ("'{demand}' needs a side.", gettext_lazy("“%(demand)s” needs a side.")),
    (
        "'{demand}' is not among the demands of this exercise.",
        gettext_lazy("“%(demand)s” is not among the demands of this exercise."),
    ),
    (
        "'{demand}' loads both sides where they work together.",
        gettext_lazy("“%(demand)s” loads both sides where they work together."),
    ),
    (
        "is only for apparatus with springs, and '{apparatus}' has none.",
        gettext_lazy("is only for apparatus with springs, and “%(apparatus)s” has none."),
    ),
    (
        "needs a lowest, a usual and a highest grade, and a role.",
        gettext_lazy("needs a lowest, a usual and a highest grade, and a role."),
    ),
    (
        "lies between the lowest and the highest grade.",
        gettext_lazy("lies between the lowest and the highest grade."),
    ),
    (
        "says which way is harder, except where the spring only anchors.",
        gettext_lazy("says which way is harder, except where the spring only anchors."),
    ),
    (
        "lacks '{demand}', which the position '{position}' brings.",
        gettext_lazy("lacks “%(demand)s”, which the position “%(position)s” brings."),
    ),
    (
        "is for exercises that may go home, and only for them.",
        gettext_lazy("is for exercises that may go home, and only for them."),
    ),
    (
        "is true, but '{apparatus}' is only in the studio.",
        gettext_lazy("is true, but “%(apparatus)s” is only in the studio."),
    ),
    (
        "is true, but advanced work with the head low never goes home.",
        gettext_lazy("is true, but advanced work with the head low never goes home."),
    ),
    (
        "is given with a transfer family, and only then.",
        gettext_lazy("is given with a transfer family, and only then."),
    ),
]
_AMONG_ALL = [
    (
        "'{name}' is already a name of '{first}'.",
        gettext_lazy("“%(name)s” is already a name of “%(first)s”."),
    ),
    ("is {low} to {high}, on the mat.", gettext_lazy("is %(low)s to %(high)s, on the mat.")),
    (
        "{number} is already the number of '{first}'.",
        gettext_lazy("%(number)s is already the number of “%(first)s”."),
    ),
    ("is given to no exercise: {missing}.", gettext_lazy("is given to no exercise: %(missing)s.")),
    ("'{other}' is no exercise of the library.", gettext_lazy("“%(other)s” is no exercise of the library.")),
    (
        "'{other}' is of a harder level than this one.",
        gettext_lazy("“%(other)s” is of a harder level than this one."),
    ),
    ("leads round in a circle: {way}.", gettext_lazy("leads round in a circle: %(way)s.")),
    (
        "has no way down to a foundation exercise that needs no studio apparatus.",
        gettext_lazy("has no way down to a foundation exercise that needs no studio apparatus."),
    ),
    ("has no foundation exercise on the mat.", gettext_lazy("has no foundation exercise on the mat.")),
    (
        "has no exercise for home that needs nothing.",
        gettext_lazy("has no exercise for home that needs nothing."),
    ),
    (
        "is trained on fewer than two kinds of studio apparatus.",
        gettext_lazy("is trained on fewer than two kinds of studio apparatus."),
    ),
    (
        "is used by no exercise. Take it out, or put the exercise right.",
        gettext_lazy("is used by no exercise. Take it out, or put the exercise right."),
    ),
    (
        "stands in this list and in rules/demands.json, or in neither.",
        gettext_lazy("stands in this list and in the list of demands, or in neither."),
    ),
    ("is a list of ids, or of rows with an id.", gettext_lazy("is a list of ids, or of rows with an id.")),
    ("is there twice.", gettext_lazy("is there twice.")),
    ("is true or false for each apparatus.", gettext_lazy("is true or false for each apparatus.")),
    ("'{family}' is no transfer family.", gettext_lazy("“%(family)s” is no transfer family.")),
    ("is there twice. Each id stands once.", gettext_lazy("is there twice. Each id stands once.")),
    ("is not a field here.", gettext_lazy("is not a field here.")),
    ("is a list with at least one id.", gettext_lazy("is a list with at least one id.")),
    (
        "'{key}' does not name this family in its facts.",
        gettext_lazy("“%(key)s” does not name this family in its facts."),
    ),
    ("names '{key}' twice.", gettext_lazy("names “%(key)s” twice.")),
    (
        "lacks '{key}', whose facts name this family.",
        gettext_lazy("lacks “%(key)s”, whose facts name this family."),
    ),
    (
        "'{skill}' is trained by none of its exercises.",
        gettext_lazy("“%(skill)s” is trained by none of its exercises."),
    ),
    (
        "goes by stage, and within a stage by level.",
        gettext_lazy("goes by stage, and within a stage by level."),
    ),
    ("'{key}' prepares, so it has no springs.", gettext_lazy("“%(key)s” prepares, so it has no springs.")),
    (
        "'{key}' is at the stage where the apparatus helps, but stands on none.",
        gettext_lazy("“%(key)s” is at the stage where the apparatus helps, but stands on none."),
    ),
    ("has no exercise on the mat.", gettext_lazy("has no exercise on the mat.")),
    (
        "uses fewer than two kinds of studio apparatus.",
        gettext_lazy("uses fewer than two kinds of studio apparatus."),
    ),
]
_OF_A_SET = [
    (
        "belongs to no exercise known here; one of a studio's own begins with own_.",
        gettext_lazy("belongs to no exercise known here; one of a studio’s own begins with own_."),
    ),
    (
        "is larger than {mb} MB. Export fewer exercises at a time.",
        gettext_lazy("is larger than %(mb)s MB. Export fewer exercises at a time."),
    ),
    (
        "is not '{format}': this is no exercise set.",
        gettext_lazy("is not “%(format)s”: this is no exercise set."),
    ),
    (
        "is not {version}, the only one that is read here.",
        gettext_lazy("is not %(version)s, the only one that is read here."),
    ),
    ("is not an entry here. Take it out.", gettext_lazy("is not an entry here. Take it out.")),
    ("is a list of 1 to {most} exercises.", gettext_lazy("is a list of 1 to %(most)s exercises.")),
    (
        "does not fit the exercises: the file is damaged, or was changed by hand. "
        'Where it was changed on purpose, make it "".',
        gettext_lazy(
            "does not fit the exercises: the file is damaged, or was changed by hand. Where it was changed on "
            'purpose, make it "".'
        ),
    ),
    ("is not text in UTF-8.", gettext_lazy("is not text in UTF-8.")),
    ("is not valid JSON that is read here.", gettext_lazy("is not valid JSON that is read here.")),
    ("is not valid JSON ({why}).", gettext_lazy("is not valid JSON (%(why)s).")),
    (
        "has the entry '{name}' twice in one place.",
        gettext_lazy("has the entry “%(name)s” twice in one place."),
    ),
    (
        "needs facts with an id of small letters, digits and low lines.",
        gettext_lazy("needs facts with an id of small letters, digits and low lines."),
    ),
    (
        "has facts, text and pose, and nothing else.",
        gettext_lazy("has facts, text and pose, and nothing else."),
    ),
    (
        "is longer than {letters} letters or {lines} lines.",
        gettext_lazy("is longer than %(letters)s letters or %(lines)s lines."),
    ),
    ("is the id of the exercise.", gettext_lazy("is the id of the exercise.")),
    (
        "are said here already: a set cannot make that unsaid.",
        gettext_lazy("are said here already: a set cannot make that unsaid."),
    ),
    (
        "has the id of the exercise as its key, or is null.",
        gettext_lazy("has the id of the exercise as its key, or is null."),
    ),
    (
        "cannot be drawn. {why} Or make it null: then the exercise has no drawing.",
        gettext_lazy("cannot be drawn. %(why)s Or make it null: then the exercise has no drawing."),
    ),
]
_OF_A_DRAFT = [
    (
        "are to be gone through again: this exercise was classified.",
        gettext_lazy("are to be gone through again: this exercise was classified."),
    ),
    (
        "lack some that were noted before: say why.",
        gettext_lazy("lack some that were noted before: say why."),
    ),
]
_NAMED, _QUOTED = re.compile(r"\\\{(\w+)\\\}"), re.compile(r"'\{(\w+)\}'")
# Pattern of a sentence, its words, and which of its parts are ids.
_SENTENCES = [
    (
        re.compile(_NAMED.sub(r"(?P<\1>.+)", re.escape(rule)), re.DOTALL),
        words,
        frozenset(_QUOTED.findall(rule)),
    )
    for rule, words in (*_OF_ONE, *_AMONG_ALL, *_OF_A_SET, *_OF_A_DRAFT)
]
_PLACES = [
    (re.compile(r"entry (?P<n>\d+)"), gettext_lazy("entry %(n)s")),
    (re.compile(r"line (?P<n>\d+)"), gettext_lazy("line %(n)s")),
]
# "own_1: has no way down …": what it would break in another exercise, named before it.
_OF_ANOTHER = re.compile(r"(?P<entry>[a-z0-9_]{3,60}): (?P<says>.+)", re.DOTALL)


def said(says: str, named: Callable[[str], str] = str) -> str:
    """Return a sentence of the rules in the words of the page. named: what an id in it is called there."""
    for pattern, words, ids in _SENTENCES:
        found = pattern.fullmatch(says)
        if found:
            values = {
                name: named(value) if name in ids else value for name, value in found.groupdict().items()
            }
            return str(words) % values
    other = _OF_ANOTHER.fullmatch(says)
    return f"{other['entry']}: {said(other['says'], named)}" if other else says


def known(says: str) -> bool:
    """Return whether a sentence of the rules has words of its own here."""
    return any(pattern.fullmatch(says) for pattern, _words, _ids in _SENTENCES)


def problem(one: Problem) -> Problem:
    """Return a problem of a set with its sentence and its place in the words of the page."""
    return Problem(one.file, _place(one.entry), _place(one.field), said(one.says))


def _place(code: str) -> str:
    for pattern, words in _PLACES:
        found = pattern.fullmatch(code)
        if found:
            return str(words) % found.groupdict()
    return code
