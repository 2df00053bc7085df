"""The library's search as a page: the address, the part that htmx swaps, what to let go, without a script.

That results follow the words and the filters is held in test_finding.py; here is what the page makes of them.
"""

import re
from html import unescape
from urllib.parse import parse_qs, urlsplit

import pytest
from django.http import QueryDict
from django.template import Context, Template
from django.urls import reverse
from django.utils.html import escape

from library import tables, vocabulary_wording
from library.forms.search import FindForm
from library.models import Exercise, shelf
from library.models.shelf import shelf_of
from library.templatetags.finding import marked, with_query
from library.views.finder import AT_ONCE
from sessions.demo import factories as f

HTMX = {"HX-Request": "true", "HX-Target": "found"}


def look(browser, **asked):
    return browser.get(reverse("library:list"), asked)


def page(answer):
    return answer.content.decode()


def names_on(answer):
    cards = re.findall(r'<a class="lib-card".*?<b>(.*?)</b>', page(answer), re.DOTALL)
    return [unescape(re.sub("<[^>]+>", "", card)) for card in cards]


def links(answer, css):
    return [unescape(href) for href in re.findall(rf'class="[^"]*{css}[^"]*" href="([^"]+)"', page(answer))]


class TestFinding:
    @pytest.mark.parametrize(
        ("words", "first"),
        [
            ("clam", ["Clam, side-lying", "Clam with band"]),
            ("CLÁM", ["Clam, side-lying", "Clam with band"]),
            ("lying clam", ["Clam, side-lying"]),
            ("bird-dog", ["Opposite arm and leg reach in four-point"]),
            ("  short   box  side", ["Short box, side reach"]),
            ("calm with band", ["Clam with band"]),
        ],
        ids=["part", "accents and capitals", "any order", "other name", "spaces", "a slip"],
    )
    def test_by_name(self, library, as_instructor, words, first):
        assert names_on(look(as_instructor, words=words))[: len(first)] == first

    def test_by_apparatus(self, library, as_instructor):
        names = names_on(look(as_instructor, apparatus="ladder_barrel"))
        # Eleven entries on the barrel: the count of the trade's content plan.
        assert len(names) == 11
        assert {"Side stretch over the barrel", "Swan over the barrel"} <= set(names)

    def test_what_may_go_home(self, library, as_instructor):
        names = names_on(look(as_instructor, home="on", apparatus="mat"))
        assert "Plank" in names
        assert "Leg pull, facing down" not in names

    def test_by_what_is_at_home(self, library, as_instructor):
        shown = look(as_instructor, props=["band"])
        facts = {one["name"]: one for one in tables.exercises().values()}
        assert names_on(shown)
        assert all(facts[name]["home_ok"] for name in names_on(shown))
        assert {prop for name in names_on(shown) for prop in facts[name]["home_props"]} == {"band"}

    def test_all_at_once_stand_in_the_librarys_order(self, library, as_instructor):
        names = names_on(look(as_instructor))
        assert names == [facts["name"] for facts in tables.exercises().values()]

    @pytest.mark.parametrize("words", ["O'Brien", "王", "=SUM(1)", "<b>x</b>", "x" * 200])
    def test_any_text_is_an_ordinary_search(self, library, as_instructor, words):
        answer = look(as_instructor, words=words)
        assert answer.status_code == 200
        assert f'value="{escape(words)}"' in page(answer)

    def test_too_many_letters_are_said_at_the_field(self, library, as_instructor):
        shown = page(look(as_instructor, words="x" * 200))
        assert 'aria-invalid="true" aria-describedby="find-words-wrong"' in shown
        assert "Shorten this to 80 characters." in shown

    @pytest.mark.parametrize(
        "name", ["apparatus", "position", "level", "family", "skill", "transfer", "props"]
    )
    def test_a_value_that_does_not_exist_finds_nothing(self, library, as_instructor, name):
        assert names_on(look(as_instructor, **{name: "trampoline"})) == []

    def test_the_studios_own_exercise_is_found(self, library, as_instructor):
        plank = Exercise.objects.select_related("current").get(key="mat_plank").current.payload
        facts = {**plank["facts"], "id": "own_lean", "name": "Harbour wall lean"}
        own = f.ExerciseFactory(key="own_lean", content=False)
        own.current = f.ExerciseVersionFactory(exercise=own, payload={**plank, "facts": facts})
        own.save()
        assert names_on(look(as_instructor, words="harbuor wall"))[0] == "Harbour wall lean"

    def test_a_changed_exercise_is_found_by_its_new_name(self, library, as_instructor):
        assert names_on(look(as_instructor, words="quayside")) == []
        plank = Exercise.objects.select_related("current").get(key="mat_plank")
        facts = {**plank.current.facts, "name": "Quayside hold"}
        plank.current = f.ExerciseVersionFactory(
            exercise=plank, payload={**plank.current.payload, "facts": facts}
        )
        plank.save()
        assert names_on(look(as_instructor, words="quayside")) == ["Quayside hold"]


