"""A handout that shows more of a movement than its client is to do by now is called back."""

import datetime as dt

import pytest
from django.urls import reverse

from library.body import all_poses
from library.body.limits import lead
from sessions import handout
from sessions.actions import handouts as handout_actions
from sessions.actions import own_ways as actions
from sessions.demo import factories as f
from sessions.demo.factories.home import printed
from sessions.models import Handout, HomePractice, OwnWay, is_called_back, open_call_backs
from sessions.shortened import is_shorter, shortened
from studio.actions.audit import Actor
from studio.models import AuditEntry, Studio
from tests.rows import each
from tests.sessions.handout_samples import handout_values, item
from tests.sessions.home_steps import add, page, url

TODAY = dt.date(2026, 11, 25)
HALF, QUARTER, MOST = ({"by": "share", "value": value} for value in (50, 25, 75))
CLAM = all_poses()["mat_clam"]
TURN = lead(CLAM)
LEGS = {"left": {"times": 8}, "right": {"times": 8}, "means": "working_leg"}
MIDWAY = TURN.limit(TURN.value(0.5))
ELSEWHERE = {"by": "degrees", "value": 40.0, "of": "r.knee", "from": 90.0}


STOPS = [
    # limit before, limit now, shorter
    ("newly set", None, HALF, True),
    ("lowered", HALF, QUARTER, True),
    ("raised", QUARTER, HALF, False),
    ("taken away", HALF, None, False),
    ("the same", HALF, HALF, False),
    ("the same counted another way", HALF, MIDWAY, False),
    ("lower counted another way", MIDWAY, QUARTER, True),
    ("beyond the end of the movement", None, TURN.limit(TURN.end + 9), False),
    ("all of it in per cent", None, {"by": "share", "value": 100}, False),
    ("nothing of it", None, TURN.limit(TURN.start), True),
    ("set by what does not lead it", None, ELSEWHERE, True),
    ("what could not be told then and is the same", ELSEWHERE, ELSEWHERE, False),
    ("what could not be told then, in per cent now", ELSEWHERE, HALF, True),
]


@each("before, now, shorter", [row[1:] for row in STOPS], [row[0] for row in STOPS])
def test_what_stops_a_movement_earlier(before, now, shorter):
    assert is_shorter(CLAM, before, now) is shorter


SIDES = [
    # dose, limits on the page, limits now, sides that go less far
    ("both newly set", LEGS, {}, {"both": HALF}, ("left", "right")),
    ("one newly set", LEGS, {}, {"left": HALF}, ("left",)),
    ("the other side", LEGS, {"left": HALF}, {"right": HALF}, ("right",)),
    ("from both to one", LEGS, {"both": HALF}, {"left": HALF}, ()),
    ("one lower, one higher", LEGS, {"both": HALF}, {"left": QUARTER, "right": MOST}, ("left",)),
    ("a side that is not on it", {"left": {"times": 8}}, {}, {"right": HALF}, ()),
    ("the side that is on it", {"right": {"times": 8}}, {}, {"both": HALF}, ("right",)),
    ("raised", LEGS, {"both": QUARTER}, {"both": HALF}, ()),
]


@each("dose, limits, now, sides", [row[1:] for row in SIDES], [row[0] for row in SIDES])
def test_which_sides_of_a_page_go_less_far(dose, limits, now, sides):
    found = shortened(_page(dose, limits), {"mat_clam": now})
    assert [one.sides for one in found] == ([sides] if sides else [])


def _page(dose=LEGS, limits=None) -> tuple:
    clam = item("mat_side_leg_lift", dose, limits=limits or {}, exercise="mat_clam", pose=CLAM)
    other = item("mat_pelvic_curl", {"both": {"times": 6}})
    return handout.build(**handout_values(items=[clam, other])).items


def test_work_without_sides_goes_less_far_as_a_whole():
    (found,) = shortened(_page(), {"mat_pelvic_curl": {"both": HALF}})
    assert (found.key, found.sides, found.limits_of(None)) == ("mat_pelvic_curl", (None,), (None, HALF))


