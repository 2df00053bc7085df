"""Clients of the demo whose hip, knee, ankle or foot is what they came with. Plain data."""

from datetime import date

from sessions.demo.people import AVERIL, CORIN
from sessions.demo.telling import (
    Aim,
    Flare,
    HomeItem,
    HomeSheet,
    Limit,
    Person,
    Reach,
    Stopped,
    Taken,
    Told,
    Turn,
    Work,
)

BASHIR = Person(
    key="bashir",
    full_name="Bashir Lanternby",
    call_name="Bashir",
    born=date(1954, 6, 17),
    telephone="01632 960107",
    emergency=("Noor Lanternby, wife", "01632 960108"),
    form_weeks_ago=50,
    instructor=AVERIL,
    told=(Told("hip_osteoarthritis", side="right"),),
    turns=(
        Turn(-5, ends="hip_osteoarthritis", reason="The joint was replaced."),
        Turn(
            -5,
            told=Told("hip_replacement_posterior", side="right", weeks_ago=11),
            note="Done from behind, he says.",
        ),
    ),
    aims=(
        Aim("Walk to the harbour and back", ((50, 4), (38, 3), (26, 2), (15, 1), (5, 2), (3, 4), (1, 5))),
        Aim("Cut my own toenails", ((26, 1), (3, 2))),
    ),
    home=("wall", "sturdy_chair"),
    texts={"operations": "None yet; the right hip is on a list."},
    work=Work(
        exercises=(
            "mat_pelvic_curl",
            "tt_leg_press",
            "tt_leg_springs_lower",
            "mat_knee_fold",
            "st_hip_hinge",
            "st_wall_slide",
            "mat_side_leg_lift",
            "st_single_leg_stand",
            "mat_bridge_hold",
        ),
        behind="right",
        gap=(1.4, 0.9),
        quality=(2.6, 3.8),
        kept={
            "tt_leg_press": "Bar set so that the hip stays well under a right angle, measured at the start; "
            "knees no nearer than hip width. Agreed with his physiotherapist by telephone.",
        },
        effort=4,
        pain=(5, 1),
        flares=(
            Flare(
                -20,
                -17,
                "The hip keeps the whole house awake.",
                "What he can do lying. Ask first, stop early.",
            ),
        ),
        away=((-15, -5), (-33, -32)),
        said=(
            "Down the steps like a crab, as usual.",
            "The harbour has moved further away.",
            "They have given me a date.",
            "To the corner shop and back, no stick.",
        ),
        later=(
            "Right leg two repetitions fewer, then ask.",
            "Check the bar height before he lies down.",
            "Sit to put shoes on, chair by the door.",
        ),
    ),
    sheets=(
        HomeSheet(-47, "after breakfast", (HomeItem("mat_pelvic_curl"), HomeItem("st_hip_hinge"))),
        HomeSheet(
            -3, "after breakfast", (HomeItem("mat_pelvic_curl", repetitions=6), HomeItem("st_wall_slide"))
        ),
    ),
)