class TestTheAddress:
    def test_the_part_that_is_swapped_writes_a_short_address(self, library, as_instructor):
        asked = {"words": "leg", "apparatus": "mat", "position": "", "home": "on", "skill": ""}
        answer = as_instructor.get(reverse("library:list"), asked, headers=HTMX)
        assert page(answer).strip().startswith('<div id="found"')
        address = urlsplit(answer.headers["HX-Replace-Url"])
        assert address.path == reverse("library:list")
        assert parse_qs(address.query) == {"words": ["leg"], "apparatus": ["mat"], "home": ["on"]}
        again = as_instructor.get(answer.headers["HX-Replace-Url"])
        assert names_on(again) == names_on(answer)

    def test_of_an_address_every_field_is_filled_in(self, library, as_instructor):
        shown = page(look(as_instructor, words="leg", level="building", props=["band"], home="on"))
        assert re.search(r'<option value="building" selected>', shown)
        assert re.search(r'name="home"[^>]* checked', shown)
        assert re.search(r'value="band" checked', shown)

    def test_a_filter_is_taken_off_with_one_touch(self, library, as_instructor):
        shown = look(as_instructor, words="leg", level="building", apparatus="mat")
        queries = {urlsplit(href).query for href in links(shown, "found-chip")}
        assert queries == {"words=leg&level=building", "words=leg&apparatus=mat"}

    def test_no_field_and_no_value_speaks_of_a_client(self):
        names = set(FindForm().fields)
        assert names == {
            "words",
            "apparatus",
            "position",
            "level",
            "family",
            "skill",
            "transfer",
            "home",
            "props",
        }

    def test_a_query_is_written_once_and_escaped_once(self):
        form = FindForm(QueryDict("words=a%26b&apparatus=mat"))
        assert form.query() == "words=a%26b&apparatus=mat"
        assert with_query("/x/", form.query()) == "/x/?words=a%26b&apparatus=mat"
        written = Template("{% load finding %}{% with_query '/x/' query %}").render(
            Context({"query": form.query()})
        )
        assert written == "/x/?words=a%26b&amp;apparatus=mat"
        assert with_query("/x/", "") == "/x/"


class TestNothingFound:
    def test_it_says_what_to_let_go_and_each_way_finds_something(self, library, as_instructor):
        shown = look(as_instructor, words="teaser", apparatus="standing", level="building")
        assert "Nothing holds all of that" in page(shown)
        ways = links(shown, "btn-quiet")
        counted = re.findall(r'<span class="num">\((\d+)\)', page(shown))
        ways = [way for way in ways if "words=" in way][-len(counted) :]
        assert counted
        for way, count in zip(ways, counted, strict=True):
            assert len(names_on(as_instructor.get(way))) == min(int(count), AT_ONCE)

    def test_a_word_too_many_can_be_let_go(self, library, as_instructor):
        shown = page(look(as_instructor, words="plank qzxv"))
        assert "without the word “qzxv”" in shown
        assert "without the word “plank”" not in shown

    def test_where_no_way_leads_on_it_says_what_to_type(self, library, as_instructor):
        assert "Type fewer letters of one word" in page(look(as_instructor, words="trampoline"))


def test_the_rest_comes_when_the_list_is_scrolled_to(library, as_instructor):
    first = look(as_instructor, words="leg")
    following = links(first, "btn-quiet")[-1]
    assert f"from={AT_ONCE}" in following
    second = as_instructor.get(following, headers=HTMX)
    assert "<h1" not in page(second) and 'id="found"' not in page(second)
    assert len(names_on(first)) == AT_ONCE and not set(names_on(first)) & set(names_on(second))
    # Without a script the same link is a page of its own.
    assert names_on(as_instructor.get(following)) == names_on(second)


@pytest.mark.parametrize("start", ["-1", "x", "99999999", "1e3", "²"])
def test_a_place_that_is_none_is_the_first(library, as_instructor, start):
    assert names_on(look(as_instructor, **{"words": "leg", "from": start})) == names_on(
        look(as_instructor, words="leg")
    )


def test_where_it_was_found_is_said_and_marked(library, as_instructor):
    shown = page(look(as_instructor, words="hamstring curl"))
    assert "<mark>Hamstring</mark> <mark>curl</mark> on the box" in shown
    said = escape(vocabulary_wording.label("skill", "hip_extensor_strength"))
    assert f'<span class="found-why">{said}</span>' in page(look(as_instructor, words="glutes"))


def test_marking_escapes_what_it_writes():
    assert str(marked("<b>x</b>", None)) == "<b>x</b>"

    class Found:
        words = frozenset(["x"])

    assert marked("<b>x</b>", Found) == "&lt;b&gt;<mark>x</mark>&lt;/b&gt;"


def test_queries_do_not_grow(library, as_instructor, instructor, django_assert_num_queries):
    shelf_of(instructor)
    for asked in ({"words": "clam band"}, {"words": "leg"}, {}, {"words": "plank qzxv", "level": "building"}):
        # Session, person, studio, sign-in, and the shelf.
        with django_assert_num_queries(5):
            look(as_instructor, **asked)


def test_what_is_kept_is_let_go_and_read_again(library, instructor, monkeypatch):
    """Also those that were kept a moment before, and while only one of them is missing."""
    everything = [one.current.name for one in shelf_of(instructor)]
    monkeypatch.setattr(shelf, "_MOST_KEPT", 0)
    shelf._versions.pop(next(iter(shelf._versions)))
    assert [one.current.name for one in shelf_of(instructor)] == everything


def test_whoever_has_left_finds_nothing(library, instructor):
    instructor.is_active = False
    assert shelf_of(instructor) == []
