"""Clients of the demo whose bones or joints as a whole are what they came with, and the oldest one. Plain data."""

from datetime import date

from sessions.demo.people import AVERIL, MARIS, OWNER
from sessions.demo.telling import (
    Aim,
    Flare,
    HomeItem,
    HomeSheet,
    Person,
    Reach,
    Stopped,
    Taken,
    Told,
    Turn,
    Work,
)

WENNA = Person(
    key="wenna",
    full_name="Wenna Oakapple",
    call_name="Wenna",
    born=date(1957, 11, 2),
    telephone="01632 960105",
    emergency=("Perran Oakapple, son", "07700 900106"),
    form_weeks_ago=60,
    instructor=MARIS,
    told=(Told("osteoporosis"),),
    aims=(
        Aim(
            "Get up off the floor without holding on",
            ((60, 2), (48, 3), (36, 4), (24, 4), (12, 6), (1, 7)),
            reach=Reach("knee_to_wall_lunge", "both", 9, 4),
        ),
        Aim("Stand on one leg to put my boots on", ((60, 3), (36, 4), (20, 6)), (18, "reached")),
    ),
    home=("wall", "sturdy_chair", "towel"),
    texts={"tablets": "A weekly tablet for my bones, calcium."},
    not_sure=("cardio_metabolic",),
    size=(1590, 58000),
    work=Work(
        exercises=(
            "ref_foot_heels",
            "ref_bottom_lift",
            "mat_prone_chest_lift",
            "mat_bird_dog",
            "st_hip_hinge",
            "st_single_leg_stand",
            "mat_spine_twist",
            "st_wall_slide",
            "ref_scooter",
            "mat_dart",
            "st_sit_to_stand",
            "mat_clam",
        ),
        lifts={"mat_spine_twist": ("smaller_range",)},
        rests={"mat_clam": 30, "mat_dart": 30},
        behind="right",
        gap=(1.2, 0.5),
        effort=5,
        flares=(
            Flare(-31, -30, "A cold, and the cough goes into my ribs.", "Lying down little, breath first."),
        ),
        away=((-47, -44), (-17, -16)),
        stopped=(
            Stopped(
                -39,
                "st_single_leg_stand",
                "faint",
                "",
                "Light-headed on turning round. Sat down, water, steady again within two minutes. Drove home with "
                "her son. She will tell her doctor.",
                "Ask what the doctor said. Turn slowly, both ways.",
                added=(
                    -37,
                    "Her doctor has measured her blood pressure and changed a tablet. She feels well.",
                ),
            ),
        ),
        said=(
            "I thought people like me may only walk.",
            "The right foot wobbles more, as ever.",
            "My back feels tall.",
            "Up from the floor with one hand.",
            "I stood on one leg to put my boot on.",
        ),
        later=(
            "Stand near the wall on the right, one finger on it.",
            "Prone lift: chin stays tucked, stop at eight.",
            "Hinge with the pole: back stayed long for eight.",
        ),
    ),
    sheets=(
        HomeSheet(-57, "before the news", (HomeItem("st_hip_hinge"), HomeItem("st_sit_to_stand"))),
        HomeSheet(
            -22,
            "before the news",
            (HomeItem("st_hip_hinge"), HomeItem("mat_prone_chest_lift"), HomeItem("st_wall_slide")),
        ),
        HomeSheet(
            -1,
            "before the news",
            (
                HomeItem("st_hip_hinge", cue="Sit back on a high stool that is not there."),
                HomeItem("st_wall_slide"),
            ),
            issued=False,
        ),
    ),
    measures=(Taken("knee_to_wall_lunge", (6.5, 9.5), (6, 9.5), 0.5, every=8),),
)

GODWIN = Person(
    key="godwin",
    full_name="Godwin Pellbrooke",
    call_name="Godwin",
    born=date(1946, 2, 2),
    telephone="01632 960143",
    emergency=("Sylvie Pellbrooke, daughter", "07700 900144"),
    form_weeks_ago=56,
    instructor=AVERIL,
    told=(
        Told("osteoarthritis_general"),
        Told("hypertension_controlled"),
        Told("cataract_surgery", weeks_ago=80),
    ),
    aims=(
        Aim("Get out of the low armchair by myself", ((56, 3), (44, 5), (32, 6), (20, 8)), (19, "reached")),
        Aim("Dance at my granddaughter's wedding", ((19, 3), (10, 4), (2, 6))),
    ),
    touch="yes",
    home=("wall", "sturdy_chair"),
    texts={"tablets": "Two for blood pressure."},
    size=(1710, 72000),
    work=Work(
        exercises=(
            "st_sit_to_stand",
            "ch_foot_heels",
            "ch_foot_toes",
            "st_wall_slide",
            "sc_seated_figure_four",
            "st_hip_hinge",
            "st_single_leg_stand",
            "sp_band_row",
            "st_wall_side_bend",
        ),
        behind="left",
        gap=(0.9, 0.6),
        quality=(2.4, 3.6),
        effort=3,
        flares=(
            Flare(
                -28,
                -26,
                "A chest cold. I am slower than my stick.",
                "Seated only, long rests, ask about the breath.",
            ),
        ),
        away=((-50, -49), (-36, -35)),
        said=(
            "I am eighty next birthday, mind.",
            "Out of the armchair at the second go.",
            "Eighty, and I stood on one leg.",
            "Waltz is easier than I thought.",
        ),
        later=(
            "Chair behind him before he stands.",
            "Count the rise, not the sit.",
            "One hand on the wall, then one finger.",
        ),
    ),
    sheets=(
        HomeSheet(
            -53, "after breakfast", (HomeItem("st_sit_to_stand", repetitions=6), HomeItem("st_wall_slide"))
        ),
        HomeSheet(
            -2,
            "after breakfast",
            (
                HomeItem("st_sit_to_stand"),
                HomeItem("st_wall_slide"),
                HomeItem("st_hip_hinge", cue="Bow to the partner."),
            ),
        ),
    ),
)

