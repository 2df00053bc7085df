"""The owner's pages of the rule table: stricter rules, their ends, a clinician's reviews."""

import datetime as dt
import re

import pytest
from django.urls import reverse

from library.actions import rules as actions
from library.models import StudioRule, StudioRuleEnd, TableReview, TableReviewEnd, table_in_force
from library.stricter import ALWAYS, Window
from library.tables import rule_table
from sessions.demo import factories as f
from sessions.models import open_call_backs
from studio.actions.audit import Actor
from studio.models import AuditEntry

pytestmark = [pytest.mark.django_db, pytest.mark.usefixtures("now")]
RULES, NEW = "/library/rules/", "/library/rules/new/"
TODAY = dt.date(2026, 11, 25)
REASON = "A client of ours was sore for a week."

# Shipped: 'modify', always.
BONE = {"condition": "osteoporosis", "demand": "loaded_rotation"}
GOOD = {**BONE, "verdict": "avoid", "when": "always", "reason": REASON, "adaptation": ""}


def page(browser, path, **asked) -> str:
    answer = browser.get(path, asked)
    assert answer.status_code == 200, answer
    return answer.content.decode()


def on_shipped(condition, demand) -> list:
    return [
        (rule.verdict, rule.basis, rule.from_day, rule.to_day)
        for rule in rule_table().rules_of[condition]
        if rule.demand == demand
    ]


def test_what_these_tests_rest_on_still_stands():
    assert [row[:2] for row in on_shipped(**BONE)] == [("modify", "ongoing")]
    assert on_shipped("acute_low_back_pain", "loaded_spinal_flexion") == [
        ("avoid", "event_days", 0, 42),
        ("modify", "event_days", 42, None),
    ]
    assert [row[0] for row in on_shipped("plantar_heel_pain", "jump_impact")] == ["avoid"]


def test_the_way_to_a_rule(as_owner):
    assert "Show what the table says" in page(as_owner, NEW)
    listed = page(as_owner, NEW, condition="osteoporosis")
    assert "?condition=osteoporosis&amp;demand=loaded_rotation" in listed
    assert "Where the table is silent" in listed
    form = page(as_owner, NEW, **BONE)
    assert "What the table says now" in form and 'value="avoid"' in form
    assert as_owner.post(NEW, GOOD).url == RULES
    rule = StudioRule.objects.get()
    assert (rule.verdict, rule.window, rule.reason, rule.on) == ("avoid", ALWAYS, REASON, TODAY)
    assert (
        rule.by.is_owner and AuditEntry.objects.filter(action="rule.added", thing_id=rule.public_id).exists()
    )
    assert REASON in page(as_owner, RULES) and table_in_force().version in page(as_owner, RULES)


@pytest.mark.parametrize(
    ("condition", "demand", "offered"),
    [
        ("osteoporosis", "loaded_rotation", {"avoid"}),
        ("plantar_heel_pain", "jump_impact", set()),
        ("me_cfs_long_covid", "inversion", {"watch", "modify", "avoid"}),
        # The laxest window of the two there are is 'modify', from six weeks on; by 'long ago' too.
        ("acute_low_back_pain", "loaded_spinal_flexion", {"avoid"}),
    ],
    ids=["modify", "avoid", "silent", "two-windows"],
)
def test_only_what_is_stricter_is_offered(as_owner, condition, demand, offered):
    text = page(as_owner, NEW, condition=condition, demand=demand)
    assert set(re.findall(r'name="verdict"[^>]*? value="(\w+)"', text)) == offered
    assert "clinician’s instruction" in text


BACK = {"condition": "acute_low_back_pain", "demand": "loaded_spinal_flexion"}
REFUSED = {
    "laxer": ({"verdict": "watch"}, "Only a stricter word can be chosen here."),
    "lifted": ({"verdict": "none"}, "Only a stricter word can be chosen here."),
    "the same": ({"verdict": "modify"}, "Only a stricter word can be chosen here."),
    "no verdict": ({"verdict": ""}, "Choose what holds in this studio."),
    "no reason": ({"reason": "  "}, "Say why, in a few words."),
    "a reason too long": ({"reason": "x" * 401}, "at most 400"),
    "a window nobody offers": ({"when": "rule:R001"}, "Choose when it holds."),
    "modify without a change": (
        {"condition": "me_cfs_long_covid", "demand": "inversion", "verdict": "modify"},
        "Say which change makes it possible.",
    ),
    "as much as the table, in a window of its own": (
        {**BACK, "verdict": "avoid", "when": "weeks", "first_week": "1", "end_week": "6"},
        "The table says Avoid there already.",
    ),
    "weeks without weeks": ({**BACK, "when": "weeks"}, "Type at least one of the two weeks"),
    "weeks backwards": ({**BACK, "when": "weeks", "first_week": "9", "end_week": "9"}, "The end comes after"),
    "weeks that are no number": ({**BACK, "when": "weeks", "first_week": "soon"}, "Enter a whole number"),
}


