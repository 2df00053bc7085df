"""Clients of the demo whose back, belly or head is what they came with. Plain data."""

from datetime import date

from sessions.demo.people import CORIN, MARIS, OWNER
from sessions.demo.telling import (
    Aim,
    Flare,
    HomeItem,
    HomeSheet,
    Person,
    Taken,
    Told,
    Turn,
    Work,
)

PETRA = Person(
    key="petra",
    full_name="Petra Windrow",
    call_name="Petra",
    born=date(1979, 2, 14),
    telephone="07700 900117",
    emergency=("Anselm Windrow, brother", "01632 960118"),
    form_weeks_ago=30,
    instructor=OWNER,
    told=(
        Told("disc_flexion_intolerant"),
        Told("migraine", becomes="resting", reason="None for a year; rests until she has one again."),
        Told("reflux", becomes="proposed"),
    ),
    aims=(
        Aim("Tie my shoes in the morning without planning it", ((30, 2), (24, 3), (17, 2), (10, 5), (3, 7))),
        Aim("Drive to my sister and get out straight", ((30, 1), (17, 1), (3, 4))),
    ),
    touch="ask",
    home=("wall", "towel"),
    work=Work(
        exercises=(
            "ch_foot_heels",
            "mat_knee_fold",
            "mat_clam",
            "mat_bird_dog",
            "st_hip_hinge",
            "st_wall_slide",
            "mat_side_leg_lift",
            "ch_standing_pump",
            "mat_dart",
            "st_sit_to_stand",
        ),
        behind="left",
        effort=4,
        pain=(5, 2),
        flares=(
            Flare(
                -19, -16, "Drove two hours and paid for it.", "Begin standing. Nothing rounded, short holds."
            ),
            Flare(-5, -5, "Sneezed in the bath.", "Ask how the morning was; half of everything."),
        ),
        said=(
            "Fine while I move, stiff when I stop.",
            "I can feel the hinge now.",
            "Got the left shoe on without the chair.",
            "I forgot my back until you asked.",
        ),
        later=(
            "Hinge before anything on the floor. Nothing rounded.",
            "Ask about the drive; if stiff, begin standing.",
            "Bird dog: left leg only as far as the pelvis stays.",
        ),
    ),
    sheets=(
        HomeSheet(-14, "before the shoes", (HomeItem("st_hip_hinge"), HomeItem("mat_bird_dog"))),
        HomeSheet(
            -2,
            "before the shoes",
            (
                HomeItem("st_hip_hinge", cue="Shut the drawer behind you."),
                HomeItem("mat_bird_dog", change="Legs only on a stiff morning.", per_week=4),
                HomeItem("mat_dart"),
            ),
        ),
    ),
)

IMARU = Person(
    key="imaru",
    full_name="Imaru Saltmarsh",
    call_name="Imaru",
    born=date(1993, 8, 22),
    telephone="07700 900103",
    emergency=("Sefton Saltmarsh, partner", "07700 900104"),
    form_weeks_ago=40,
    instructor=CORIN,
    turns=(
        Turn(-10, told=Told("pregnancy", due_in=20), note="Told me after the session; the midwife knows."),
    ),
    aims=(
        Aim(
            "Carry the shopping home without my back complaining", ((40, 4), (28, 6), (12, 7), (5, 5), (2, 6))
        ),
        Aim("Stay strong until the baby comes", ((9, 6), (2, 6))),
    ),
    home=("wall", "sturdy_chair", "towel", "band"),
    texts={"wishes": "Something that is not the sofa."},
    work=Work(
        exercises=(
            "ch_foot_heels",
            "ch_foot_toes",
            "mat_clam",
            "mat_chest_lift",
            "st_sit_to_stand",
            "mat_bird_dog",
            "sp_band_row",
            "mat_pelvic_curl",
            "ch_standing_pump",
            "st_wall_side_bend",
            "st_wall_slide",
        ),
        lifts={"mat_chest_lift": ("trunk_raised_on_wedge",)},
        rests={"mat_chest_lift": 30},
        behind="left",
        gap=(0.6, 0.3),
        effort=5,
        flares=(
            Flare(
                -9, -8, "Green all morning. Moving helps.", "Water first, nothing fast, a bucket of patience."
            ),
        ),
        away=((-22, -21),),
        said=(
            "My legs noticed. I like it.",
            "Both bags, up the hill.",
            "Nice to move without being told to lie down.",
            "Tired, but a good tired.",
        ),
        later=(
            "Ask how she slept, then choose how long we stand.",
            "Pedal: heels lead, do not hurry the way up.",
            "Knees a little wider on the chair.",
        ),
    ),
    sheets=(
        HomeSheet(-36, "when the bath runs", (HomeItem("mat_pelvic_curl"), HomeItem("mat_clam"))),
        HomeSheet(
            -3,
            "when the bath runs",
            (
                HomeItem("st_sit_to_stand"),
                HomeItem("mat_clam", cue="A pillow between the knees to rest on."),
                HomeItem("st_wall_slide", change="Feet a little wider, a step from the wall."),
            ),
        ),
    ),
)

