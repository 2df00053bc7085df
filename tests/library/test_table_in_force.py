"""The table in force: the shipped one and the studio's own rules, its version, and who has reviewed it."""

import datetime as dt
import re

import pytest
from django.template import Context, Template

from clients.glance import sheets
from library import wording
from library.models import TableReview, table_in_force
from library.precautions import judge
from library.tables import rule_table
from sessions import judging
from sessions.demo import factories as f
from sessions.wording import sheet

pytestmark = pytest.mark.django_db
ON = dt.date(2026, 11, 25)
SHIPPED = rule_table().version


def flag(condition="me_cfs_long_covid", on=None):
    return f.FlagFactory.build(condition=condition, on=on)


def test_without_rules_it_is_the_shipped_table_itself(django_assert_num_queries):
    with django_assert_num_queries(1):
        assert table_in_force() is rule_table()


def test_a_rule_of_the_studio_makes_a_version_of_its_own(house):
    f.StudioRuleFactory()
    table = table_in_force()
    assert re.fullmatch(re.escape(SHIPPED) + r"\+[0-9a-f]{8}", table.version)
    assert len(table.rules) == len(rule_table().rules) + 1
    assert rule_table().version == SHIPPED


def test_the_same_rules_are_the_same_table_by_one_query(house, django_assert_num_queries):
    for demand in ("inversion", "kneeling_load", "prone_lying"):
        f.StudioRuleFactory(demand=demand)
    first = table_in_force()
    with django_assert_num_queries(1):
        assert table_in_force() is first


@pytest.mark.parametrize(
    "changed",
    [
        {"verdict": "modify"},
        {"demand": "kneeling_load"},
        {"condition": "fibromyalgia"},
        {"reason": "Another reason."},
        {"adaptation": "Sit."},
    ],
    ids=lambda changed: next(iter(changed)),
)
def test_whatever_a_rule_says_is_in_the_version(changed, house):
    one = f.StudioRuleFactory()
    before = table_in_force().version
    f.StudioRuleEndFactory(rule=one)
    f.StudioRuleFactory(**changed)
    assert table_in_force().version not in (before, SHIPPED)


def test_who_made_it_and_in_which_order_is_not(house):
    rules = [f.StudioRuleFactory(demand=demand) for demand in ("inversion", "kneeling_load")]
    before = table_in_force().version
    for rule in rules:
        f.StudioRuleEndFactory(rule=rule)
    assert table_in_force() is rule_table()
    for demand in ("kneeling_load", "inversion"):
        f.StudioRuleFactory(demand=demand, on=ON)
    assert table_in_force().version == before


def test_a_rule_on_what_the_shipped_table_has_lost_counts_nowhere(house):
    f.StudioRuleFactory(condition="gone_since")
    f.StudioRuleFactory(demand="gone_too")
    f.StudioRuleFactory(basis="event_days", from_day=0, to_day=7)
    assert table_in_force() is rule_table()


def test_its_maker_and_day_stand_wherever_it_decides(house):
    maker = f.StaffFactory(owner=True, full_name="Linnet Ashgrove")
    rule = f.StudioRuleFactory(verdict="avoid", by=maker, on=ON)
    table = table_in_force()
    judged = judge([flag()], "mat_roll_over", ON, table=table)
    kept = judging.stored(judged)
    assert judge([flag()], "mat_roll_over", ON).verdict != "avoid"
    assert (judged.verdict, kept["table_version"]) == ("avoid", table.version)
    words = "Rule of this studio, by Linnet Ashgrove, on 25 Nov 2026."
    first = sheet(kept)["rows"][0]
    assert (first["sure"], first["rule"], first["by"]) == (words, rule.key, "")
    assert first["text"] == rule.reason
    chips = sheets([flag()], ON, table=table)
    assert [row["sure"] for chip in chips for row in chip["rows"] if row["rule"] == rule.key] == [words]


def test_a_verdict_stored_before_there_were_such_rules_still_reads():
    old = judging.stored(judge([flag("osteopenia")], "mat_roll_over", ON))
    for reason in old["reasons"]:
        reason.pop("since")
    assert sheet(old)["rows"]


def line() -> str:
    return Template("{% load library %}{% review_line %}").render(Context())


NOT_REVIEWED = "The rule table has not been reviewed by a licensed clinician."
REVIEWED = "Rule table reviewed by Orla Quillfeather, physiotherapist, on 2 Nov 2026."
EARLIER = (
    "Rule table reviewed in an earlier version, by Orla Quillfeather, physiotherapist, on 2 Nov 2026: "
    "not as it is now."
)


def review(**facts) -> TableReview:
    return f.TableReviewFactory(on=dt.date(2026, 11, 2), **facts)


def test_nobody_has_reviewed_it():
    assert line() == NOT_REVIEWED


def test_this_version_was_reviewed(house):
    review()
    assert line() == REVIEWED


def test_a_new_rule_of_the_studio_makes_it_an_earlier_version(house):
    review()
    rule = f.StudioRuleFactory()
    assert line() == EARLIER
    f.StudioRuleEndFactory(rule=rule)
    assert line() == REVIEWED


def test_a_new_shipped_table_makes_it_an_earlier_version(house):
    review(table_version="1-00000000")
    assert line() == EARLIER


def test_a_review_of_the_version_in_force_speaks_before_a_newer_one_of_another(house):
    review()
    f.TableReviewFactory(name="Somebody Else", on=ON, table_version="1-00000000")
    assert line() == REVIEWED


def test_of_two_reviews_the_newest_speaks(house):
    f.TableReviewFactory(name="Somebody Else", on=dt.date(2026, 10, 1))
    review()
    assert line() == REVIEWED


def test_a_withdrawn_review_speaks_no_more(house):
    f.TableReviewEndFactory(review=review())
    assert line() == NOT_REVIEWED


def test_what_was_typed_is_never_markup(house):
    f.TableReviewFactory(name="<b>Orla</b>")
    assert "&lt;b&gt;Orla" in line()


def test_the_words_are_those_of_one_function():
    assert wording.review_words(SHIPPED, None) == NOT_REVIEWED


def test_a_page_asks_for_it_once(as_owner, now, django_assert_max_num_queries):
    """On the page of components it stands under every verdict sheet: one query for the page."""
    with django_assert_max_num_queries(80) as seen:
        text = as_owner.get("/studio/components/").content.decode()
    assert text.count(NOT_REVIEWED) > 1
    for table in ("library_tablereview", "library_studiorule"):
        assert sum(f'FROM "{table}"' in query["sql"] for query in seen.captured_queries) == 1
