"""Finding exercises: names, slips of typing, accents, words of the trade, filters, and the order of the results.

Outside checks: the slips are typed by hand, of the four kinds that Damerau named in 1964 (a letter doubled, dropped,
changed for its neighbour on the keyboard, swapped with the next; from memory); forms of accents are made by Python's
unicodedata; nearness is judged by difflib, which knows nothing of rapidfuzz; filters are held against plain
comparisons of the data. What the trade says for something is common practice, no source.
"""

import difflib
import unicodedata

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from library import finding, tables
from library.finding import Entry, marked, search, slips_forgiven
from studio.folding import fold
from tests.rows import each

EXERCISES = tables.exercises()
NAMES = {key: facts["name"] for key, facts in EXERCISES.items()}


def names(text, **filters):
    return [NAMES[one.id] for one in search(text, filters=filters)]


class TestNames:
    @each("key", EXERCISES)
    def test_an_exercise_is_found_first_by_its_own_name(self, key):
        assert search(NAMES[key])[0].id == key

    @each(
        "other, key",
        [(other, key) for key, facts in EXERCISES.items() for other in facts["alt_names"]],
    )
    def test_an_other_name_finds_its_exercise_first(self, other, key):
        assert search(other)[0].id == key

    @pytest.mark.parametrize(
        ("typed", "first"),
        [
            ("teas", "Teaser"),
            ("merm", "Mermaid, seated"),
            ("hund leg lo", "Hundred, legs long"),
            ("rollup", "Roll-up"),
            ("roll up", "Roll-up"),
            ("birddog", "Opposite arm and leg reach in four-point"),
            ("single leg stretch", "One-leg stretch"),
            ("single leg kick", "One-leg kick"),
            ("open leg rocker", "Open-leg rocker"),
            ("foot work heels", "Footwork, heels"),
            ("box short round", "Short box, round back"),
        ],
    )
    def test_while_it_is_typed_and_as_it_is_said(self, typed, first):
        assert names(typed)[0] == first

    def test_a_name_comes_before_words(self):
        places = [one.where for one in search("breathing")]
        assert {"name", "skill"} <= set(places)
        assert places == sorted(places, key=lambda where: where != "name")

    def test_every_word_has_to_be_found(self):
        assert search("teaser reformer footwork wall") == []
        both = set(names("swan barrel"))
        assert both == {name for name in both if "Swan" in name}
        assert "Swan on the chair" not in both

    def test_as_it_stands_when_nothing_is_typed(self):
        assert [one.id for one in search("  ")] == list(EXERCISES)


# Typed by hand: what was meant, and the slip.
SLIPS = [
    ("Teaser", "teasser", "doubled"),
    ("Mermaid, seated", "mermaidd seated", "doubled"),
    ("Corkscrew", "corkkscrew", "doubled"),
    ("Elephant", "ellephant", "doubled"),
    ("Plank", "plannk", "doubled"),
    ("Teaser", "teser", "dropped"),
    ("Corkscrew", "corkscre", "dropped"),
    ("Coordination", "cordination", "dropped"),
    ("Jackknife", "jacknife", "dropped"),
    ("Elephant", "elphant", "dropped"),
    ("Boomerang", "bomerang", "dropped"),
    ("Swimming", "swiming", "dropped"),
    ("Spine stretch forward", "spine strech forward", "dropped"),
    ("Pelvic tilt", "pelvci tilt", "swapped"),
    ("Bridge hold", "brigde hold", "swapped"),
    ("Mermaid, seated", "mermiad seated", "swapped"),
    ("Elephant", "elehpant", "swapped"),
    ("Footwork, heels", "footwrok heels", "swapped"),
    ("Hundred, legs long", "hunderd legs long", "swapped"),
    ("Clam with band", "calm with band", "swapped"),
    ("Scooter", "acooter", "neighbour"),
    ("Teaser", "teasee", "neighbour"),
    ("Monkey", "nonkey", "neighbour"),
    ("Hip twist", "hip twust", "neighbour"),
    ("Cat stretch", "cat stretvh", "neighbour"),
    ("Swan dive", "swab dive", "neighbour"),
    ("Coordination", "cordinatoin", "dropped and swapped"),
    ("Breaststroke on the box", "brestsroke on the box", "two dropped"),
]


