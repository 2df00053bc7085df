"""Every sentence of the rules that a page may show goes through gettext, with what differs in its place."""

import ast
from pathlib import Path

import pytest
from django.utils import translation

import library
from library import fault_wording, own_wording
from library.contents import Problem
from library.own_exercise import FACTS, Slip

HOUSE = Path(library.__file__).parent
MODULES = ("contents_rules", "contents_between", "contents_transfer", "exercise_sets")
# Speaks of rows that are in no set: which adaptation lifts which demand.
NEVER_SHOWN = "lift_faults"
# Sentences that are put together of pieces, as they are in the end.
PUT_TOGETHER = [
    "'neck_flexion' needs a side.",
    "'neck_flexion' has no sides: take its side out.",
    "does not fit the exercises: the file is damaged, or was changed by hand. "
    'Where it was changed on purpose, make it "".',
]
PIECES = ("'x' x.", "does not fit the exercises:", "Where it was changed on purpose")


def sentences() -> list[str]:
    found = []
    for module in MODULES:
        tree = ast.parse((HOUSE / f"{module}.py").read_text(encoding="utf-8"))
        for part in tree.body[1:]:  # after what the module is about
            if NEVER_SHOWN not in getattr(part, "name", "") and not getattr(part, "name", "").startswith(
                "_lift"
            ):
                found += _of(part)
    return sorted(set(found))


def _of(part) -> list[str]:
    docs = {
        ast.get_docstring(node, clean=False)
        for node in ast.walk(part)
        if isinstance(node, ast.FunctionDef | ast.ClassDef)
    }
    pieces = {
        id(piece) for node in ast.walk(part) if isinstance(node, ast.JoinedStr) for piece in ast.walk(node)
    } - {id(node) for node in ast.walk(part) if isinstance(node, ast.JoinedStr)}
    found = []
    for node in ast.walk(part):
        if isinstance(node, ast.JoinedStr):
            text = "".join(v.value if isinstance(v, ast.Constant) else "x" for v in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in pieces:
            text = node.value
        else:
            continue
        if text not in docs and " " in text.strip() and text.rstrip().endswith((".", '""')):
            found.append(text)
    return [text for text in found if not text.startswith(PIECES)]


def test_the_rules_have_sentences_to_look_at():
    assert len(sentences()) > 60


@pytest.mark.parametrize("says", [*sentences(), *PUT_TOGETHER])
def test_every_sentence_has_words_of_its_own(says):
    assert fault_wording.known(says)


SAID = {
    "as it stands": ("is missing.", "is missing."),
    "with what differs": ("lies between 1 and 30.", "lies between 1 and 30."),
    "with two ids": (
        "'hard' is not in the closed list 'level'.",
        "“hard” is not in the closed list “level”.",
    ),
    "of another exercise": (
        "mat_plank: 'x' is no exercise of the library.",
        "mat_plank: “x” is no exercise of the library.",
    ),
    "of a drawing": (
        "cannot be drawn. End: nothing touches. Or make it null: then the exercise has no drawing.",
        "cannot be drawn. End: nothing touches. Or make it null: then the exercise has no drawing.",
    ),
    "what no rule says": ("stands alone.", "stands alone."),
}


@pytest.mark.parametrize(("says", "words"), SAID.values(), ids=SAID)
def test_a_sentence_keeps_what_differs(says, words):
    assert fault_wording.said(says) == words


def test_it_is_asked_in_the_language_of_whoever_reads(monkeypatch):
    """A catalogue of one sentence stands in: words are looked up when they are shown."""
    monkeypatch.setattr(
        translation._trans, "gettext", lambda text: text.replace("is not in the closed", "fehlt in")
    )
    assert fault_wording.said("'hard' is not in the closed list 'level'.") == "“hard” fehlt in list “level”."


def test_places_of_a_set_have_words():
    shown = fault_wording.problem(Problem("set.json", "entry 3", "line 4", "needs words."))
    assert (shown.file, shown.entry, shown.field, shown.says) == (
        "set.json",
        "entry 3",
        "line 4",
        "needs words.",
    )


def test_a_form_names_ids_by_their_words():
    says = own_wording.sentence(
        Slip(FACTS, "demands", "lacks 'prone_lying', which the position 'prone' brings.")
    )
    assert "prone_lying" not in says and "“" in says