MAELYS = Person(
    key="maelys",
    full_name="Maelys Tarnwick",
    call_name="Maelys",
    born=date(1990, 4, 30),
    telephone="07700 900131",
    emergency=("Ewan Tarnwick, husband", "07700 900132"),
    form_weeks_ago=46,
    instructor=MARIS,
    told=(Told("pregnancy", due_in=-18),),
    turns=(
        Turn(-8, ends="pregnancy", reason="Her daughter was born in the summer; both are well."),
        Turn(
            -8, told=Told("postnatal_caesarean", weeks_ago=18), note="Checked at eight weeks by her doctor."
        ),
        Turn(-8, told=Told("diastasis_recti"), note="Two fingers at the navel, felt by her midwife."),
    ),
    aims=(
        Aim("Have a back that lasts the day", ((46, 5), (36, 5), (28, 4), (21, 3)), (8, "put_aside")),
        Aim("Lift the pram up our three steps", ((7, 2), (4, 4), (1, 5))),
    ),
    touch="yes",
    home=("wall", "sturdy_chair", "towel"),
    work=Work(
        exercises=(
            "ch_foot_heels",
            "st_sit_to_stand",
            "mat_clam",
            "mat_cat",
            "st_wall_slide",
            "mat_bird_dog",
            "ch_foot_toes",
            "sc_seated_figure_four",
            "sp_band_row",
            "mat_pelvic_curl",
        ),
        behind="right",
        gap=(0.8, 0.5),
        effort=3,
        away=((-22, -8),),
        said=(
            "She kicks whenever I breathe out.",
            "My ankles were feet again afterwards.",
            "Slept three hours. Let us see.",
            "Two steps of three.",
        ),
        later=(
            "Breathe out first, then lift. Nothing else matters today.",
            "Ask about the scar and the nights.",
            "Stop any exercise in which the middle of the belly domes.",
        ),
    ),
    sheets=(
        HomeSheet(-42, "after work", (HomeItem("st_sit_to_stand"), HomeItem("mat_clam"))),
        HomeSheet(
            -4,
            "while she naps",
            (HomeItem("mat_pelvic_curl", repetitions=5), HomeItem("mat_clam"), HomeItem("st_wall_slide")),
        ),
    ),
)

ROSALIND = Person(
    key="rosalind",
    full_name="Rosalind Greywether",
    call_name="Ros",
    born=date(1960, 12, 12),
    telephone="01632 960133",
    emergency=("Peg Greywether, sister", "01632 960134"),
    form_weeks_ago=19,
    instructor=MARIS,
    told=(Told("pelvic_floor_prolapse"),),
    aims=(Aim("Walk the dog an hour without that heavy feeling", ((19, 3), (12, 4), (6, 4), (1, 6))),),
    touch="no",
    home=("wall", "towel"),
    work=Work(
        exercises=(
            "ref_foot_heels",
            "ref_frog",
            "ref_bottom_lift",
            "mat_clam",
            "mat_breath_supine",
            "st_wall_slide",
            "mat_knee_fold",
            "mat_side_leg_lift",
            "st_single_leg_stand",
        ),
        behind="left",
        gap=(0.7, 0.6),
        effort=3,
        said=(
            "Nobody ever told me to breathe out.",
            "Lighter at the end than when I came.",
            "Forty minutes with the dog.",
        ),
        later=(
            "Breathe out on the push. Rest on her back at the end.",
            "Ask about the heavy feeling, plainly.",
            "Fewer, better.",
        ),
    ),
    sheets=(HomeSheet(-15, "before getting up", (HomeItem("mat_breath_supine"), HomeItem("mat_clam"))),),
)

LIESEL = Person(
    key="liesel",
    full_name="Liesel Amberwick",
    call_name="Liesel",
    born=date(1986, 3, 21),
    telephone="07700 900135",
    emergency=("Torben Amberwick, husband", "07700 900136"),
    form_weeks_ago=52,
    instructor=CORIN,
    told=(Told("migraine"), Told("shoulder_impingement", side="right", becomes="proposed")),
    turns=(
        Turn(-30, rests="migraine", reason="None since the spring, with her new tablets."),
        Turn(-12, wakes="migraine", reason="Two in a fortnight. She has seen her doctor."),
    ),
    aims=(Aim("A week without the dark room", ((52, 2), (40, 4), (30, 8), (12, 3), (4, 5))),),
    home=("wall", "towel", "band"),
    texts={"tablets": "One for when it begins, one every day since the spring."},
    work=Work(
        exercises=(
            "ref_foot_toes",
            "ref_foot_heels",
            "ref_frog",
            "ref_bottom_lift",
            "mat_spine_twist",
            "st_hip_hinge",
            "mat_dart",
            "mat_clam",
            "ref_elephant",
            "mat_swan_prep",
            "st_wall_slide",
        ),
        behind="right",
        gap=(0.6, 0.1),
        effort=5,
        flares=(
            Flare(-44, -43, "The light in here is a little loud.", "Curtain half shut, slow, head level."),
            Flare(
                -13, -11, "Came out of the dark room yesterday.", "Head level throughout. Ask, then halve it."
            ),
        ),
        away=((-34, -33),),
        said=(
            "My neck let go somewhere in the middle.",
            "No head this week.",
            "I could do the stairs two at a time.",
            "Better than yesterday. Yesterday was a Tuesday.",
        ),
        later=(
            "Slow on getting up, eyes on one point.",
            "Ask about the head before the lights.",
            "More legs, she likes to feel them.",
        ),
    ),
    sheets=(
        HomeSheet(
            -25, "after lunch", (HomeItem("mat_dart"), HomeItem("st_hip_hinge"), HomeItem("st_wall_slide"))
        ),
    ),
    measures=(Taken("back_saver_sit_and_reach", (1, 6.5), (0, 6), 1.0),),
)

CLIENTS = (PETRA, IMARU, MAELYS, ROSALIND, LIESEL)