class TestSlips:
    @each("meant, typed, kind", SLIPS)
    def test_a_slip_is_forgiven(self, meant, typed, kind):
        assert meant in names(typed)[:5]

    @each("key", [key for key in EXERCISES if max(map(len, finding.words_of(NAMES[key]))) > 6])
    def test_two_letters_swapped_in_the_longest_word_of_a_name(self, key):
        words = list(finding.words_of(NAMES[key]))
        place = max(range(len(words)), key=lambda n: len(words[n]))
        word = words[place]
        middle = next(n for n in range(2, len(word) - 1) if word[n] != word[n + 1])
        words[place] = word[:middle] + word[middle + 1] + word[middle] + word[middle + 2 :]
        assert key in [one.id for one in search(" ".join(words))]

    @pytest.mark.parametrize(("length", "most"), [(1, 0), (3, 0), (4, 1), (7, 1), (8, 2), (20, 2)], ids=str)
    def test_short_words_are_taken_as_typed(self, length, most):
        assert slips_forgiven("x" * length) == most

    def test_three_letters_forgive_nothing(self):
        assert "Saw" in names("saw")
        assert search("sqw") == []

    @pytest.mark.parametrize("typed", ["elphant", "jacknife", "corkscre", "bomerang", "brigde", "swiming"])
    def test_the_first_found_is_as_near_as_any_name_by_difflib(self, typed):
        def near(name):
            words = [*finding.words_of(name), "".join(finding.words_of(name))]
            return max(difflib.SequenceMatcher(None, typed, word).ratio() for word in words)

        first = names(typed)[0]
        assert near(first) == max(near(name) for name in NAMES.values())

    def test_nothing_is_forgiven_where_something_is_found_as_typed(self):
        # 'side' is one letter from 'slide': who types a word that is there means that word.
        assert "Heel slide" not in names("side")
        assert "Arm slide at the wall" not in names("side")


@pytest.mark.parametrize("form", ["NFC", "NFD", "NFKC", "NFKD"])
@pytest.mark.parametrize(
    ("typed", "plain"),
    [
        ("Téaser", "teaser"),
        ("ELÉPHANT", "elephant"),
        ("pélvic cürl", "pelvic curl"),
        ("ﬂexıbility", "flexibility"),
    ],
)
def test_accents_and_their_forms_do_not_matter(typed, plain, form):
    assert search(unicodedata.normalize(form, typed)) == search(plain) != []


class TestWords:
    @pytest.mark.parametrize(
        ("typed", "field", "value"),
        [
            ("abs", "skills", "trunk_flexor_strength"),
            ("glutes", "skills", "hip_extensor_strength"),
            ("calves", "skills", "foot_strength"),
            ("inner thighs", "families", "hip_abduction_rotation"),
            ("prone", "position", "prone"),
            ("all fours", "position", "quadruped"),
            ("upside down", "position", "inverted"),
            ("beginner", "level", "foundation"),
            ("foam roller", "home_props", "roller"),
            ("spine corrector", "apparatus", "arc"),
            ("jump board", "accessories", "jump_board"),
            ("neck strains", "faults", "neck_strains"),
        ],
    )
    def test_as_the_trade_says_it(self, typed, field, value):
        # Common practice, no source.
        found = {one.id for one in search(typed)}
        held = {k for k, f in EXERCISES.items() if value == f[field] or value in (f[field] or ())}
        assert held and held <= found

    def test_the_purpose_is_searched(self):
        made = (
            {**EXERCISES["mat_plank"], "id": "own"},
            {"purpose": "Gets a gardener through the hedge season."},
        )
        (found,) = search("gardener hedge", exercises=[made])
        assert (found.id, found.where) == ("own", "purpose")
        assert "gardener" in found.text

    def test_what_everybody_types_between_words_does_not_count(self):
        assert names("teaser on the box")[0] == "Teaser on the box"
        assert set(names("the teaser with a ball")) == set(names("teaser ball"))

    def test_every_value_that_is_said_otherwise_is_in_a_closed_list(self):
        lists = {"skill", "family", "position", "level", "apparatus", "accessories", "fault"}
        rows = [
            (where, v) for row in finding._said()["said"] for where, vs in row["means"].items() for v in vs
        ]
        for where, value in rows:
            closed = "home_prop" if where == "home_props" else where
            assert closed in lists | {"home_prop"}
            assert value in tables.closed_list(closed), (where, value)


@pytest.mark.parametrize(
    "typed",
    ["qzxv", "trampoline", "zzzzzz", "wwwwwwwww", "???", "🙂", "王", "teaser qzxv", "-", "0123456789"],
)
def test_nonsense_finds_nothing(typed):
    assert search(typed) == []


