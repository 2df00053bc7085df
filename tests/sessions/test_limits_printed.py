"""How far a client goes on a printed page: drawn and said for each side, and kept in the handout's payload."""

import pytest
from django.template.loader import render_to_string
from django.urls import reverse

from library.body import all_poses
from library.body.limits import lead
from sessions import handout
from sessions.actions import handouts as handout_actions
from sessions.demo import factories as f
from sessions.templatetags import handout_figures
from studio.models import Studio
from tests.sessions.handout_samples import handout_values, item
from tests.sessions.home_steps import add
from tests.sessions.recorded import make_session
from tests.sessions.test_own_limits import HALF, QUARTER, TURN, keep

pytestmark = pytest.mark.django_db
LEGS = {"left": {"times": 8}, "right": {"times": 8}, "means": "working_leg"}


@pytest.fixture
def held(instructor, now):
    return make_session(instructor)


class TestHandout:
    def sheet(self, *items) -> handout.Handout:
        other = item("mat_pelvic_curl", {"both": {"times": 6}})
        return handout.build(**handout_values(items=[*items, other]))

    def html(self, sheet) -> str:
        return render_to_string("handouts/handout.html", {"payload": sheet, "for_pdf": True})

    @pytest.mark.parametrize(
        ("limits", "dose", "sides", "sentence"),
        [
            ({}, LEGS, ("right",), ""),
            ({"both": HALF}, LEGS, ("right",), "Both sides: only as far as the picture shows."),
            ({"left": HALF}, LEGS, ("left", "right"), "Left leg: only as far as the picture shows."),
            (
                {"left": HALF, "right": QUARTER},
                LEGS,
                ("left", "right"),
                "Each side: only as far as its own picture shows.",
            ),
            ({"left": HALF}, {"right": {"times": 8}}, ("right",), ""),
            (
                {"left": HALF},
                {"left": {"times": 8}},
                ("left",),
                "Left leg: only as far as the picture shows.",
            ),
            ({"left": TURN.limit(20)}, LEGS, ("left", "right"), "Left leg: only as far as we showed you."),
        ],
        ids=[
            "whole way",
            "alike",
            "left only",
            "apart",
            "the other side",
            "one side",
            "set by another drawing",
        ],
    )
    def test_draws_and_says_each_side(self, limits, dose, sides, sentence):
        sheet = self.sheet(item("mat_side_leg_lift", dose, limits=limits))
        first = sheet.items[0]
        assert first.drawn_sides == sides
        said = handout_figures.how_far(first, ("left leg", "right leg"))
        assert said == ([sentence] if sentence else [])
        words = self.html(sheet)
        assert words.count("<svg") - words.count('class="tick"') == 2 * len(sides) + 2
        assert not sentence or f"<b>{sentence}</b>" in words

    def test_without_sides(self):
        sheet = self.sheet(item("mat_pelvic_curl", {"both": {"times": 8}}, limits={"both": HALF}))
        assert "<b>Only as far as the picture shows.</b>" in self.html(sheet)

    def test_names_the_part_that_leads(self):
        pose = {"driver": "r.knee"}
        assert handout_figures._part(pose["driver"], "left") == "Left knee"
        assert handout_figures._part("l.hip", "left") == "" == handout_figures._part("lean", "right")

    def test_the_payload_keeps_it_and_gives_the_same_page(self):
        sheet = self.sheet(item("mat_side_leg_lift", LEGS, limits={"left": lead_of("mat_side_leg_lift", 10)}))
        again = handout.from_json(handout.as_json(sheet))
        assert again == sheet and self.html(again) == self.html(sheet)

    def test_a_payload_from_before_reads_as_the_whole_way(self):
        kept = handout.as_json(self.sheet(item("mat_side_leg_lift", LEGS)))
        for one in kept["items"]:
            del one["limits"]
        read = handout.from_json(kept)
        assert read.items[0].limits == handout.Limits()
        assert self.html(read) == self.html(self.sheet(item("mat_side_leg_lift", LEGS)))

    @pytest.mark.parametrize(
        ("limit", "code"),
        [
            ({"by": "share", "value": "half"}, "not_a_number"),
            ({"by": "share", "value": 0}, "unknown"),
            ({"by": "eye", "value": 50}, "unknown"),
            ({"by": "degrees", "value": 50}, "unknown"),
        ],
        ids=["words", "nothing", "by what", "of what"],
    )
    def test_refuses_what_is_no_limit(self, limit, code):
        with pytest.raises(handout.HandoutError) as refused:
            self.sheet(item("mat_side_leg_lift", LEGS, limits={"both": limit}))
        assert refused.value.problems == (("items.0.limits", code, None),)

    @pytest.mark.parametrize("limit", [{"by": "share"}, {"value": 50}], ids=["no value", "by nothing"])
    def test_a_kept_payload_with_half_a_limit_is_refused(self, limit):
        kept = handout.as_json(self.sheet(item("mat_side_leg_lift", LEGS)))
        kept["items"][0]["limits"] = {"left": limit}
        with pytest.raises(handout.HandoutError, match="payload: missing"):
            handout.from_json(kept)

    def test_what_is_issued_takes_the_clients_limits_along(self, held, as_instructor):
        f.CareProfileFactory(client=held.client, home_equipment=["wall"])
        add(as_instructor, held.client, "mat_clam")
        add(as_instructor, held.client, "mat_bridge_hold", repetitions=4, seconds=12)
        keep(held, held.clam, {"left": HALF, "right": TURN.limit(TURN.end + 9)})
        day = held.attendance.booking.wall_day
        drafted = handout_actions.draft(studio=Studio.objects.get(), client=held.client, today=day)
        limits = {one.exercise: one.limits.as_kept() for one in drafted.payload.items}
        assert limits == {"mat_clam": {"left": HALF}, "mat_bridge_hold": {}}
        home = as_instructor.get(reverse("sessions:home_practice", args=[held.client.public_id]))
        assert "as far as: left half way" in home.content.decode()


def lead_of(key: str, value: float) -> dict:
    return lead(all_poses()[key]).limit(value)
