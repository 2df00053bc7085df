"""Templates: every file compiles, none holds what the content policy forbids, components say what they must."""

import json
import re
from pathlib import Path

import pytest
from django import forms
from django.template import Context, Template, loader
from django.template.loader import render_to_string

from studio import drawing, wording
from studio.forms import widgets
from tests.rows import each

ROOT = Path(__file__).resolve().parents[2]
FOLDERS = [
    ROOT / "templates",
    *(ROOT / app / "templates" for app in ("studio", "library", "clients", "sessions")),
]
TEMPLATES = sorted(
    path for folder in FOLDERS for path in folder.rglob("*") if path.suffix in {".html", ".svg", ".txt"}
)
NAMES = [str(path.relative_to(ROOT)) for path in TEMPLATES]
SCRIPTS = sorted((ROOT / "static" / "js").glob("*.js"))

# Source: CSP level 3 with script-src and style-src 'self': no inline script, style or handler runs.
FORBIDDEN = {
    "script without src": re.compile(r"<script(?![^>]*\bsrc=)", re.I),
    "style element": re.compile(r"<style\b", re.I),
    "style attribute": re.compile(r"\sstyle\s*=", re.I),
    "handler attribute": re.compile(r"\son[a-z]+\s*=", re.I),
    "htmx handler": re.compile(r"\s(data-)?hx-(on|vals=['\"]js:|vals=['\"]javascript:)", re.I),
    "outside address": re.compile(r"(src|href|action|poster|data)\s*=\s*[\"']?\s*(https?:)?//", re.I),
    "javascript address": re.compile(r"=\s*[\"']?javascript:", re.I),
}


def markup_only(text: str) -> str:
    """The text without comments and without what stands inside template tags: those are never sent."""
    text = re.sub(r"\{#.*?#\}|\{% comment.*?endcomment %\}", "", text, flags=re.S)
    return re.sub(r"\{%.*?%\}", "", text, flags=re.S)


def draw(markup: str, /, **values) -> str:
    return Template("{% load evenside crispy_forms_tags %}" + markup).render(Context(values))


@each("path", TEMPLATES, ids=NAMES)
def test_template_holds_nothing_the_policy_forbids(path):
    # The SVG name space is a name, not a request. The printed page carries its own style sheet by file.
    text = markup_only(path.read_text(encoding="utf-8")).replace('xmlns="http://www.w3.org/2000/svg"', "")
    found = {what: hit.group(0) for what, rule in FORBIDDEN.items() if (hit := rule.search(text))}
    assert found == {}


@pytest.mark.parametrize(
    "bad",
    [
        "<script>go()</script>",
        "<script type=module>go()</script>",
        "<style>p{}</style>",
        '<p style="color:red">',
        '<a onclick="go()">',
        '<a hx-on:click="go()">',
        '<img src="https://example.org/a.png">',
        "<link href=//example.org/a.css>",
        '<a href="javascript:go()">',
    ],
    ids=str,
)
def test_the_rules_catch_what_they_are_for(bad):
    assert any(rule.search(bad) for rule in FORBIDDEN.values())


@each("path", TEMPLATES, ids=NAMES)
def test_template_compiles(path):
    folder = next(parent for parent in path.parents if parent.name == "templates")
    loader.get_template(str(path.relative_to(folder)))


@each("path", TEMPLATES, ids=NAMES)
def test_icons_named_in_templates_exist(path):
    names = re.findall(r"\{% icon \"([a-z0-9-]+)\"", path.read_text(encoding="utf-8"))
    missing = [name for name in names if not (ROOT / f"static/vendor/lucide-1.62.0/{name}.svg").is_file()]
    assert missing == []


@each("path", SCRIPTS, ids=lambda path: path.name)
def test_script_sets_no_inline_style_and_evaluates_nothing(path):
    text = path.read_text(encoding="utf-8")
    for rule in (
        r"setAttribute\(\s*[\"']style",
        r"\beval\(",
        r"new Function",
        r"innerHTML",
        r"https?://",
        r"^import ",
    ):
        assert not re.search(rule, text, re.M), rule


