"""Clients of the demo whose shoulder, arm, wrist or neck is what they came with. Plain data."""

from datetime import date

from sessions.demo.people import AVERIL, MARIS
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

OTTOLINE = Person(
    key="ottoline",
    full_name="Ottoline Brackwater",
    call_name="Ottoline",
    born=date(1971, 3, 9),
    telephone="07700 900101",
    emergency=("Lucan Brackwater, husband", "07700 900102"),
    form_weeks_ago=34,
    instructor=MARIS,
    told=(Told("frozen_shoulder", side="left", weeks_ago=44),),
    limit=Limit(
        words="Left arm only to shoulder height; nothing pulled or pushed with it",
        by="R. Tindlewell, physiotherapist",
        weeks_ago=36,
        about="overhead_reach",
        verdict="avoid",
        side="left",
        until_in=-20,
    ),
    turns=(
        Turn(-20, ends="overhead_reach", reason="Its last day has come; she saw her physiotherapist again."),
        Turn(
            -20,
            limit=Limit(
                words="No hanging on the left arm; overhead only as far as it goes without pain, nothing loaded",
                by="R. Tindlewell, physiotherapist",
                weeks_ago=20,
                about="overhead_reach",
                verdict="modify",
                side="left",
                until_in=9,
            ),
        ),
    ),
    aims=(
        Aim("Put the big pan back on the top shelf", ((34, 1), (26, 2), (18, 3), (12, 3), (7, 5), (1, 6))),
        Aim("Sleep on my left side again", ((34, 0), (22, 1), (12, 3), (3, 4))),
    ),
    touch="ask",
    home=("wall", "band", "towel"),
    texts={"hurts": "Left shoulder, behind and down the upper arm, mostly at night."},
    size=(1680, 71000),
    work=Work(
        exercises=(
            "ref_foot_heels",
            "ref_foot_toes",
            "ref_bottom_lift",
            "ref_scooter",
            "st_hip_hinge",
            "st_wall_slide",
            "ref_frog",
            "mat_clam",
            "mat_spine_twist",
            "st_sit_to_stand",
        ),
        behind="left",
        gap=(1.5, 0.4),
        effort=4,
        pain=(5, 1),
        flares=(
            Flare(
                -15,
                -13,
                "Three bad nights. I lifted the suitcase, I know.",
                "Legs only until the nights are quiet again. Ask first.",
            ),
        ),
        away=((-24, -23),),
        said=(
            "I cannot do my own zip.",
            "Better when we begin with the legs.",
            "The arm feels longer than when I came.",
            "A bit sore at night, no worse than before.",
            "I reached for the seat belt without thinking.",
            "The pan is on the shelf below the top one.",
        ),
        later=(
            "Legs first, arms once she is warm.",
            "Left hand higher on the wall only if the shoulder stays down.",
            "Ask her how the night was, then choose.",
            "Wall slide: tape at today's height, see if she passes it.",
        ),
    ),
    sheets=(
        HomeSheet(
            -18,
            "while the kettle boils",
            (
                HomeItem("mat_pelvic_curl", cue="Arms rest, palms up."),
                HomeItem("st_hip_hinge", cue="Long back, like a lid that opens."),
                HomeItem("st_wall_slide", change="Left hand: stop at shoulder height.", repetitions=5),
            ),
        ),
        HomeSheet(
            -1,
            "while the kettle boils",
            (
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
    ),
    measures=(Taken("back_saver_sit_and_reach", (-3, 1), (-2, 2), 0.8),),
)

KOFI = Person(
    key="kofi",
    full_name="Kofi Brindlemere",
    call_name="Kofi",
    born=date(1985, 10, 3),
    telephone="07700 900121",
    emergency=("Esi Brindlemere, wife", "07700 900122"),
    form_weeks_ago=26,
    instructor=MARIS,
    told=(Told("carpal_tunnel_wrist", side="right"),),
    turns=(
        Turn(-5, rests="carpal_tunnel_wrist", reason="No tingling for six weeks; rests until it is back."),
    ),
    aims=(Aim("Type for an hour and not shake my hand out", ((26, 3), (17, 4), (9, 6), (2, 8))),),
    home=("wall", "band"),
    texts={"hurts": "Right wrist, at the desk and on the bicycle."},
    size=(1810, 83000),
    work=Work(
        exercises=(
            "ref_foot_toes",
            "ref_foot_heels",
            "ref_bottom_lift",
            "mat_prone_chest_lift",
            "mat_bird_dog",
            "st_wall_slide",
            "mat_chest_lift",
            "mat_spine_twist",
            "sp_band_row",
            "st_hip_hinge",
        ),
        behind="right",
        gap=(1.0, 0.0),
        effort=5,
        flares=(
            Flare(
                -14,
                -13,
                "Deadline week. The hand sleeps before I do.",
                "Forearms, not hands. Ask about the desk.",
            ),
        ),
        said=(
            "My hand went to sleep on the bicycle again.",
            "New mouse, quieter wrist.",
            "I stood through a whole meeting.",
            "Forgot I had a wrist today.",
        ),
        later=(
            "Fists or forearms in four-point, never a bent wrist.",
            "Ask about the desk before the bird dog.",
            "Flat hand again for two, then look.",
        ),
    ),
    sheets=(
        HomeSheet(
            -24,
            "before switching the screen on",
            (HomeItem("st_wall_slide"), HomeItem("mat_bird_dog", change="On your fists, wrists straight.")),
        ),
        HomeSheet(
            -8,
            "before switching the screen on",
            (HomeItem("st_wall_slide"), HomeItem("st_hip_hinge"), HomeItem("mat_spine_twist", per_week=3)),
        ),
    ),
    measures=(Taken("side_bridge", (41, 66), (38, 64), 6),),
)

CASIMIR = Person(
    key="casimir",
    full_name="Casimir Holmwyke",
    call_name="Casimir",
    born=date(1968, 1, 11),
    telephone="01632 960123",
    emergency=("Wanda Holmwyke, wife", "07700 900124"),
    form_weeks_ago=14,
    instructor=AVERIL,
    told=(Told("rotator_cuff_repair", side="right", weeks_ago=26),),
    limit=Limit(
        words="Right arm: own weight only, no springs and no pulling",
        by="F. Mossendew, physiotherapist",
        weeks_ago=15,
        about="arm_push_pull_loaded",
        verdict="avoid",
        side="right",
        until_in=-4,
    ),
    turns=(
        Turn(-4, ends="arm_push_pull_loaded", reason="Its last day has come; a newer one is on file."),
        Turn(
            -4,
            limit=Limit(
                words="Right arm: light pulling below shoulder height, as long as it does not ache next day",
                by="F. Mossendew, physiotherapist",
                weeks_ago=4,
                about="arm_push_pull_loaded",
                verdict="modify",
                side="right",
                until_in=8,
            ),
        ),
    ),
    aims=(
        Aim("Serve a ball by the summer", ((14, 0), (8, 1), (3, 3))),
        Aim("Put a coat on", ((14, 3), (6, 7)), (4, "reached")),
    ),
    touch="yes",
    home=("wall", "band", "sturdy_chair"),
    texts={"operations": "Right shoulder mended through small holes in the spring."},
    size=(1770, 79000),
    work=Work(
        exercises=(
            "tt_leg_springs_lower",
            "tt_leg_press",
            "mat_pelvic_curl",
            "st_sit_to_stand",
            "st_hip_hinge",
            "mat_knee_fold",
            "mat_toe_tap",
            "st_wall_slide",
            "sp_band_row",
            "st_single_leg_stand",
        ),
        behind="right",
        gap=(1.2, 0.6),
        quality=(2.8, 3.9),
        effort=4,
        pain=(3, 1),
        flares=(
            Flare(
                -7, -7, "I raked leaves. All of them.", "Legs today. Ask what he did with the arm at home."
            ),
        ),
        said=("Sleeping in a bed again, not a chair.", "The coat goes on.", "It aches and it obeys."),
        later=(
            "Cushion under the right elbow when he lies.",
            "Left arm may show the right one the way, slowly.",
        ),
    ),
    sheets=(
        HomeSheet(-11, "after the morning paper", (HomeItem("mat_pelvic_curl"), HomeItem("st_sit_to_stand"))),
    ),
)

ANJALI = Person(
    key="anjali",
    full_name="Anjali Dellwright",
    call_name="Anjali",
    born=date(1991, 6, 25),
    telephone="07700 900125",
    emergency=("Rohan Dellwright, brother", "07700 900126"),
    form_weeks_ago=40,
    instructor=MARIS,
    told=(
        Told("neck_pain"),
        Told("asthma", becomes="resting", reason="Only in hay season; rests until then."),
    ),
    aims=(
        Aim("Read in bed without a stiff neck", ((40, 3), (30, 4), (21, 6), (14, 7)), (13, "reached")),
        Aim(
            "Swim a length on my front", ((13, 2), (7, 3), (2, 5)), None, Reach("side_bridge", "both", 55, -4)
        ),
    ),
    home=("wall", "band", "towel"),
    texts={"hurts": "Neck, left of the middle, after the computer."},
    size=(1640, 57000),
    work=Work(
        exercises=(
            "ref_foot_toes",
            "ref_bottom_lift",
            "ref_frog",
            "mat_dart",
            "mat_spine_twist",
            "st_wall_slide",
            "mat_prone_chest_lift",
            "ref_scooter",
            "mat_mermaid",
            "sp_band_row",
            "mat_chest_lift",
        ),
        behind="left",
        gap=(0.8, 0.3),
        effort=5,
        pain=(4, 1),
        flares=(
            Flare(
                -26,
                -25,
                "I slept on the train, sideways.",
                "Head stays down. No chest lift until it turns freely.",
            ),
        ),
        away=((-19, -17),),
        said=(
            "I can look over my shoulder when I park.",
            "My shoulders live by my ears at work.",
            "Two chapters in bed.",
            "Half a length, then water up my nose.",
        ),
        later=(
            "Towel under the head from the start.",
            "Eyes lead the turn, the head follows.",
            "Chest lift: hands behind the head, three only.",
        ),
    ),
    sheets=(
        HomeSheet(-38, "at the end of work", (HomeItem("st_wall_slide"), HomeItem("mat_spine_twist"))),
        HomeSheet(
            -16,
            "at the end of work",
            (HomeItem("mat_dart"), HomeItem("st_wall_slide"), HomeItem("mat_mermaid")),
        ),
    ),
    measures=(Taken("side_bridge", (34, 38), (37, 39), 7),),
)

HENRIKE = Person(
    key="henrike",
    full_name="Henrike Sallowby",
    call_name="Henrike",
    born=date(1963, 9, 18),
    telephone="01632 960127",
    emergency=("Joost Sallowby, husband", "07700 900128"),
    form_weeks_ago=22,
    instructor=AVERIL,
    told=(Told("breast_surgery", side="right", weeks_ago=35), Told("lymphoedema_risk", side="right")),
    aims=(Aim("Hang the washing out without a stool", ((22, 2), (15, 4), (8, 5), (2, 7))),),
    touch="ask",
    home=("wall", "towel", "sturdy_chair"),
    texts={"anything": "I wear a sleeve when I fly."},
    size=(1700, 66000),
    work=Work(
        exercises=(
            "tt_roll_down",
            "tt_leg_springs_lower",
            "mat_pelvic_curl",
            "mat_spine_twist",
            "st_wall_slide",
            "mat_side_leg_lift",
            "mat_clam",
            "st_wall_side_bend",
            "st_sit_to_stand",
        ),
        behind="right",
        gap=(1.3, 0.4),
        effort=3,
        away=((-12, -11),),
        said=(
            "It is the ribs that feel new.",
            "The arm is light afterwards.",
            "Half the washing line today.",
            "I went the whole hour and thought of nothing.",
        ),
        later=(
            "Ask how the arm feels, look at the hand, then begin.",
            "Rest the right arm between any two that use it.",
            "Turn to the left a little further if she offers it.",
        ),
    ),
    sheets=(HomeSheet(-19, "before lunch", (HomeItem("st_wall_slide"), HomeItem("mat_spine_twist"))),),
    measures=(Taken("back_saver_sit_and_reach", (2, 3), (1, 3), 1.0),),
)

CLIENTS = (OTTOLINE, KOFI, CASIMIR, ANJALI, HENRIKE)