CLOSED = [
    # limits when each was closed, limits now, open
    ("as it was closed", [{"both": HALF}], {"both": HALF}, False),
    ("lowered further", [{"both": HALF}], {"both": QUARTER}, True),
    ("raised a little since", [{"both": QUARTER}], {"both": HALF}, False),
    ("another side since", [{"left": HALF}], {"left": HALF, "right": HALF}, True),
    ("closed the second time", [{"both": HALF}, {"both": QUARTER}], {"both": QUARTER}, False),
]


@each("closed, now, is_open", [row[1:] for row in CLOSED], [row[0] for row in CLOSED])
def test_what_somebody_dealt_with_stays_so_until_it_is_lowered_further(closed, now, is_open):
    found = shortened(_page(), {"mat_clam": now}, [{"mat_clam": one} for one in closed])
    assert bool(found) is is_open
    assert shortened(_page(), {"mat_clam": now}, [{"mat_other": one} for one in closed])


def at(name, made) -> str:
    return reverse(f"sessions:{name}", args=[made.public_id])


@pytest.mark.django_db
@pytest.mark.usefixtures("now")
class TestOnScreen:
    @pytest.fixture
    def made(self):
        return f.HandoutFactory(
            client__full_name="Bashir Lanternby", exercises=["mat_pelvic_curl", "mat_clam"]
        )

    @staticmethod
    def keep(made, instructor, limit, key="mat_clam"):
        exercise = f.ExerciseFactory(key=key)
        kept = OwnWay.objects.of(made.client_id, exercise)
        return actions.set_limit(
            actor=Actor(person=instructor),
            client=made.client,
            exercise=exercise,
            limit=limit,
            expected=kept.version if kept else 0,
        )

    def test_it_is_said_wherever_call_backs_are_and_why_on_its_page(self, as_instructor, instructor, made):
        before = bytes(made.pdf), made.payload
        name = made.payload["items"][1]["name"]
        self.keep(made, instructor, {"left": HALF})
        client_page = reverse("sessions:client", args=[made.client.public_id])
        words = f"Now less far: {name}"
        for address, more in (
            (reverse("sessions:today"), ""),
            (client_page, " (left, the page says the whole way, now half way)"),
        ):
            shown = page(as_instructor.get(address))
            assert "Call back the handout of 25 November." in shown and f"{words}{more}." in shown
        shown = page(as_instructor.get(at("handout", made)))
        section = shown[shown.index("Call this one back") : shown.index('id="on-it"')]
        assert "Now less far" in section and name in section and "Pelvic curl" not in section
        assert "The page says: <b>the whole way</b>" in section and "Now: <b>half way</b>" in section
        assert section.count('class="fg"') == 2
        made.refresh_from_db()
        assert (bytes(made.pdf), made.payload) == before

    @pytest.mark.parametrize(
        "limit",
        [{}, {"both": TURN.limit(TURN.end + 9)}],
        ids=["the whole way", "beyond the end"],
    )
    def test_what_changes_nothing_calls_nothing_back(self, instructor, made, limit):
        self.keep(made, instructor, limit)
        assert open_call_backs(instructor, TODAY) == []

    def test_another_exercise_or_client_calls_nothing_back(self, instructor, made):
        self.keep(made, instructor, {"both": HALF}, key="mat_bird_dog")
        self.keep(f.HandoutFactory(exercises=["mat_bird_dog", "mat_pelvic_curl"]), instructor, {"both": HALF})
        assert open_call_backs(instructor, TODAY) == []

    def test_the_desk_is_told_to_ask_first_and_not_why(self, as_desk, desk, instructor, made):
        assert "Ask an instructor" not in page(as_desk.get(at("handout", made)))
        self.keep(made, instructor, {"left": HALF})
        shown = page(as_desk.get(at("handout", made)))
        assert "Ask an instructor before printing this one." in shown
        assert "less far" not in shown and "half way" not in shown and "Call this one back" not in shown
        assert open_call_backs(desk, TODAY) == []
        assert is_called_back(made, TODAY)

    def test_flags_and_limits_are_told_and_closed_together(self, as_instructor, instructor, made):
        self.keep(made, instructor, {"left": HALF})
        f.FlagFactory(client=made.client, condition="osteoporosis")
        flagged = f.HandoutFactory(
            client=made.client, exercises=["mat_spine_stretch", "mat_clam"], replaces=made
        )
        (found,) = open_call_backs(instructor, TODAY)
        assert found.handout == flagged
        assert found.verdicts == {"mat_spine_stretch": "avoid"} and found.limits == {
            "mat_clam": {"left": HALF}
        }
        assert "Make the new one now" not in page(as_instructor.get(at("handout", flagged)))
        as_instructor.post(at("call_back", flagged), {"reason": "Rang: crossed both out."})
        assert open_call_backs(instructor, TODAY) == []
        self.keep(made, instructor, {"left": QUARTER})
        (again,) = open_call_backs(instructor, TODAY)
        assert again.exercises == [] and again.limits == {"mat_clam": {"left": QUARTER}}

    def test_closed_with_a_reason_it_stays_closed_until_lowered_further(
        self, as_instructor, instructor, made
    ):
        self.keep(made, instructor, {"left": HALF})
        as_instructor.post(at("call_back", made), {"reason": "Showed the new end, drew it on the page."})
        assert made.call_backs_closed.get().limits == {"mat_clam": {"left": HALF}}
        assert open_call_backs(instructor, TODAY) == [] and not is_called_back(made, TODAY)
        self.keep(made, instructor, {"left": MOST})
        assert open_call_backs(instructor, TODAY) == []
        self.keep(made, instructor, {"left": QUARTER})
        assert len(open_call_backs(instructor, TODAY)) == 1

    def test_where_it_is_kept_the_page_says_so_at_once(self, as_instructor, made):
        exercise = f.ExerciseFactory(key="mat_clam")
        address = reverse("sessions:own_way", args=[made.client.public_id, exercise.public_id])
        body = {"version": 0, "do": "limit", "number_left": "50", "by_left": "share"}
        shown = page(as_instructor.post(address, body, headers={"HX-Request": "true"}))
        assert "The handout of 25 November shows more than this." in shown and at("handout", made) in shown
        raised = {**body, "version": 1, "number_left": ""}
        assert "shows more" not in page(as_instructor.post(address, raised, headers={"HX-Request": "true"}))
        plain = as_instructor.post(address, {**body, "version": 2}, follow=True)
        assert "shows more than this" in page(plain)


