"""Clients of the demo with something that is not one joint, and those with nothing at all. Plain data."""

from datetime import date

from sessions.demo.people import AVERIL, MARIS, OWNER
from sessions.demo.telling import (
    Aim,
    Flare,
    HomeItem,
    HomeSheet,
    Limit,
    Person,
    Reach,
    Taken,
    Told,
    Turn,
    Work,
)

HOLLIS = Person(
    key="hollis",
    full_name="Hollis Tanager",
    call_name="Hollis",
    born=date(1982, 9, 5),
    telephone="07700 900111",
    emergency=("Bryn Tanager, husband", "07700 900112"),
    form_weeks_ago=48,
    instructor=OWNER,
    aims=(
        Aim(
            "Teach my daughter a cartwheel and do one too",
            ((48, 3), (36, 4), (24, 6), (12, 6), (2, 7)),
            reach=Reach("side_bridge", "both", 90, 6),
        ),
    ),
    home=("towel",),
    size=(1730, 69000),
    work=Work(
        exercises=(
            "ref_foot_toes",
            "mat_hundred",
            "ref_elephant",
            "mat_swan_prep",
            "mat_mermaid",
            "mat_roll_up",
            "ref_short_box_side",
            "ref_knee_stretch_flat",
            "mat_saw",
            "mat_leg_pull_front",
        ),
        behind="left",
        gap=(0.4, 0.2),
        quality=(3.2, 4.6),
        effort=6,
        away=((-31, -28), (-8, -8)),
        said=(
            "My arms will know about it tomorrow.",
            "More of the box, please.",
            "That went quickly.",
            "Half a cartwheel, on grass.",
            "She laughed. I was nearly upside down.",
        ),
        later=(
            "Roll up without the band next time.",
            "Elephant: heels down first, then speed.",
            "Finish with the side work, she asks for it.",
        ),
    ),
    sheets=(
        HomeSheet(-40, "Sunday morning", (HomeItem("mat_roll_up"), HomeItem("mat_mermaid"))),
        HomeSheet(
            -16, "Sunday morning", (HomeItem("mat_plank"), HomeItem("mat_swan_prep"), HomeItem("mat_mermaid"))
        ),
    ),
    measures=(
        Taken("side_bridge", (58, 88), (61, 90), 8),
        Taken("back_saver_sit_and_reach", (6, 7), (6, 7), 1.0),
    ),
)

YUSRA = Person(
    key="yusra",
    full_name="Yusra Penhollow",
    call_name="Yusra",
    born=date(1996, 4, 13),
    telephone="07700 900113",
    emergency=("Dov Marrowby, friend", "07700 900114"),
    form_weeks_ago=38,
    instructor=MARIS,
    told=(Told("hypermobility"),),
    aims=(Aim("Stop locking my knees when I stand all day", ((38, 2), (28, 3), (18, 4), (9, 4), (2, 6))),),
    touch="ask",
    home=("wall", "towel"),
    texts={"wishes": "I danced until I was twenty. I would like to feel where I end."},
    work=Work(
        exercises=(
            "ref_foot_toes",
            "ref_bottom_lift",
            "mat_prone_chest_lift",
            "mat_clam",
            "st_hip_hinge",
            "mat_side_leg_lift",
            "ref_foot_heels",
            "mat_bird_dog",
            "ref_scooter",
        ),
        behind="left",
        gap=(0.9, 0.4),
        quality=(2.2, 4.0),
        effort=5,
        flares=(
            Flare(
                -23,
                -22,
                "The left hip slid on the dance floor.",
                "Small ranges. Nothing at the end of anything.",
            ),
        ),
        away=((-16, -15),),
        said=(
            "Slow is much harder.",
            "I noticed my knees at work today.",
            "Dov counts too fast.",
            "I stopped before the end, by myself.",
        ),
        later=(
            "Knees stay soft at the end of the push; say it before, not after.",
            "Half a count slower than Dov.",
            "Smaller, then she feels it.",
        ),
    ),
    sheets=(
        HomeSheet(-34, "waiting for the bus", (HomeItem("mat_clam"), HomeItem("st_hip_hinge"))),
        HomeSheet(
            -12,
            "waiting for the bus",
            (HomeItem("mat_clam"), HomeItem("st_hip_hinge"), HomeItem("mat_prone_chest_lift")),
        ),
    ),
    measures=(Taken("back_saver_sit_and_reach", (17, 17), (18, 17.5), 1.2),),
)

DOV = Person(
    key="dov",
    full_name="Dov Marrowby",
    call_name="Dov",
    born=date(1990, 12, 19),
    telephone="07700 900114",
    emergency=("Yusra Penhollow, friend", "07700 900113"),
    form_weeks_ago=38,
    instructor=MARIS,
    told=(Told("hypertension_controlled"),),
    aims=(
        Aim(
            "Touch my toes, for once in my life",
            ((38, 0), (28, 1), (18, 2), (9, 4), (2, 5)),
            reach=Reach("back_saver_sit_and_reach", "both", 0, 5),
        ),
    ),
    home=("towel",),
    texts={"tablets": "One tablet for blood pressure in the morning."},
    size=(1860, 88000),
    work=Work(
        exercises=(
            "ref_foot_toes",
            "ref_frog",
            "ref_elephant",
            "mat_chest_lift",
            "st_hip_hinge",
            "ref_knee_stretch_flat",
            "mat_swan_prep",
            "mat_pelvic_curl",
            "mat_spine_twist",
        ),
        behind="right",
        gap=(0.5, 0.3),
        effort=6,
        pain=(0, 0),
        away=((-16, -15),),
        said=(
            "Good.",
            "Forgot to breathe, remembered to laugh.",
            "My toes are nearer.",
            "Shins. I touched my shins.",
        ),
        later=(
            "Let him count aloud, then he breathes.",
            "Rest between the last two, watch his colour.",
            "Hinge from the hip before any reaching for toes.",
        ),
    ),
    measures=(Taken("back_saver_sit_and_reach", (-12, -4.5), (-11, -5), 1.0),),
)