TEODOR = Person(
    key="teodor",
    full_name="Teodor Quillfeather",
    call_name="Teodor",
    born=date(1988, 1, 28),
    telephone="07700 900109",
    emergency=("Ida Quillfeather, sister", "07700 900110"),
    form_weeks_ago=24,
    instructor=CORIN,
    told=(Told("ankle_sprain", side="right", weeks_ago=27),),
    aims=(
        Aim(
            "Ten kilometres without thinking about the ankle",
            ((24, 1), (18, 3), (11, 5), (9, 4), (2, 7)),
            reach=Reach("knee_to_wall_lunge", "right", 11.5, 9),
        ),
        Aim("Beat my sister over five", ((24, 2), (6, 5))),
    ),
    touch="no",
    home=("wall", "band", "towel"),
    texts={"hurts": "Right ankle, on uneven ground."},
    size=(1840, 74000),
    work=Work(
        exercises=(
            "ref_foot_toes",
            "ref_foot_heels",
            "ref_scooter",
            "mat_bridge_hold",
            "st_single_leg_stand",
            "mat_clam",
            "st_split_squat",
            "ref_bottom_lift",
            "mat_side_leg_lift",
        ),
        behind="right",
        gap=(1.6, 0.2),
        quality=(2.8, 4.4),
        effort=6,
        flares=(
            Flare(
                -10, -9, "I ran on the beach. It was a mistake.", "Flat ground only. Swelling? Look first."
            ),
        ),
        away=((-14, -14),),
        stopped=(
            Stopped(
                -11,
                "ref_scooter",
                "tingling",
                "right",
                "Tingling along the outer foot, gone after a minute of sitting. He will tell his physiotherapist.",
                "Stopped early. Ask about the foot before anything else.",
                "Scooter on the right until the physiotherapist has looked.",
                added=(
                    -8,
                    "His physiotherapist has looked at the foot and has nothing against the scooter, he says.",
                ),
            ),
        ),
        said=(
            "Stiff going down stairs in the morning.",
            "I can feel the right one thinking.",
            "Three kilometres on grass, ankle fine.",
            "Six kilometres on Sunday, did not think of it.",
        ),
        later=(
            "Right heel drifts in after eight. Start on the flat, not the step.",
            "Eyes open on the right leg, closed on the left.",
            "Ask about Sunday's run before the split squat.",
        ),
    ),
    sheets=(
        HomeSheet(-22, "before the shower", (HomeItem("st_single_leg_stand"), HomeItem("mat_bridge_hold"))),
        HomeSheet(
            -6,
            "before the shower",
            (HomeItem("st_single_leg_stand"), HomeItem("st_split_squat", per_week=3), HomeItem("mat_clam")),
        ),
    ),
    measures=(
        Taken("knee_to_wall_lunge", (12, 12.5), (6, 11), 0.5, every=4),
        Taken("side_bridge", (62, 68), (58, 66), 7),
    ),
)

JORY = Person(
    key="jory",
    full_name="Jory Wexcomber",
    call_name="Jory",
    born=date(1999, 9, 9),
    telephone="07700 900137",
    emergency=("Hedra Wexcomber, mother", "01632 960138"),
    form_weeks_ago=28,
    instructor=CORIN,
    told=(Told("acl_reconstruction", side="right", weeks_ago=34),),
    limit=Limit(
        words="No loaded straightening of the last part of the knee, no hops",
        by="F. Mossendew, physiotherapist",
        weeks_ago=29,
        about="knee_locked_extension_loaded",
        verdict="avoid",
        side="right",
        until_in=-16,
    ),
    turns=(
        Turn(
            -16,
            ends="knee_locked_extension_loaded",
            reason="Its last day has come; he was seen again and may go on.",
        ),
    ),
    aims=(
        Aim(
            "Five-a-side by the spring",
            ((28, 0), (20, 1), (12, 3), (5, 5)),
            reach=Reach("knee_to_wall_lunge", "right", 11, 14),
        ),
        Aim(
            "Trust the right leg on stairs",
            ((28, 2), (14, 6), (7, 8)),
            (6, "reached"),
            Reach("knee_to_wall_lunge", "right", 9, -5),
        ),
    ),
    home=("wall", "band", "step"),
    texts={"operations": "Right knee, the cross one, tendon from the same leg."},
    size=(1790, 76000),
    work=Work(
        exercises=(
            "ref_foot_heels",
            "ref_foot_toes",
            "ref_bottom_lift",
            "ref_scooter",
            "st_single_leg_stand",
            "mat_bridge_hold",
            "mat_side_leg_lift",
            "st_split_squat",
            "mat_clam",
            "ref_knee_stretch_flat",
        ),
        behind="right",
        gap=(1.8, 0.5),
        quality=(3.0, 4.5),
        effort=6,
        pain=(2, 0),
        flares=(
            Flare(
                -18,
                -17,
                "It filled up after the wedding. I danced.",
                "Look at the knee first. No single leg work.",
            ),
        ),
        said=(
            "The thigh is half of the other one.",
            "Stairs, no rail.",
            "I forgot which one it was, for a minute.",
            "Kicked a ball against a wall.",
        ),
        later=(
            "Right knee over the second toe, mirror in front.",
            "Same number both sides, right side first.",
            "Ask how it was the day after.",
        ),
    ),
    sheets=(
        HomeSheet(-25, "after work", (HomeItem("mat_bridge_hold"), HomeItem("mat_side_leg_lift"))),
        HomeSheet(
            -9,
            "after work",
            (
                HomeItem("st_single_leg_stand"),
                HomeItem("mat_bridge_hold"),
                HomeItem("st_split_squat", per_week=3),
            ),
        ),
    ),
    measures=(Taken("knee_to_wall_lunge", (11, 11.5), (7.5, 10.5), 0.5, every=4),),
)