# Each filter said plainly, by somebody who has not read the module.
PLAIN = {
    "apparatus": lambda f, v: f["apparatus"] in v,
    "position": lambda f, v: f["position"] in v,
    "family": lambda f, v: any(one in f["families"] for one in v),
    "skill": lambda f, v: any(one in f["skills"] for one in v),
    "level": lambda f, v: f["level"] in v,
    "transfer": lambda f, v: f["transfer_family"] in v,
    "home": lambda f, v: f["home_ok"] is True,
    "props": lambda f, v: all(one in v for one in f["home_props"]),
}
VALUES = {
    "apparatus": tables.closed_list("apparatus"),
    "position": tables.closed_list("position"),
    "family": tables.closed_list("family"),
    "skill": tables.closed_list("skill"),
    "level": tables.closed_list("level"),
    "transfer": tuple(row["id"] for row in tables.transfer_families()),
    "props": tables.closed_list("home_prop"),
}


@st.composite
def some_filters(draw):
    chosen = draw(st.sets(st.sampled_from(sorted(PLAIN)), max_size=4))
    return {
        name: True
        if name == "home"
        else draw(st.lists(st.sampled_from(VALUES[name]), min_size=1, max_size=3, unique=True))
        for name in sorted(chosen)
    }


TYPED = st.sampled_from(["", "leg", "seated", "brigde", "abs", "roll", "kneeling stretch", "one", "t", "the"])


class TestFilters:
    @each("name, value", [(n, v) for n, vs in VALUES.items() for v in vs])
    def test_each_value_against_a_plain_comparison(self, name, value):
        wanted = [key for key, facts in EXERCISES.items() if PLAIN[name](facts, [value])]
        assert [one.id for one in search("", filters={name: [value]})] == wanted

    @settings(max_examples=150, deadline=None)
    @given(some_filters(), TYPED)
    def test_several_at_once_keep_what_each_keeps(self, filters, typed):
        everything = [one.id for one in search(typed)]
        wanted = [k for k in everything if all(PLAIN[n](EXERCISES[k], v) for n, v in filters.items())]
        assert [one.id for one in search(typed, filters=filters)] == wanted

    @settings(max_examples=150, deadline=None)
    @given(some_filters(), some_filters(), TYPED)
    def test_one_filter_more_never_adds(self, first, second, typed):
        more = {**second, **first}
        assume(more != first)
        fewer = {one.id for one in search(typed, filters=more)}
        assert fewer <= {one.id for one in search(typed, filters=first)}

    def test_nothing_at_home_keeps_what_needs_nothing(self):
        found = [EXERCISES[one.id] for one in search("", filters={"home": True, "props": []})]
        assert found and not any(facts["home_props"] for facts in found)

    def test_a_filter_that_is_not_known_is_refused(self):
        with pytest.raises(LookupError, match="no filter 'colour'"):
            search("", filters={"colour": ["red"]})


@settings(max_examples=200, deadline=None)
@given(st.text(max_size=30))
def test_any_text_is_an_ordinary_search(typed):
    found = search(typed)
    assert [one.score for one in found] == sorted((one.score for one in found), reverse=True)
    assert len({one.id for one in found}) == len(found)


@settings(max_examples=60, deadline=None)
@given(st.sampled_from(sorted(EXERCISES)), st.randoms())
def test_the_order_of_the_words_does_not_decide_what_is_found(key, random):
    words = list(finding.words_of(NAMES[key]))
    random.shuffle(words)
    assert key in {one.id for one in search(" ".join(words))}


def test_the_studios_own_entries_are_found_too():
    own = {**EXERCISES["mat_plank"], "id": "own", "name": "Harbour wall lean", "alt_names": ["pier push"]}
    ready = Entry.of(own, {"purpose": "Own."})
    for typed in ("harbour wal", "pier push", "habrour"):
        assert [one.id for one in search(typed, exercises=[ready])] == ["own"]
    pairs = [(facts, {}) for facts in EXERCISES.values()] + [(own, {})]
    assert search("harbour lean", exercises=pairs)[0].id == "own"


class TestMarks:
    @pytest.mark.parametrize(
        ("typed", "name", "shown"),
        [
            ("tea", "Teaser on the box", "[Teaser] on the box"),
            ("rollup", "Roll-up", "[Roll]-[up]"),
            ("brigde", "Bridge hold", "[Bridge] hold"),
            ("single leg", "One-leg kick", "[One]-[leg] kick"),
        ],
    )
    def test_the_words_that_matched(self, typed, name, shown):
        found = next(one for one in search(typed) if NAMES[one.id] == name)
        pieces = marked(name, found.words)
        assert "".join(f"[{text}]" if hit else text for text, hit in pieces) == shown

    @given(st.text(max_size=40), st.frozensets(st.text(max_size=6), max_size=4))
    def test_marking_changes_no_letter(self, text, words):
        assert "".join(piece for piece, _hit in marked(text, words)) == text


def test_a_letter_that_folds_to_nothing_is_no_word():
    assert fold("̂") == ""
    assert search("̂") == []