BARNABY = Person(
    key="barnaby",
    full_name="Barnaby Thrushcombe",
    call_name="Barnaby",
    born=date(1961, 10, 27),
    telephone="01632 960145",
    emergency=("Odile Thrushcombe, wife", "07700 900146"),
    form_weeks_ago=42,
    instructor=AVERIL,
    told=(Told("stroke", side="right", long_ago=True), Told("hypertension_controlled")),
    limit=Limit(
        words="Right arm: supported, below the shoulder, no traction",
        by="A. Quernby, physiotherapist",
        weeks_ago=43,
        about="overhead_reach",
        verdict="avoid",
        side="right",
        until_in=-26,
    ),
    turns=(
        Turn(-26, ends="overhead_reach", reason="Its last day has come; a newer letter is on file."),
        Turn(
            -26,
            limit=Limit(
                words="Right arm overhead with the left hand helping; stop at any pain",
                by="A. Quernby, physiotherapist",
                weeks_ago=26,
                about="overhead_reach",
                verdict="modify",
                side="right",
                until_in=20,
            ),
        ),
    ),
    aims=(
        Aim("Pour tea with my right hand", ((42, 1), (32, 2), (22, 2), (14, 3), (5, 5))),
        Aim("Walk to the allotment on my own", ((42, 3), (22, 5), (14, 6), (5, 7))),
    ),
    touch="yes",
    home=("wall", "sturdy_chair"),
    texts={"operations": "A stroke three years ago. Right side."},
    size=(1780, 81000),
    work=Work(
        exercises=(
            "tt_leg_springs_lower",
            "tt_leg_press",
            "mat_pelvic_curl",
            "st_sit_to_stand",
            "mat_knee_fold",
            "st_wall_slide",
            "mat_spine_twist",
            "st_hip_hinge",
            "st_single_leg_stand",
            "mat_clam",
        ),
        behind="right",
        gap=(1.7, 1.1),
        quality=(2.8, 4.0),
        effort=4,
        flares=(
            Flare(
                -19,
                -18,
                "A bad week. The arm is on strike.",
                "Short, seated, what he is proud of. End early.",
            ),
        ),
        away=((-30, -29), (-11, -11)),
        said=(
            "The leg listens. The arm is at lunch.",
            "I got up without thinking of it.",
            "Left hand told right hand what to do.",
            "Half a cup. On the table, mostly in the cup.",
            "Walked to the gate of the allotment.",
        ),
        later=(
            "Right foot placed first, he forgets it when tired.",
            "Left hand helps the right one up the wall.",
            "Rest before he says he needs it.",
        ),
    ),
    sheets=(
        HomeSheet(
            -39, "after the news", (HomeItem("st_sit_to_stand", repetitions=6), HomeItem("mat_pelvic_curl"))
        ),
        HomeSheet(
            -2,
            "after the news",
            (
                HomeItem("st_sit_to_stand", cue="Right foot back, then up."),
                HomeItem("mat_clam"),
                HomeItem("st_wall_slide", change="Left hand under the right elbow.", repetitions=5),
            ),
        ),
    ),
)

SOLVEIG = Person(
    key="solveig",
    full_name="Solveig Mistlethwaite",
    call_name="Solveig",
    born=date(1984, 1, 5),
    telephone="07700 900147",
    emergency=("Aslak Mistlethwaite, father", "01632 960148"),
    form_weeks_ago=21,
    instructor=MARIS,
    told=(Told("fibromyalgia"), Told("si_joint_pain")),
    aims=(Aim("Three ordinary days in a row", ((21, 2), (15, 3), (10, 2), (4, 3))),),
    touch="no",
    home=("wall", "towel", "band"),
    work=Work(
        exercises=(
            "tt_roll_down",
            "tt_leg_springs_lower",
            "mat_breath_supine",
            "mat_cat",
            "mat_spine_twist",
            "st_wall_slide",
            "mat_knee_fold",
            "sp_band_row",
            "mat_pelvic_curl",
        ),
        behind="right",
        gap=(0.6, 0.6),
        quality=(2.6, 3.2),
        effort=3,
        pain=(5, 4),
        flares=(
            Flare(
                -15,
                -14,
                "Everything is loud today, also my skin.",
                "Half an hour of her choosing, then stop.",
            ),
            Flare(-9, -8, "I came. That was the exercise.", "Breath and cat only. Praise for coming."),
        ),
        away=((-12, -12), (-6, -6)),
        said=(
            "I slept six hours.",
            "Less is more, you were right.",
            "Two good days, then the bill.",
            "Softer than when I came.",
        ),
        later=(
            "Ask what today can carry, and do a little less.",
            "Same as last time, nothing new.",
            "Heat pack ready.",
        ),
    ),
    sheets=(
        HomeSheet(
            -18, "in bed, before getting up", (HomeItem("mat_breath_supine"), HomeItem("mat_knee_fold"))
        ),
    ),
    measures=(Taken("side_bridge", (14, 15), (16, 15), 3),),
)

ZOE = Person(
    key="zoe",
    full_name="Zoë Kestlewright",
    call_name="Zoë",
    born=date(2001, 5, 6),
    telephone="07700 900119",
    emergency=("Ffion Kestlewright, mother", "01632 960120"),
    form_weeks_ago=1,
    instructor=MARIS,
    told=None,
)

CLIENTS = (HOLLIS, YUSRA, DOV, BARNABY, SOLVEIG, ZOE)