SUNNIVA = Person(
    key="sunniva",
    full_name="Sunniva Thistlewick",
    call_name="Sunniva",
    born=date(1966, 7, 30),
    telephone="01632 960115",
    emergency=("Grete Thistlewick, daughter", "07700 900116"),
    form_weeks_ago=58,
    instructor=OWNER,
    told=(
        Told("knee_osteoarthritis", side="left"),
        Told(
            "tennis_elbow",
            side="right",
            becomes="ended",
            reason="Gone since the summer, she says; nothing left when tested.",
        ),
    ),
    turns=(
        Turn(
            -1,
            told=Told("wrist_hand_injury_acute", side="left", weeks_ago=1),
            note="Slipped on the cellar stairs, landed on the hand. Rang to say so; seen by her doctor.",
            day=6,
        ),
    ),
    aims=(
        Aim("Kneel in the garden for ten minutes", ((58, 2), (46, 3), (35, 5), (27, 3), (15, 5), (3, 7))),
        Aim(
            "Go down to the cellar facing forwards",
            ((35, 3), (15, 5), (3, 6)),
            reach=Reach("knee_to_wall_lunge", "left", 9, -8),
        ),
    ),
    home=("wall", "sturdy_chair", "towel"),
    size=(1720, 80000),
    work=Work(
        exercises=(
            "tt_leg_springs_lower",
            "tt_roll_down",
            "mat_pelvic_curl",
            "mat_bird_dog",
            "st_hip_hinge",
            "mat_spine_twist",
            "mat_chest_lift",
            "tt_leg_press",
            "mat_clam",
            "st_sit_to_stand",
        ),
        behind="left",
        gap=(1.3, 0.3),
        effort=4,
        pain=(4, 1),
        flares=(
            Flare(
                -30,
                -27,
                "Planted out sixty leeks. The knee counted them.",
                "Pad, no kneeling, ask before the bird dog.",
            ),
        ),
        away=((-52, -50), (-10, -9)),
        said=(
            "The knee clicks and means nothing by it.",
            "Stairs up are a friend, stairs down are not.",
            "I knelt on the sofa, for practice.",
            "Ten minutes of weeding, on a cushion.",
            "Lovely.",
        ),
        later=(
            "Pad under the left knee from the start.",
            "Roll down: half way is far enough when she is stiff.",
            "Ask about kneeling, then decide on the bird dog.",
        ),
    ),
    sheets=(
        HomeSheet(-55, "after the morning tea", (HomeItem("mat_pelvic_curl"), HomeItem("st_sit_to_stand"))),
        HomeSheet(
            -3,
            "after the morning tea",
            (
                HomeItem("mat_pelvic_curl", cue="Peel up slowly, lay down more slowly."),
                HomeItem("mat_bird_dog", change="Put a folded towel under the left knee.", per_week=3),
                HomeItem("st_hip_hinge", cue="Shut the drawer behind you."),
            ),
        ),
    ),
    measures=(Taken("knee_to_wall_lunge", (5, 8.5), (9, 9.5), 0.5, every=8),),
)

ELOWEN = Person(
    key="elowen",
    full_name="Elowen Marlpit",
    call_name="Elowen",
    born=date(2005, 7, 1),
    telephone="07700 900129",
    emergency=("Morwen Marlpit, mother", "01632 960130"),
    form_weeks_ago=33,
    instructor=OWNER,
    told=(Told("scoliosis"),),
    aims=(
        Aim("Sit through an orchestra rehearsal", ((33, 3), (25, 5), (16, 5), (8, 6), (1, 7))),
        Aim(
            "Carry the case home in my left hand",
            ((33, 2), (16, 5), (8, 9)),
            (7, "reached"),
            Reach("side_bridge", "left", 60, -4),
        ),
        Aim(
            "Sit through the long one before Easter",
            ((7, 3), (1, 4)),
            reach=Reach("side_bridge", "left", 80, 12),
        ),
    ),
    home=("wall", "towel", "band"),
    texts={"hurts": "Right of the spine after playing, under the shoulder blade."},
    size=(1750, 62000),
    work=Work(
        exercises=(
            "ref_foot_toes",
            "ref_foot_heels",
            "ref_frog",
            "mat_mermaid",
            "mat_spine_twist",
            "ref_short_box_side",
            "ref_knee_stretch_flat",
            "mat_dart",
            "mat_bird_dog",
            "mat_plank",
            "mat_side_leg_lift",
        ),
        behind="left",
        gap=(1.0, 0.7),
        quality=(3.0, 4.3),
        effort=6,
        flares=(
            Flare(
                -11,
                -11,
                "Concert week. Six hours on the stool.",
                "Long breath to the left ribs, nothing heavy.",
            ),
        ),
        away=((-21, -18),),
        said=(
            "I breathe into one side only, it turns out.",
            "The left ribs moved.",
            "I sat two hours and then noticed.",
            "Please more of the box.",
        ),
        later=(
            "Left side first, and once more at the end.",
            "Let her see the two sides in the mirror.",
            "Side work before the long holds.",
        ),
    ),
    sheets=(
        HomeSheet(-30, "before practising", (HomeItem("mat_mermaid"), HomeItem("mat_bird_dog"))),
        HomeSheet(
            -6, "before practising", (HomeItem("mat_mermaid"), HomeItem("mat_dart"), HomeItem("mat_bird_dog"))
        ),
    ),
    measures=(Taken("side_bridge", (44, 71), (66, 79), 6),),
)

CLIENTS = (WENNA, GODWIN, SUNNIVA, ELOWEN)