NERYS = Person(
    key="nerys",
    full_name="Nerys Appleholt",
    call_name="Nerys",
    born=date(1975, 5, 17),
    telephone="07700 900139",
    emergency=("Gwil Appleholt, husband", "07700 900140"),
    form_weeks_ago=17,
    instructor=CORIN,
    told=(Told("plantar_heel_pain", side="left"),),
    aims=(
        Aim(
            "First steps in the morning without a word I regret",
            ((17, 2), (11, 3), (5, 5), (1, 6)),
            reach=Reach("knee_to_wall_lunge", "left", 9.5, 5),
        ),
    ),
    home=("wall", "towel"),
    size=(1660, 68000),
    work=Work(
        exercises=(
            "ref_foot_heels",
            "ref_foot_toes",
            "ref_bottom_lift",
            "ref_elephant",
            "st_single_leg_stand",
            "ref_scooter",
            "mat_bridge_hold",
            "st_hip_hinge",
            "mat_clam",
        ),
        behind="left",
        gap=(1.0, 0.5),
        effort=5,
        pain=(6, 2),
        flares=(Flare(-8, -7, "New shoes. Old pain.", "Shoes first: look at them. Heels down slowly, few."),),
        said=("The first ten steps are the worst.", "Five steps now.", "I stood at a concert."),
        later=(
            "Heels lower slowly, count to four.",
            "Left foot first while she is fresh.",
            "Ask about the first steps.",
        ),
    ),
    sheets=(
        HomeSheet(
            -14, "before the first step", (HomeItem("mat_bridge_hold"), HomeItem("st_single_leg_stand"))
        ),
    ),
    measures=(Taken("knee_to_wall_lunge", (7, 9.5), (9.5, 10), 0.5, every=4),),
)

DESMOND = Person(
    key="desmond",
    full_name="Desmond Larchfield",
    call_name="Desmond",
    born=date(1959, 8, 8),
    telephone="01632 960141",
    emergency=("Beryl Larchfield, wife", "01632 960142"),
    form_weeks_ago=45,
    instructor=CORIN,
    told=(Told("hip_osteoarthritis", side="left"), Told("diabetes_insulin")),
    aims=(Aim("Nine holes, carrying my own bag", ((45, 2), (33, 3), (22, 5), (12, 4), (4, 6))),),
    home=("wall", "sturdy_chair", "towel"),
    texts={"tablets": "Insulin, four times a day. I carry glucose tablets."},
    size=(1760, 91000),
    work=Work(
        exercises=(
            "ref_foot_heels",
            "ref_foot_toes",
            "ref_frog",
            "ref_bottom_lift",
            "st_sit_to_stand",
            "st_hip_hinge",
            "mat_spine_twist",
            "st_single_leg_stand",
            "mat_clam",
        ),
        behind="left",
        gap=(1.1, 0.6),
        effort=4,
        pain=(4, 2),
        flares=(
            Flare(
                -14,
                -11,
                "The hip went on holiday with me.",
                "Shorter range on the left, ask about the night.",
            ),
        ),
        away=((-39, -36), (-24, -24)),
        said=(
            "Socks are still a sport.",
            "Six holes, and a sit down.",
            "The left one swings again.",
            "Seven holes. I counted.",
        ),
        later=(
            "Has he eaten? Ask before the first spring.",
            "Left leg inside its range, no pushing.",
            "A rest after the sit to stand.",
        ),
    ),
    sheets=(
        HomeSheet(-42, "before lunch", (HomeItem("st_sit_to_stand"), HomeItem("st_hip_hinge"))),
        HomeSheet(
            -20,
            "before lunch",
            (HomeItem("st_sit_to_stand"), HomeItem("mat_clam"), HomeItem("mat_spine_twist")),
        ),
    ),
    measures=(Taken("back_saver_sit_and_reach", (-9, -6), (-7, -5.5), 1.2, every=8),),
)

CLIENTS = (BASHIR, TEODOR, JORY, NERYS, DESMOND)