@pytest.mark.django_db
class TestTheNextOne:
    @pytest.fixture
    def issued(self, as_instructor, instructor, now, monkeypatch):
        """A handout of two exercises, issued from the client's sheet."""
        monkeypatch.setattr("sessions.pdf.available", lambda **_: (False, "none here"))
        client = f.ClientFactory(call_name="Bashir")
        f.CareProfileFactory(client=client, home_equipment=["wall"])
        f.StudioFactory()
        add(as_instructor, client, "mat_clam")
        add(as_instructor, client, "mat_bridge_hold", repetitions=4, seconds=12)
        as_instructor.post(url(client, "home_issue"), {"version": HomePractice.objects.get().version})
        return Handout.objects.get()

    keep = staticmethod(TestOnScreen.keep)

    def test_comes_with_one_touch_and_ends_it(self, as_instructor, instructor, issued):
        self.keep(issued, instructor, {"left": HALF})
        shown = page(as_instructor.get(at("handout", issued)))
        assert "Make the new one now" in shown
        version = HomePractice.objects.get().version
        assert f'name="version" value="{version}"' in shown
        assert f'name="like" value="{issued.public_id}"' in shown
        body = {"version": version, "like": issued.public_id}
        answer = as_instructor.post(url(issued.client, "home_issue"), body)
        new = Handout.objects.current().get()
        assert answer.url == at("handout", new) and new.replaces == issued
        assert new.payload["items"][0]["limits"]["left"]["value"] == 50
        assert open_call_backs(instructor, TODAY) == []
        assert AuditEntry.objects.filter(action="handout.issued").count() == 2

    def test_is_not_issued_unseen_where_more_has_changed_since_the_button_came(
        self, as_instructor, instructor, issued
    ):
        self.keep(issued, instructor, {"left": HALF})
        Studio.objects.update(telephone="01632 960777")
        body = {"version": HomePractice.objects.get().version, "like": issued.public_id}
        answer = as_instructor.post(url(issued.client, "home_issue"), body)
        assert answer.url == url(issued.client, "home_preview") and Handout.objects.get() == issued
        assert "More has changed on it than how far it goes." in page(as_instructor.get(answer.url))

    def test_is_like_no_handout_of_somebody_else(self, as_instructor, issued):
        other = f.HandoutFactory(number=99)
        body = {"version": HomePractice.objects.get().version, "like": other.public_id}
        assert as_instructor.post(url(issued.client, "home_issue"), body).status_code == 404

    def test_is_looked_over_first_where_more_would_change(self, as_instructor, instructor, issued):
        self.keep(issued, instructor, {"left": HALF})
        add(as_instructor, issued.client, "mat_clam", repetitions=5)
        shown = page(as_instructor.get(at("handout", issued)))
        assert "Make the new one now" not in shown and "Look the new one over" in shown
        assert url(issued.client, "home_preview") in shown

    def test_is_put_together_where_it_needs_something_first(self, as_instructor, instructor, issued):
        self.keep(issued, instructor, {"left": HALF})
        as_instructor.post(
            url(issued.client, "home_remove"),
            {
                "exercise": f.ExerciseFactory(key="mat_clam").public_id,
                "version": HomePractice.objects.get().version,
            },
        )
        shown = page(as_instructor.get(at("handout", issued)))
        assert "Make the new one now" not in shown and "Put a new one together" in shown

    def test_the_limit_it_was_issued_with_calls_nothing_back(self, as_instructor, instructor, issued):
        self.keep(issued, instructor, {"left": HALF, "right": MOST})
        as_instructor.post(url(issued.client, "home_issue"), {"version": HomePractice.objects.get().version})
        assert open_call_backs(instructor, TODAY) == []
        self.keep(issued, instructor, {"left": MOST, "right": MOST})
        assert open_call_backs(instructor, TODAY) == []
        self.keep(issued, instructor, {"left": MOST, "right": HALF})
        (found,) = open_call_backs(instructor, TODAY)
        assert [one.sides for one in found.shortened] == [("right",)]

    def test_pages_are_not_read_where_no_limit_is_another(
        self, as_instructor, instructor, issued, django_assert_num_queries
    ):
        self.keep(issued, instructor, {"left": HALF})
        as_instructor.post(url(issued.client, "home_issue"), {"version": HomePractice.objects.get().version})
        with django_assert_num_queries(4):  # handouts, what was closed, flags, limits
            assert open_call_backs(instructor, TODAY) == []

    def test_a_draft_is_the_page_but_for_its_limits(self, instructor, issued):
        studio = Studio.objects.get()
        self.keep(issued, instructor, {"left": HALF})
        made = handout_actions.draft(studio=studio, client=issued.client, today=TODAY)
        assert made.differs_in_limits_only(issued.payload)
        for name, value in (("when", "after a walk"), ("large", True), ("telephone", "01632 960999")):
            assert issued.payload[name] != value
            assert not made.differs_in_limits_only({**issued.payload, name: value})
        other = printed(9, issued.client, TODAY, ["mat_clam", "mat_pelvic_curl"])
        assert not made.differs_in_limits_only(other)


@pytest.mark.django_db
@pytest.mark.parametrize("count", [2, 12])
def test_the_queries_stay_the_same_however_many_there_are(instructor, now, count, django_assert_num_queries):
    for _ in range(count):
        TestOnScreen.keep(f.HandoutFactory(), instructor, {"left": HALF})
    with django_assert_num_queries(7):
        assert len(open_call_backs(instructor, TODAY)) == count
