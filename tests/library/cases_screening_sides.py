"""Verdict cases: which side is loaded.

A rule of a sided condition on a sided demand counts only for the affected side; an unknown side and a demand
that loads both sides count as affected. That is a design choice of a studio (common practice, no source);
the rows it is tried on come from the publications named.
"""

from .cases_screening_kit import case, ex, flag, one

SIDES = "common practice, no source (how sides combine); "
HIP = "Leeds leaflet and RNOH guide to hip precautions (screening S70)"
PELVIS_OVER = "hip precautions by approach (screening S84)"
SHOULDER = "subacromial shoulder pain pages (screening S60)"
CUFF = "surgeon and hospital protocols for rotator-cuff repair (screening S63)"
STROKE = "stroke rehabilitation guidelines from memory (screening M15)"
CUSTOM = "the rows themselves common practice, no source"

reach_named = ex("x", ["overhead_reach"], {"overhead_reach": "named"})
lying_other = ex("x", ["side_lying"], {"side_lying": "other"})
lying_named = ex("x", ["side_lying"], {"side_lying": "named"})
plank_both = ex("x", ["shoulder_weight_bearing"], {"shoulder_weight_bearing": "both"})
twist = ex("x", ["end_range_rotation"])
knees_named = ex("x", ["kneeling_load"], {"kneeling_load": "named"})
hip_turn = ex("x", ["hip_internal_rotation"], {"hip_internal_rotation": "named"})
stand_other = ex("x", ["closed_chain_single_leg"], {"closed_chain_single_leg": "other"})


def left_hip_day_83(exercise, side):
    """The arguments of a session 83 days after a left hip replacement of 2 March 2026."""
    return {
        "flags": [flag("hip_replacement_posterior", side="left", on="2026-03-02")],
        "exercise": exercise,
        "on": "2026-05-24",
        "side": side,
    }


def impinged(affected, exercise, side):
    """The arguments of a session with a sore shoulder on the affected side; no date matters."""
    return {
        "flags": [flag("shoulder_impingement", side=affected)],
        "exercise": exercise,
        "on": "2026-11-25",
        "side": side,
    }


NAMED = [
    ("left", "left", "modify"),
    ("left", "right", "none"),
    ("left", None, "modify"),
    ("right", "left", "none"),
    ("right", "right", "modify"),
    ("right", None, "modify"),
    ("both", "left", "modify"),
    ("both", "right", "modify"),
    ("unknown", "left", "modify"),
    ("unknown", "right", "modify"),
    (None, "left", "modify"),
    (None, "right", "modify"),
]

OTHER = [
    ("left", "left", "none"),
    ("left", "right", "modify"),
    ("left", None, "modify"),
    ("right", "left", "modify"),
    ("right", "right", "none"),
    ("right", None, "modify"),
    ("both", "left", "modify"),
    ("unknown", "right", "modify"),
    (None, "left", "modify"),
]

BOTH = [
    ("left", "left", "modify"),
    ("left", "right", "modify"),
    ("right", "left", "modify"),
    ("right", "right", "modify"),
    ("left", None, "modify"),
    ("unknown", None, "modify"),
]

CASES = [
    *(
        case(
            f"sore-shoulder-{affected}-reaching-arm-named-record-{side}",
            SIDES + SHOULDER,
            **impinged(affected, reach_named, side),
            **one("overhead_reach", verdict),
        )
        for affected, side, verdict in NAMED
    ),
    *(
        case(
            f"sore-shoulder-{affected}-side-underneath-is-other-record-{side}",
            SIDES + CUSTOM,
            **impinged(affected, lying_other, side),
            **one("side_lying", verdict),
        )
        for affected, side, verdict in OTHER
    ),
    *(
        case(
            f"sore-shoulder-{affected}-weight-on-both-arms-record-{side}",
            SIDES + CUSTOM,
            **impinged(affected, plank_both, side),
            **one("shoulder_weight_bearing", verdict),
        )
        for affected, side, verdict in BOTH
    ),
    case(
        "left-hip-day-83-trunk-twist-has-no-side-record-right",
        SIDES + PELVIS_OVER,
        **left_hip_day_83(twist, "right"),
        **one("end_range_rotation", "avoid"),
    ),
    case(
        "left-hip-day-83-turning-in-the-right-leg",
        SIDES + HIP,
        **left_hip_day_83(hip_turn, "right"),
        **one("hip_internal_rotation", "none"),
    ),
    case(
        "left-hip-day-83-turning-in-the-left-leg",
        SIDES + HIP,
        **left_hip_day_83(hip_turn, "left"),
        **one("hip_internal_rotation", "avoid"),
    ),
    case(
        "left-hip-day-83-stands-on-left-while-right-works",
        SIDES + CUSTOM,
        **left_hip_day_83(stand_other, "right"),
        **one("closed_chain_single_leg", "modify"),
    ),
    case(
        "left-hip-day-83-stands-on-right-while-left-works",
        SIDES + CUSTOM,
        **left_hip_day_83(stand_other, "left"),
        **one("closed_chain_single_leg", "none"),
    ),
    case(
        "condition-without-sides-ignores-a-side-on-the-flag",
        SIDES + CUSTOM,
        flags=[flag("osteoarthritis_general", side="left")],
        exercise=knees_named,
        on="2026-11-25",
        side="right",
        **one("kneeling_load", "watch"),
    ),
    case(
        "weak-left-side-two-demands-named-and-both-record-right",
        SIDES + STROKE,
        flags=[flag("stroke", side="left")],
        exercise=ex(
            "x",
            ["shoulder_loaded_end_range", "overhead_reach", "standing_balance"],
            {"shoulder_loaded_end_range": "named", "overhead_reach": "both"},
        ),
        on="2026-11-25",
        side="right",
        verdict="modify",
        demands={
            "shoulder_loaded_end_range": "none",
            "overhead_reach": "modify",
            "standing_balance": "modify",
        },
    ),
    case(
        "left-cuff-day-41-lying-on-the-right-works-left",
        SIDES + CUFF,
        flags=[flag("rotator_cuff_repair", side="left", on="2026-03-02")],
        exercise=ex(
            "x",
            ["side_lying", "arm_push_pull_loaded"],
            {"side_lying": "other", "arm_push_pull_loaded": "named"},
        ),
        on="2026-04-12",
        side="left",
        verdict="avoid",
        demands={"side_lying": "none", "arm_push_pull_loaded": "avoid"},
    ),
    case(
        "left-cuff-day-41-lying-on-the-left-works-right",
        SIDES + CUSTOM,
        flags=[flag("rotator_cuff_repair", side="left", on="2026-03-02")],
        exercise=ex(
            "x",
            ["side_lying", "arm_push_pull_loaded"],
            {"side_lying": "other", "arm_push_pull_loaded": "named"},
        ),
        on="2026-04-12",
        side="right",
        verdict="avoid",
        demands={"side_lying": "avoid", "arm_push_pull_loaded": "none"},
    ),
    case(
        "left-cuff-day-42-lying-on-the-named-side",
        SIDES + CUSTOM,
        flags=[flag("rotator_cuff_repair", side="left", on="2026-03-02")],
        exercise=lying_named,
        on="2026-04-13",
        side="left",
        **one("side_lying", "modify"),
    ),
]