def test_htmx_is_configured_for_the_policy():
    base = (ROOT / "templates" / "base.html").read_text(encoding="utf-8")
    config = json.loads(re.search(r"name=\"htmx-config\" content='(.*?)'", base).group(1))
    assert config["historyCacheSize"] == 0 and 'hx-history="false"' in base
    assert not any(config[name] for name in ("allowEval", "allowScriptTags", "includeIndicatorStyles"))
    swaps = [row["swap"] for row in config["responseHandling"] if re.search(row["code"], "422")]
    assert swaps[0] is True
    assert [row["swap"] for row in config["responseHandling"] if re.search(row["code"], "500")] == [False]


def test_vendored_folders_carry_their_licence():
    folders = [path for path in (ROOT / "static" / "vendor").iterdir() if path.is_dir()]
    assert folders
    for folder in folders:
        assert any(path.name.upper().startswith(("LICENSE", "OFL")) for path in folder.iterdir()), folder.name


@pytest.mark.django_db
def test_no_rule_is_quiet_text_and_not_a_permission():
    html = draw('{% flag "none" %}')
    assert ">No rule<" in html
    assert "svg" not in html and "even" not in html.replace("flag-none", "")
    sheet = draw("{% verdict_sheet sheet %}", sheet={"verdict": "none", "rows": []})
    assert "not a permission" in sheet
    assert "has not been reviewed by a licensed clinician" in sheet


def test_flags_come_strictest_first_and_at_most_three():
    flags = [
        {"verdict": verdict, "text": verdict + " text"}
        for verdict in ("none", "watch", "modify", "avoid", "watch")
    ]
    html = draw('{% flag_list flags url="/clients/x/" %}', flags=flags)
    places = [
        html.index(word) for word in ("avoid text", "modify text", "watch text", "2 more: 1 Watch, 1 No rule")
    ]
    assert places == sorted(places)
    assert html.count('class="flag ') == 3


@pytest.mark.django_db
def test_reasons_are_merged_by_demand_strictest_first_and_the_usual_change_stands_once():
    common = {"text": "Why.", "adaptation": "Bend less.", "outranked": "", "held": ""}
    rows = [
        {"verdict": "modify", "demand": "Deep knee bend", "flag": "Knee", "rule": "R1", **common},
        {"verdict": "avoid", "demand": "Jumping", "flag": "Knee", "rule": "R2", **common},
        {"verdict": "watch", "demand": "Deep knee bend", "flag": "Hip", "rule": "R3", **common},
        {
            **common,
            "verdict": "avoid",
            "demand": "Kneeling",
            "flag": "Knee",
            "outranked": "A word stands here.",
        },
    ]
    html = draw("{% verdict_sheet sheet %}", sheet={"verdict": "avoid", "text": "jumping", "rows": rows})
    heads = re.findall(
        r'class="reason reason-(\w+)".*?</span></span><span( class="struck")?>([^<]*)</span></p>', html, re.S
    )
    assert heads == [
        ("avoid", "", "Jumping"),
        ("modify", "", "Deep knee bend"),
        ("avoid", ' class="struck"', "Kneeling"),
    ]
    knee = html[html.index("Deep knee bend") : html.index("Kneeling")]
    assert knee.count("Bend less.") == 1
    assert "<b>Knee</b>" in knee and "<b>Hip</b>" in knee and "flag-watch" in knee
    assert html.count("has not been reviewed by a licensed clinician") == 1


def test_a_verdict_that_is_none_of_the_four_is_refused():
    with pytest.raises(KeyError):
        draw('{% flag "fine" %}')
    with pytest.raises(ValueError, match="not in tuple"):
        draw("{% flag_list flags %}", flags=[{"verdict": "fine", "text": ""}])


def test_unknown_icon_is_refused():
    with pytest.raises(ValueError, match="No icon named"):
        draw('{% icon "../base" %}')


@pytest.mark.parametrize(
    ("setting", "words", "coils"),
    [
        ([], "No springs", 0),
        ([("medium", 1), ("heavy", 2)], "2 heavy + 1 medium", 3),
        ([{"grade": "light", "count": 1}, {"grade": "light", "count": 1}], "2 light", 2),
    ],
    ids=["none", "heaviest_first", "same_grade_added"],
)
def test_springs_are_said_in_words_heaviest_first(setting, words, coils):
    html = draw("{% springs setting %}", setting=setting)
    assert words in html
    assert html.count("<path") == coils
    assert 'stroke="currentColor"' in html or not coils


