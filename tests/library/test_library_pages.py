"""The library's pages: finding, one exercise, who may read, words for every closed list, figures or none."""

import re
from html import unescape
from types import SimpleNamespace

import pytest
from django.template import Context, Template
from django.urls import reverse
from django.utils.html import escape

from library import tables, vocabulary_wording
from library.models import Exercise
from studio.folding import fold


def page_of(key):
    return reverse("library:exercise", args=[Exercise.objects.get(key=key).public_id])


# Role matrix, row 11: everybody who works here reads the library.
@pytest.mark.parametrize("who", ["as_owner", "as_instructor", "as_desk"])
def test_everybody_who_works_here_reads_the_library(request, library, who):
    browser = request.getfixturevalue(who)
    assert browser.get(reverse("library:list")).status_code == 200
    assert browser.get(page_of("mat_clam")).status_code == 200


def test_nobody_else_does(library, as_nobody):
    for address in (reverse("library:list"), page_of("mat_clam")):
        answer = as_nobody.get(address)
        assert answer.status_code == 302
        assert reverse("studio:sign_in") in answer["Location"]


def test_an_unknown_exercise_is_missing(library, as_instructor):
    assert as_instructor.get(reverse("library:exercise", args=["nothing-here"])).status_code == 404


def test_an_exercise_without_content_is_missing(library, as_instructor):
    empty = Exercise.objects.create(key="studio_empty")
    assert as_instructor.get(reverse("library:exercise", args=[empty.public_id])).status_code == 404


def test_the_pages_only_read(library, as_instructor):
    assert as_instructor.post(reverse("library:list")).status_code == 405
    assert as_instructor.post(page_of("mat_clam")).status_code == 405


class TestOneExercise:
    def test_says_everything_there_is(self, library, as_instructor):
        shown = as_instructor.get(page_of("mat_clam")).content.decode()
        text = Exercise.objects.select_related("current").get(key="mat_clam").current.text
        sentences = [text[field] for field in ("purpose", "set_up", "breath", "easier", "harder", "dose")]
        sentences += [text["cautions"], *text["steps"], *text["cues"], *text["client"].values()]
        sentences += [row[part] for row in text["watch"] for part in ("see", "say")]
        assert [sentence for sentence in sentences if escape(sentence) not in shown] == []

    def test_says_what_right_means(self, library, as_instructor):
        assert "Right = the leg that moves" in as_instructor.get(page_of("mat_clam")).content.decode()
        assert "Right =" not in as_instructor.get(page_of("mat_plank")).content.decode()

    def test_shows_start_and_end_with_the_right_side_painted(self, library, as_instructor):
        shown = as_instructor.get(page_of("mat_bird_dog")).content.decode()
        name = "Opposite arm and leg reach in four-point"
        assert f"<title>{name}, start, right</title>" in shown
        assert f"<title>{name}, end, right</title>" in shown
        assert "fg-work-right" in shown

    def test_the_spring_and_its_direction(self, library, as_instructor):
        shown = as_instructor.get(page_of("ref_bottom_lift")).content.decode()
        assert "medium (light to heavy)" in shown
        assert "Lighter is harder." in shown

    def test_demands_by_their_short_label(self, library, as_instructor):
        shown = as_instructor.get(page_of("mat_clam")).content.decode()
        assert tables.rule_table().demands["side_lying"]["short"] in shown

    def test_no_demand_is_no_permission(self, library, as_instructor):
        shown = as_instructor.get(page_of("st_hip_hinge")).content.decode()
        assert "That is not a permission" in shown

    def test_links_the_easier_and_the_harder_that_are_on_the_shelf(self, library, as_instructor):
        shown = as_instructor.get(page_of("mat_clam")).content.decode()
        # From library.md section 15's graph: the leg lift grows from the clam, the clam with band is not here.
        assert page_of("mat_side_leg_lift") in shown
        back = as_instructor.get(page_of("mat_side_leg_lift")).content.decode()
        assert page_of("mat_clam") in back

    def test_home_words_only_where_it_may_go_home(self, library, as_instructor):
        assert "In the client’s words" in as_instructor.get(page_of("mat_plank")).content.decode()
        assert "In the client’s words" not in as_instructor.get(page_of("ref_frog")).content.decode()

    def test_a_fixed_number_of_queries(self, library, as_instructor, django_assert_max_num_queries):
        # Session, person, studio, then: the list itself; or the exercise with its neighbours and the whole shelf,
        # from which the nearest are taken (its versions are read once and kept).
        for address in (reverse("library:list"), page_of("mat_clam"), page_of("mat_pelvic_curl")):
            with django_assert_max_num_queries(8):
                as_instructor.get(address)


