"""What is kept when it was drawn or translated once: the same as anew, whatever was asked for before."""

import datetime as dt

import pytest
from django.template.loader import render_to_string
from django.utils import translation
from django.utils.safestring import mark_safe
from django.utils.translation import gettext_lazy, trans_real

from studio.middleware import keep_sentences
from studio.templatetags import controls, evenside, keeping
from tests.rows import each

MARKUP = "<b>both</b>"
# Tag, the template it draws, what it is given.
PARTS = (
    ("stepper", controls.stepper_context, ("reps_left", 8, "Reps", "left")),
    ("steps", controls.steps_context, ("quality", 3, "Quality", "right")),
    ("pair", controls.pair_steppers, ("reps", "Reps", 8, None)),
    ("felt_row", controls.felt_row, ("felt", {"pinch_left"})),
    ("trail", controls.trail, ([{"minutes": 3}, {"minutes": 4, "done": True}], 1)),
    ("minutes_bar", controls.minutes_bar, ([{"minutes": 3.5, "verdict": "avoid"}], 40, 55)),
)


@each("name, values_of, given", PARTS, ids=lambda name, *_more: name)
def test_a_part_is_drawn_as_the_template_draws_it(name, values_of, given):
    values, file = values_of(*given), f"components/{name}.html"
    anew = render_to_string(file, values)
    assert [keeping.drawn(file, values), keeping.drawn(file, values_of(*given))] == [anew, anew]


def test_values_that_read_alike_are_kept_apart():
    drawn = [
        keeping.drawn("components/carry.html", {"text": one, "by": ""}) for one in (True, "True", 1, "1")
    ]
    assert ["True" in one for one in drawn] == [True, True, False, False]
    shown = [keeping.drawn("components/one.html", {"kind": "stepper", "last": one}) for one in (None, "", 0)]
    assert ["<span>last 0</span>" in one for one in shown] == [False, False, True]


def test_every_text_of_a_kept_part_is_escaped_whoever_vouched_for_it():
    for text in (mark_safe(MARKUP), MARKUP, mark_safe(MARKUP)):
        drawn = keeping.drawn("components/carry.html", {"text": text, "by": ""})
        assert MARKUP not in drawn and "&lt;b&gt;both&lt;/b&gt;" in drawn


def test_a_chip_keeps_what_is_escaped_apart_from_what_is_not():
    asked = [evenside.flag("avoid", text) for text in (mark_safe(MARKUP), MARKUP, mark_safe(MARKUP))]
    assert [MARKUP in chip for chip in asked] == [True, False, True]


def test_each_language_has_its_own(monkeypatch):
    catalogue = {"de": "Deutsch", "en-gb": "English"}
    monkeypatch.setattr(keeping, "get_template", lambda name: Spoken())
    for language, word in [*catalogue.items(), *catalogue.items()]:
        with translation.override(language):
            assert keeping.drawn("by-language", {}) == word
            assert keeping.drawn("lazy", {"said": gettext_lazy("Left")}) == word


class Spoken:
    def render(self, values):
        return {"de": "Deutsch", "en-gb": "English"}[translation.get_language()]


@pytest.mark.parametrize("value", [dt.date(2026, 11, 25), object(), {1, 2}], ids=["a day", "a row", "a set"])
def test_what_is_not_plain_is_refused(value):
    with pytest.raises(TypeError, match="plain values"):
        keeping.drawn("components/carry.html", {"text": value})


@pytest.fixture
def fresh_catalogues(monkeypatch):
    monkeypatch.setattr(trans_real, "_translations", {})


@pytest.mark.usefixtures("fresh_catalogues")
class TestSentences:
    @pytest.mark.parametrize("language", ["en-gb", "en-us", "en-au", "de"])
    def test_a_kept_sentence_is_the_one_the_catalogues_say(self, language):
        # Sentences of Django's own, which it ships in German: here they show whether the language counts.
        said = ("Yes", "Enter a valid date.", "No such sentence", "Select all %s")
        plural = ("%(num)d year", "%(num)d years")
        anew = trans_real.DjangoTranslation(language)
        keep_sentences(language)
        with translation.override(language):
            for _time in range(2):
                assert [translation.gettext(one) for one in said] == [anew.gettext(one) for one in said]
                for n in (0, 1, 2):
                    assert translation.ngettext(*plural, n) == anew.ngettext(*plural, n)

    def test_it_is_set_up_once(self):
        keep_sentences("en-gb")
        kept = trans_real.translation("en-gb").gettext
        keep_sentences("en-gb")
        assert trans_real.translation("en-gb").gettext is kept

    def test_a_catalogue_made_anew_begins_with_nothing(self):
        keep_sentences("de")
        before = trans_real.translation("de").gettext
        trans_real._translations.clear()
        keep_sentences("de")
        assert trans_real.translation("de").gettext is not before
        assert trans_real.translation("de").gettext.cache_info().currsize == 0