@pytest.mark.django_db
@pytest.mark.parametrize("text", ["O'Brien", "王", "=SUM(1)", "<b>bold</b>", '"><script>'], ids=str)
@pytest.mark.parametrize(
    "markup",
    [
        '{% flag "watch" text %}',
        "{% carry text %}",
        "{% empty text text %}",
        '{% stepper "a" label=text unit=text %}',
        '{% options "a" choices legend=text %}',
        '{% phrases "a" choices legend=text %}',
        '{% booking_state "arrived" at=text %}',
        "{% body_mini spots label=text %}",
        "{% evenness label=text %}",
        "{% segment items label=text %}",
        "{% verdict_sheet sheet %}",
        '{% include "components/conflict.html" with who=text when=text pairs=pairs version=1 %}',
    ],
    ids=lambda markup: re.search(r"\w+", markup[2:]).group(0),
)
def test_what_people_typed_is_never_markup(markup, text):
    row = {"verdict": "avoid", "demand": text, "text": text, "flag": text, "sources": [text], "by": text}
    html = draw(
        markup,
        text=text,
        choices=[(text, text)],
        spots=[],
        items=[{"name": text, "url": "/"}],
        sheet={"verdict": "avoid", "text": text, "rows": [row]},
        pairs=[{"label": text, "theirs": text, "yours": text}],
    )
    assert "<b>bold" not in html and "><script" not in html


def test_left_half_rises_away_from_the_midline():
    left = re.findall(r'value="(\d)"', draw('{% steps "q" side="left" value=2 %}'))
    right = re.findall(r'value="(\d)"', draw('{% steps "q" side="right" value=2 %}'))
    assert (left, right) == (list("54321"), list("12345"))


def test_pair_stands_left_then_name_then_right():
    html = draw('{% pair_steppers "reps" label="Reps" left=6 right=8 %}')
    places = [html.index(part) for part in ('name="reps_left"', 'class="mid"', 'name="reps_right"')]
    assert places == sorted(places)


@pytest.mark.parametrize(("value", "shown"), [(None, ""), (0, "0"), (6, "6"), ("2.5", "2.5")], ids=str)
def test_empty_stays_empty_and_zero_is_zero(value, shown):
    assert f'value="{shown}"' in draw('{% stepper "reps" value=value %}', value=value)


def test_stepper_is_a_number_input_that_works_without_script():
    html = draw('{% stepper "reps" value=6 label="Reps" side="left" min=0 max=60 %}')
    field = re.search(r"<input[^>]*>", html).group(0)
    for needed in ('type="number"', 'min="0"', 'max="60"', 'aria-label="Reps, left"'):
        assert needed in field
    assert html.count('type="button"') == 2


def test_stop_signs_are_the_three_after_the_rule():
    html = draw("{% felt_row %}")
    assert set(re.findall(r'data-stop-sign="(\w+)"', html)) == {"tingling", "numb_or_weak", "pain"}
    assert html.index('class="rule"') < html.index("data-stop-sign")
    assert len(re.findall(r'type="checkbox"', html)) == 2 * len(wording.FELT)


def test_stop_sheet_offers_lighter_only_for_pain():
    def sheet(sign):
        values = {"page": True, "action": "/s/", "exercise": "Arm circles", "time": "09:36", "sign": sign}
        return render_to_string("components/stop_sheet.html", values)

    only = r'<div class="only" data-stop-pain hidden>'
    assert re.search(only, sheet("tingling")) and not re.search(only, sheet("pain"))
    assert "data-stop-nerve hidden" in sheet("pain") and "data-stop-nerve>" in sheet("tingling")
    for sign in ("", "pain", "tingling"):
        assert 'value="stop_session"' in sheet(sign) and 'value="stop_exercise"' in sheet(sign)


@pytest.mark.parametrize(
    ("planned", "booked", "words", "spare"),
    [
        (52, 55, "of 55 min", True),
        (55, 55, "of 55 min", False),
        (58, 55, "3 minutes over", False),
        (56, 55, "1 minute over", False),
    ],
    ids=["spare", "full", "over", "over_by_one"],
)
def test_minutes_say_what_is_left_or_over(planned, booked, words, spare):
    rows = [{"minutes": 6, "verdict": "avoid"}, {"minutes": 5, "verdict": "modify"}]
    html = draw("{% minutes_bar rows planned booked %}", rows=rows, planned=planned, booked=booked)
    assert words in html and f"<b>{planned}</b>" in html
    assert ("free" in html) is spare
    assert html.count("k-avoid") == 1