@pytest.mark.parametrize(("changed", "says"), REFUSED.values(), ids=REFUSED)
def test_what_is_refused_keeps_what_was_typed(as_owner, changed, says):
    answer = as_owner.post(NEW, {**GOOD, **changed})
    text = answer.content.decode()
    assert answer.status_code == 422 and says in text
    assert not StudioRule.objects.exists()
    assert changed.get("reason", REASON).strip() in text


WINDOWS = {
    "always": ({**GOOD}, ALWAYS, ""),
    "weeks": (
        {**GOOD, **BACK, "when": "weeks", "first_week": "6", "end_week": "12"},
        Window("event_days", 42, 84),
        "",
    ),
    "weeks from the start": (
        {**GOOD, **BACK, "when": "weeks", "end_week": "8"},
        Window("event_days", 0, 56),
        "",
    ),
    "weeks without end": (
        {**GOOD, **BACK, "when": "weeks", "first_week": "6"},
        Window("event_days", 42, None),
        "",
    ),
}


@pytest.mark.parametrize(("typed", "window", "raises"), WINDOWS.values(), ids=WINDOWS)
def test_windows(as_owner, typed, window, raises):
    assert as_owner.post(NEW, typed).status_code == 302
    rule = StudioRule.objects.get()
    assert (rule.window, rule.raises) == (window, raises)


def test_a_rule_of_the_table_lends_its_window(as_owner):
    shipped = next(
        rule
        for rule in rule_table().rules_of["pregnancy"]
        if (rule.demand, rule.spell, rule.from_day) == ("supine_lying_long", "short", 112)
    )
    typed = {**GOOD, "condition": "pregnancy", "demand": "supine_lying_long", "when": f"rule:{shipped.id}"}
    assert as_owner.post(NEW, typed).status_code == 302
    rule = StudioRule.objects.get()
    assert (rule.window, rule.raises) == (Window("gestation_days", 112, 196, "short"), shipped.id)
    assert f"stricter than rule {shipped.id}" in page(as_owner, RULES)


@pytest.mark.parametrize("asked", [{"condition": "gout_of_the_moon"}, {"demand": "levitation"}], ids=str)
def test_what_is_not_in_the_table_is_not_found(as_owner, asked):
    assert as_owner.get(NEW, {**BONE, **asked}).status_code == 404
    assert as_owner.post(NEW, {**GOOD, **asked}).status_code == 404


def test_the_action_itself_never_makes_anything_laxer(owner):
    for verdict in ("watch", "modify"):
        with pytest.raises(actions.NotStricter):
            actions.make_stricter(
                actor=Actor(person=owner), today=TODAY, **BONE, verdict=verdict, window=ALWAYS, reason="x"
            )
    assert not StudioRule.objects.exists()


def test_the_same_rule_twice_is_refused(as_owner):
    assert as_owner.post(NEW, GOOD).status_code == 302
    assert as_owner.post(NEW, GOOD).status_code == 422
    assert StudioRule.objects.count() == 1


def test_ending_a_rule(as_owner):
    rule = f.StudioRuleFactory()
    path = reverse("library:rule_end", args=[rule.public_id])
    assert rule.reason in page(as_owner, path)
    assert as_owner.post(path, {"reason": " "}).status_code == 422
    assert as_owner.post(path, {"reason": "The new mats are soft."}).url == RULES
    assert StudioRuleEnd.objects.get().reason == "The new mats are soft."
    assert table_in_force() is rule_table()
    text = page(as_owner, RULES)
    assert "The new mats are soft." in text and "End this rule" not in text
    assert AuditEntry.objects.filter(action="rule.ended", thing_id=rule.public_id).count() == 1
    # Once more, from a page left open.
    assert as_owner.post(path, {"reason": "Again."}).url == RULES
    assert StudioRuleEnd.objects.count() == 1


def test_two_who_end_it_at_once(owner):
    rule = f.StudioRuleFactory()
    actions.end_rule(actor=Actor(person=owner), rule=rule, reason="one")
    with pytest.raises(actions.Over):
        actions.end_rule(actor=Actor(person=owner), rule=StudioRule.objects.get(), reason="two")
    assert StudioRuleEnd.objects.get().reason == "one"
    assert AuditEntry.objects.filter(action="rule.ended").count() == 1


REVIEW = {
    "name": "Orla Quillfeather",
    "profession": "physiotherapist",
    "registration": "PH 00417",
    "on": "2026-11-20",
    "table_version": rule_table().version,
    "looked_at": "All of it.",
}
REVIEWS = "/library/rules/reviews/new/"