class TestTheFigureTag:
    def draw(self, exercise, call):
        template = Template("{% load library %}{% exercise_figure exercise " + call + " %}")
        return template.render(Context({"exercise": exercise}))

    def test_an_exercise_and_its_version_draw_alike(self, library):
        plank = Exercise.objects.select_related("current").get(key="mat_plank")
        assert self.draw(plank, '"end"') == self.draw(plank.current, '"end"')
        assert self.draw(plank, '"end"').startswith("<svg")

    def test_sides_and_paint_pass_through(self, library):
        lift = Exercise.objects.select_related("current").get(key="mat_side_leg_lift")
        left = self.draw(lift, '"end" side="left"')
        assert "fg-work-left" in left
        paper = self.draw(lift, '"end" side="left" paint="paper"')
        assert "fg-" not in paper
        assert 'stroke="#111"' in paper

    def test_a_title_of_ones_own_is_escaped(self, library):
        plank = Exercise.objects.select_related("current").get(key="mat_plank")
        assert "<title>O&#x27;Brien &lt;b&gt;</title>" in self.draw(plank, '"start" title="O\'Brien <b>"')

    def test_without_a_pose_a_few_words_stand_instead(self):
        bare = SimpleNamespace(pose=None, name="Bare")
        assert "No drawing yet" in self.draw(bare, '"start"')
        assert "<svg" not in self.draw(bare, '"start"')


class TestTheRow:
    def test_is_a_link_only_with_an_address(self, library):
        plank = Exercise.objects.select_related("current").get(key="mat_plank")
        include = Template('{% include "library/_exercise_small.html" %}')
        linked = include.render(Context({"exercise": plank, "url": "/there/"}))
        plain = include.render(Context({"exercise": plank}))
        assert '<a href="/there/" class="exrow">' in linked
        assert "<a " not in plain
        assert "Plank" in plain


# The closed lists of the data and the words for them, one for one.
@pytest.mark.parametrize("name", vocabulary_wording.LISTS)
def test_every_value_of_a_closed_list_has_its_own_words(name):
    values = tables.closed_list(name)
    words = vocabulary_wording.labels(name, values)
    assert set(vocabulary_wording.LISTS[name]) == set(values)
    assert len(set(words)) == len(words)


def test_every_change_that_can_go_home_is_a_sentence_to_the_client():
    home = {
        change for facts in tables.exercises().values() if facts["home_ok"] for change in facts["adaptations"]
    }
    sentences = [vocabulary_wording.adaptation_at_home(change) for change in home]
    assert all(sentence[0].isupper() and sentence.endswith(".") for sentence in sentences)
    assert len(set(sentences)) == len(home)
    with pytest.raises(LookupError):
        vocabulary_wording.adaptation_at_home("carriage_stop_out")


def test_a_value_without_words_is_refused():
    with pytest.raises(LookupError, match="'fault' has no words for 'sulks'"):
        vocabulary_wording.fault("sulks")


@pytest.mark.parametrize(
    ("text", "folded"), [("Élan  Vital", "elan vital"), ("STRASSE", "strasse"), ("王", "王"), ("ﬁsh", "fish")]
)
def test_folding(text, folded):
    assert fold(text) == folded


def test_figures_further_down_come_when_they_are_reached(as_instructor, library):
    first = as_instructor.get(reverse("library:list")).content.decode()
    waiting = re.findall(r'hx-get="([^"]+)" hx-trigger="revealed" hx-swap="none"', first)
    places = re.findall(r'class="fig" id="fig-([^"]+)"', first)
    assert first.count('class="fig"><svg') + len(places) == first.count('class="lib-card"')
    put = []
    for address in waiting:
        answer = as_instructor.get(unescape(address), headers={"HX-Request": "true"}).content.decode()
        put += re.findall(r'<div class="fig" id="fig-([^"]+)" hx-swap-oob="true"><', answer)
        assert "revealed" not in answer and "<h1" not in answer
    assert put == places, "every empty place is filled, once, in order"
