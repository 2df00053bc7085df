"""What each client of the demo does, how it goes and what is said. Plain data.

Everything clinical here is made up for the show; the verdicts beside it come from the rule table.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Work:
    """A client's sessions.

    exercises: library ids in order. kept: exercise -> the reason typed for keeping it against an 'avoid'.
    behind: the side that lags in quality. said, later: sentences at the close, taken in turn.
    weak: repetitions fewer on the side that lags, in every third session.
    """

    exercises: tuple[str, ...]
    said: tuple[str, ...]
    later: tuple[str, ...]
    behind: str = ""
    kept: dict | None = None
    effort: int = 4
    pain: int | None = None
    weak: int = 0


WORK = {
    "ottoline": Work(
        exercises=(
            "ref_foot_heels",
            "ref_foot_toes",
            "ref_bottom_lift",
            "ref_frog",
            "mat_clam",
            "ref_scooter",
            "st_hip_hinge",
            "st_wall_slide",
        ),
        behind="left",
        effort=4,
        pain=2,
        said=(
            "The arm feels longer than when I came.",
            "A bit sore at night, no worse than before.",
            "I reached for the seat belt without thinking.",
            "Better when we begin with the legs.",
        ),
        later=(
            "Legs first, arms once she is warm.",
            "Left hand higher on the wall only if the shoulder stays down.",
            "Light spring in the scooter again, then ask her how the night was.",
            "Wall slide: tape at today's height, see if she passes it.",
        ),
    ),
    "imaru": Work(
        exercises=(
            "st_sit_to_stand",
            "ch_foot_heels",
            "ch_foot_toes",
            "mat_clam",
            "mat_bird_dog",
            "sp_band_row",
            "st_wall_side_bend",
        ),
        effort=4,
        said=(
            "Nice to move without being told to lie down.",
            "My back is quiet for the first time this week.",
            "Tired, but a good tired.",
        ),
        later=(
            "Water before we start; offer a seat between the standing ones.",
            "Knees a little wider on the chair, the belly needs room.",
            "Ask how she sleeps, then choose how long we stand.",
        ),
    ),
    "wenna": Work(
        exercises=(
            "ref_foot_heels",
            "ref_bottom_lift",
            "mat_prone_chest_lift",
            "mat_bird_dog",
            "st_hip_hinge",
            "st_single_leg_stand",
            "st_wall_slide",
        ),
        behind="right",
        effort=5,
        said=(
            "I stood on one leg to put my boot on.",
            "My back feels tall.",
            "The right foot wobbles more, as ever.",
        ),
        later=(
            "Hinge with the pole: back stayed long for eight. Ready for a kilo.",
            "Stand near the wall on the right, one finger on it.",
            "Prone lift: chin stays tucked, stop at eight.",
        ),
        weak=1,
    ),
    "bashir": Work(
        exercises=(
            "mat_pelvic_curl",
            "mat_knee_fold",
            "tt_leg_press",
            "tt_leg_springs_lower",
            "mat_side_leg_lift",
            "st_hip_hinge",
            "st_wall_slide",
        ),
        behind="right",
        kept={
            "tt_leg_press": "Bar set so that the hip stays well under a right angle, measured at the start; "
            "knees no nearer than hip width. Agreed with his physiotherapist by telephone.",
        },
        effort=4,
        pain=1,
        said=(
            "To the corner shop and back, no stick.",
            "The hip pulls a little, it does not hurt.",
            "I could go on.",
        ),
        later=(
            "Check the bar height before he lies down. Cushion between the knees when he turns.",
            "Right leg two repetitions fewer, then ask.",
            "Sit to put shoes on, chair by the door.",
        ),
        weak=2,
    ),
    "teodor": Work(
        exercises=(
            "ref_foot_toes",
            "ref_foot_heels",
            "ref_scooter",
            "mat_bridge_hold",
            "mat_clam",
            "st_single_leg_stand",
            "st_split_squat",
        ),
        behind="right",
        effort=6,
        said=(
            "Six kilometres on Sunday, ankle fine.",
            "Stiff going down stairs in the morning.",
            "I can feel the right one thinking.",
        ),
        later=(
            "Right heel drifts in after eight. Start on the flat, not the step.",
            "Eyes open on the right leg, closed on the left.",
            "Ask about Sunday's run before the split squat.",
        ),
        weak=1,
    ),
    "hollis": Work(
        exercises=(
            "mat_hundred",
            "mat_roll_up",
            "ref_foot_toes",
            "ref_short_box_side",
            "ref_elephant",
            "ref_knee_stretch_flat",
            "mat_swan_prep",
            "mat_mermaid",
        ),
        effort=6,
        said=("More of the box, please.", "My arms will know about it tomorrow.", "That went quickly."),
        later=(
            "Roll up without the band next time.",
            "Elephant: heels down first, then speed.",
            "Ready for the side work a spring heavier.",
        ),
    ),
    "yusra": Work(
        exercises=(
            "ref_foot_toes",
            "ref_bottom_lift",
            "mat_prone_chest_lift",
            "mat_clam",
            "mat_side_leg_lift",
            "st_hip_hinge",
        ),
        behind="left",
        effort=5,
        said=("I noticed my knees at work today.", "Slow is much harder.", "Dov counts too fast."),
        later=(
            "Knees stay soft at the end of the push; say it before, not after.",
            "Half a count slower than Dov.",
            "Smaller circles, then she feels them.",
        ),
    ),
    "dov": Work(
        exercises=(
            "ref_foot_toes",
            "ref_frog",
            "mat_chest_lift",
            "ref_knee_stretch_flat",
            "mat_swan_prep",
            "st_hip_hinge",
        ),
        effort=6,
        pain=0,
        said=("Forgot to breathe, remembered to laugh.", "My toes are nearer.", "Good."),
        later=(
            "Let him count aloud, then he breathes.",
            "Rest between the last two, watch his colour.",
            "Hinge from the hip before any reaching for toes.",
        ),
    ),
    "sunniva": Work(
        exercises=(
            "tt_leg_springs_lower",
            "tt_roll_down",
            "mat_pelvic_curl",
            "mat_chest_lift",
            "mat_spine_twist",
            "mat_bird_dog",
            "st_hip_hinge",
        ),
        behind="left",
        effort=4,
        pain=1,
        said=("Ten minutes of weeding, on a cushion.", "The knee clicks and means nothing by it.", "Lovely."),
        later=(
            "Pad under the left knee from the start.",
            "Roll down: half way is far enough when she is stiff.",
            "Ask about kneeling, then decide on the bird dog.",
        ),
    ),
    "petra": Work(
        exercises=(
            "mat_knee_fold",
            "mat_clam",
            "mat_side_leg_lift",
            "mat_bird_dog",
            "ch_foot_heels",
            "st_hip_hinge",
            "st_wall_slide",
        ),
        behind="left",
        effort=4,
        pain=2,
        said=(
            "Got the left shoe on without the chair.",
            "Drove two hours yesterday and paid for it.",
            "Fine while I move, stiff when I stop.",
        ),
        later=(
            "Hinge before anything on the floor. Nothing rounded.",
            "Ask about the drive; if stiff, begin standing.",
            "Bird dog: left leg only as far as the pelvis stays.",
        ),
    ),
}

# (week, client, weekday) -> a sign that came up, in which exercise, on which side, and what was noted later.
SIGNS = {
    (-3, "teodor", 0): (
        "ref_scooter",
        "tingling",
        "right",
        "Tingling along the outer foot, gone after a minute of sitting. He will tell his physiotherapist.",
    ),
}

# What is written at the close of a session that a sign has ended.
STOPPED = {
    "client_words": "Better now that I sit.",
    "next_time": "Stopped early. Ask about the foot before anything else.",
    "leave_out": "Scooter on the right until the physiotherapist has looked.",
}


@dataclass(frozen=True)
class HomeItem:
    """An exercise taken home: what is changed in it, and the cue in words for the client."""

    exercise: str
    change: str = ""
    cue: str = ""
    per_week: int = 7
    repetitions: int | None = None


@dataclass(frozen=True)
class HomeSheet:
    """A home practice: when it is put together, whether it is issued, when the client does it."""

    week: int
    day: int
    time: str
    instructor: str
    items: tuple[HomeItem, ...]
    moment: str
    issued: bool = True


HOME = {
    "sunniva": HomeSheet(
        week=-2,
        day=2,
        time="09:12",
        instructor="linnet",
        moment="after the morning tea",
        items=(
            HomeItem("mat_pelvic_curl", cue="Peel up slowly, lay down more slowly."),
            HomeItem("mat_bird_dog", change="Put a folded towel under the left knee.", per_week=3),
            HomeItem("st_hip_hinge", cue="Shut the drawer behind you."),
        ),
    ),
    "ottoline": HomeSheet(
        week=-1,
        day=2,
        time="10:12",
        instructor="maris",
        moment="while the kettle boils",
        items=(
            HomeItem("mat_pelvic_curl", cue="Arms rest, palms up."),
            HomeItem("st_hip_hinge", cue="Long back, like a lid that opens."),
            HomeItem(
                "st_wall_slide",
                change="Left hand: stop at the tape on your wall.",
                cue="Elbows heavy, neck long.",
                repetitions=6,
            ),
        ),
    ),
    "wenna": HomeSheet(
        week=-1,
        day=5,
        time="11:20",
        instructor="maris",
        moment="before the news",
        issued=False,
        items=(
            HomeItem("st_hip_hinge", cue="Sit back on a high stool that is not there."),
            HomeItem("st_wall_slide"),
        ),
    ),
}

# client -> a condition that comes up later: week, day, time, by whom, fields of the flag, days before.
LATER_FLAGS = {
    "sunniva": {
        "week": -1,
        "day": 6,
        "time": "13:30",
        "instructor": "linnet",
        "condition": "wrist_hand_injury_acute",
        "side": "left",
        "days_before": 1,
        "note": "Slipped on the cellar stairs, landed on the hand. Rang to say so; seen by her doctor on Saturday.",
    },
}