def test_recording_a_review(as_owner):
    assert rule_table().version in page(as_owner, REVIEWS)
    assert as_owner.post(REVIEWS, REVIEW).url == RULES
    review = TableReview.objects.get()
    assert (review.name, review.on, review.by.is_owner) == ("Orla Quillfeather", dt.date(2026, 11, 20), True)
    assert AuditEntry.objects.filter(action="review.recorded").exists()
    text = page(as_owner, RULES)
    assert "Rule table reviewed by Orla Quillfeather, physiotherapist, on 20 Nov 2026." in text
    assert "the one in force" in text
    assert "Rule table reviewed by Orla Quillfeather" in page(as_owner, "/help/")


BAD_REVIEWS = {
    "tomorrow": ({"on": "2026-11-26"}, "That day is still to come."),
    "a wrong century": ({"on": "1926-11-20"}, "more than ten years ago"),
    "no date": ({"on": ""}, "Type the date they signed."),
    "a version misread": ({"table_version": "1-0a1b2c3"}, "Copy the version from the signed page"),
    "nobody": ({"name": ""}, "Write who looked at it."),
    "registered nowhere": ({"registration": ""}, "Write the number, or where they are registered."),
    "looked at nothing": ({"looked_at": ""}, "Write what they looked at."),
}


@pytest.mark.parametrize(("changed", "says"), BAD_REVIEWS.values(), ids=BAD_REVIEWS)
def test_a_review_that_is_not_whole(as_owner, changed, says):
    answer = as_owner.post(REVIEWS, {**REVIEW, **changed})
    assert answer.status_code == 422 and says in answer.content.decode()
    assert not TableReview.objects.exists()


def test_withdrawing_a_review(as_owner):
    review = f.TableReviewFactory()
    path = reverse("library:review_withdraw", args=[review.public_id])
    assert review.name in page(as_owner, path)
    assert as_owner.post(path, {"reason": "Signed by mistake."}).url == RULES
    assert TableReviewEnd.objects.get().reason == "Signed by mistake."
    text = page(as_owner, RULES)
    assert "Signed by mistake." in text and "has not been reviewed by a licensed clinician" in text


def test_an_instructor_reads_and_changes_nothing(as_instructor):
    rule, review = f.StudioRuleFactory(), f.TableReviewFactory()
    text = page(as_instructor, RULES)
    assert rule.reason in text and review.name in text
    assert "End this rule" not in text and "Withdraw" not in text and NEW not in text and REVIEWS not in text


def test_a_rule_the_shipped_table_has_lost_is_told(as_owner):
    f.StudioRuleFactory(condition="gone_since")
    assert "counts nowhere" in page(as_owner, RULES)


def test_what_was_typed_is_never_markup(as_owner):
    f.StudioRuleFactory(reason="<script>x</script>", by=f.StaffFactory(owner=True, full_name="<i>O</i>"))
    f.TableReviewFactory(looked_at="<script>y</script>")
    text = page(as_owner, RULES)
    assert "<script>x" not in text and "<script>y" not in text and "<i>O</i>" not in text


def test_queries_do_not_grow(as_owner, owner, django_assert_num_queries, django_assert_max_num_queries):
    def fill(demands):
        for demand in demands:
            f.StudioRuleEndFactory(rule=f.StudioRuleFactory(demand=demand, by=owner))
            f.StudioRuleFactory(demand=demand, by=owner)
            f.TableReviewEndFactory(review=f.TableReviewFactory(by=owner))
            f.TableReviewFactory(by=owner)

    fill(["inversion", "prone_lying"])
    with django_assert_max_num_queries(20) as seen:
        page(as_owner, RULES)
    fill(list(rule_table().demands)[:10])
    with django_assert_num_queries(len(seen.captured_queries)):
        page(as_owner, RULES)
    with django_assert_max_num_queries(15):
        page(as_owner, NEW, condition="pregnancy")


def test_a_new_rule_calls_a_handout_back_and_its_end_lets_it_rest(as_owner, owner):
    client = f.ClientFactory()
    f.FlagFactory(client=client, condition="me_cfs_long_covid")
    handout = f.HandoutFactory(client=client, exercises=["mat_clam", "mat_spine_stretch"])
    assert open_call_backs(owner, TODAY) == []
    rule = {"condition": "me_cfs_long_covid", "demand": "side_lying", "verdict": "avoid", "when": "always"}
    assert as_owner.post(NEW, {**rule, "reason": REASON}).status_code == 302
    called = open_call_backs(owner, TODAY)
    assert [(one.handout, one.verdicts) for one in called] == [(handout, {"mat_clam": "avoid"})]
    assert REASON in {reason["text"] for reason in called[0].reasons}
    path = reverse("library:rule_end", args=[StudioRule.objects.get().public_id])
    assert as_owner.post(path, {"reason": "Asked a clinician."}).status_code == 302
    assert open_call_backs(owner, TODAY) == []