def test_side_that_was_not_noted_is_not_a_zero():
    html = draw("{% step_strip left=None right=3 %}")
    assert "Left not noted" in html and "Right 3 of 5, Steady" in html
    assert html.count("st-none") == 5 and html.count('class="st-r"') == 3


def test_body_is_seen_from_behind():
    (left,), (right,) = drawing.spots_of("knee", "left"), drawing.spots_of("knee", "right")
    assert left[0] < drawing.MIDLINE < right[0]
    assert len(drawing.spots_of("knee", "unknown")) == 2
    assert drawing.spots_of("tail", "left") == []


class Everything(forms.Form):
    name = forms.CharField(label="Full <name>", help_text="As on the form.")
    minutes = forms.IntegerField(min_value=5, max_value=60, widget=widgets.Stepper(unit="min"))
    quality = forms.TypedChoiceField(
        choices=widgets.STEP_CHOICES, coerce=int, widget=widgets.Steps(side="left")
    )
    effort = forms.TypedChoiceField(choices=widgets.EFFORT_CHOICES, coerce=int, widget=widgets.Effort())
    night = forms.ChoiceField(
        choices=[("y", "Yes"), ("n", "No"), ("u", "Not sure")], widget=widgets.Options()
    )
    paper = forms.ChoiceField(choices=[("a4", "A4"), ("letter", "Letter")], widget=widgets.Segmented())
    notes = forms.MultipleChoiceField(
        choices=[("a", "Neck gripped"), ("b", "Held breath")], widget=widgets.Phrases()
    )
    springs = forms.MultipleChoiceField(
        choices=[("1", "Heavy")], widget=widgets.Pegs([("1", "heavy", "Heavy")])
    )
    pain = widgets.SplitTickField(required=True)
    born = forms.DateField(widget=widgets.DateInput())
    at = forms.TimeField(widget=widgets.TimeInput())
    agreed = forms.BooleanField()


GOOD = {
    "name": "O'Brien", "minutes": "15", "quality": "3", "effort": "0", "night": "u", "paper": "a4", "notes": ["a", "b"],
    "springs": ["1"], "pain_left": "1", "born": "1958-05-03", "at": "09:15", "agreed": "on",
}  # fmt: skip


def test_widgets_give_back_what_was_sent():
    form = Everything(GOOD)
    assert form.is_valid(), form.errors
    assert form.cleaned_data["pain"] == {"left"}
    assert form.cleaned_data["effort"] == 0
    html = draw("{{ form|crispy }}", form=form)
    for needed in (
        'value="15"',
        'id="id_quality_3" value="3" checked',
        'id="id_effort_0" value="0" checked',
        'name="pain_left" id="id_pain_left" value="1" aria-label="Left" checked',
        'value="1958-05-03"',
        'value="09:15"',
        'type="date"',
    ):
        assert needed in html, needed
    assert html.count("checked") == 9  # quality, effort, night, paper, two notes, a peg, a side, agreed


def test_wrong_fields_say_so_and_keep_what_was_typed():
    form = Everything({**GOOD, "minutes": "90", "pain_left": "", "name": ""})
    assert set(form.errors) == {"name", "minutes", "pain"}
    html = draw("{{ form|crispy }}", form=form)
    assert 'value="90"' in html
    assert html.count('class="ferr"') == 3
    name = re.search(r'<input[^>]*name="name"[^>]*>', html).group(0)
    described = re.search(r'aria-describedby="([^"]+)"', name).group(1).split()
    assert 'aria-invalid="true"' in name and "is-invalid" in name
    assert all(f'id="{one}"' in html for one in described) and "id_name_error" in described
    assert "Full &lt;name&gt;" in html


def test_error_pages_stand_alone():
    for code in (400, 403, 404, 500):
        html = render_to_string(f"{code}.html", {"reference": "a1b2c3d4"})
        assert "a1b2c3d4" in html and "<h1>" in html and "{%" not in html
        assert "htmx" not in html
