"""Verdict cases: a licensed clinician's written instruction against the table.

The instruction outranks any rule of a condition in either direction, while it runs (its last day counts), on
the side it names, for the demand or the exercise it names. Design choice of a studio: common practice, no
source; the rows it is set against come from the publications named.
"""

from .cases_screening_kit import case, ex, flag

WORD = "common practice, no source (a clinician's word outranks the table); "
BONE = "row: Giangregorio 2015 consensus (screening S50)"
HIP = "row: Leeds leaflet and RNOH guide to hip precautions (screening S70)"
KNEE = "row: NHS return-to-work tips after knee replacement (screening S73)"
CUSTOM = "row: common practice, no source"
NO_ROW = "no row: common practice, no source"

twist = ex("x", ["end_range_rotation"])
knees = ex("x", ["kneeling_load"], {"kneeling_load": "named"})
bend = ex("x", ["hip_flexion_past_90"], {"hip_flexion_past_90": "named"})
stand = ex("x", ["closed_chain_single_leg"], {"closed_chain_single_leg": "other"})
saw = ex("seated_saw", ["end_range_rotation", "end_range_spinal_flexion"])
reach = ex("seated_reach", ["overhead_reach"], {"overhead_reach": "both"})


def word(about, verdict, *, side=None, until=None):
    """A clinician's instruction about a demand or an exercise."""
    return flag(
        instruction=about,
        verdict=verdict,
        words="Letter on file",
        by="Physiotherapist",
        until=until,
        side=side,
    )


def new_hip(side="left"):
    """A hip replaced on 2 March 2026; the sessions here are on day 41, 12 April 2026."""
    return flag("hip_replacement_posterior", side=side, on="2026-03-02")


CASES = [
    # In either direction, on a demand.
    case(
        "clinician-stricter-avoid-over-watch",
        WORD + CUSTOM,
        flags=[flag("osteopenia"), word("end_range_rotation", "avoid")],
        exercise=twist,
        on="2026-11-25",
        verdict="avoid",
        demands={"end_range_rotation": "avoid"},
    ),
    case(
        "clinician-stricter-modify-over-watch",
        WORD + CUSTOM,
        flags=[flag("osteopenia"), word("end_range_rotation", "modify")],
        exercise=twist,
        on="2026-11-25",
        verdict="modify",
        demands={"end_range_rotation": "modify"},
    ),
    case(
        "clinician-stricter-where-the-table-is-silent",
        WORD + NO_ROW,
        flags=[flag("hip_osteoarthritis", side="left"), word("end_range_rotation", "avoid")],
        exercise=twist,
        on="2026-11-25",
        verdict="avoid",
        demands={"end_range_rotation": "avoid"},
    ),
    case(
        "clinician-alone-without-any-condition",
        WORD + NO_ROW,
        flags=[word("end_range_rotation", "modify")],
        exercise=twist,
        on="2026-11-25",
        verdict="modify",
        demands={"end_range_rotation": "modify"},
    ),
    case(
        "clinician-laxer-modify-over-avoid",
        WORD + BONE,
        flags=[flag("osteoporosis"), word("end_range_rotation", "modify")],
        exercise=twist,
        on="2026-11-25",
        verdict="modify",
        demands={"end_range_rotation": "modify"},
    ),
    case(
        "clinician-laxer-watch-over-avoid",
        WORD + BONE,
        flags=[flag("osteoporosis"), word("end_range_rotation", "watch")],
        exercise=twist,
        on="2026-11-25",
        verdict="watch",
        demands={"end_range_rotation": "watch"},
    ),
    case(
        "clinician-laxer-over-two-conditions",
        WORD + BONE,
        flags=[flag("osteoporosis"), flag("bone_metastases"), word("end_range_rotation", "modify")],
        exercise=twist,
        on="2026-11-25",
        verdict="modify",
        demands={"end_range_rotation": "modify"},
    ),
    case(
        "clinician-laxer-instruction-given-first",
        WORD + BONE,
        flags=[word("end_range_rotation", "modify"), flag("osteoporosis")],
        exercise=twist,
        on="2026-11-25",
        verdict="modify",
        demands={"end_range_rotation": "modify"},
    ),
    case(
        "clinician-laxer-on-one-demand-leaves-the-other-avoided",
        WORD + BONE,
        flags=[flag("osteoporosis"), word("end_range_rotation", "watch")],
        exercise=saw,
        on="2026-11-25",
        verdict="avoid",
        demands={"end_range_rotation": "watch", "end_range_spinal_flexion": "avoid"},
    ),
    case(
        "clinician-laxer-on-both-demands",
        WORD + BONE,
        flags=[
            flag("osteoporosis"),
            word("end_range_rotation", "watch"),
            word("end_range_spinal_flexion", "modify"),
        ],
        exercise=saw,
        on="2026-11-25",
        verdict="modify",
        demands={"end_range_rotation": "watch", "end_range_spinal_flexion": "modify"},
    ),
    case(
        "clinician-about-a-demand-the-exercise-does-not-make",
        WORD + BONE,
        flags=[flag("osteoporosis"), word("inversion", "watch")],
        exercise=twist,
        on="2026-11-25",
        verdict="avoid",
        demands={"end_range_rotation": "avoid"},
    ),
    case(
        "clinician-lifts-a-windowed-row-day-41",
        WORD + HIP,
        flags=[new_hip(), word("hip_flexion_past_90", "watch")],
        exercise=bend,
        on="2026-04-12",
        side="left",
        verdict="watch",
        demands={"hip_flexion_past_90": "watch"},
    ),
    case(
        "clinician-keeps-a-row-after-its-window-day-84",
        WORD + HIP,
        flags=[new_hip(), word("hip_flexion_past_90", "avoid")],
        exercise=bend,
        on="2026-05-25",
        side="left",
        verdict="avoid",
        demands={"hip_flexion_past_90": "avoid"},
    ),
    # While it runs.
    case(
        "clinician-laxer-two-days-before-its-last-day",
        WORD + BONE,
        flags=[flag("osteoporosis"), word("end_range_rotation", "modify", until="2026-11-27")],
        exercise=twist,
        on="2026-11-25",
        verdict="modify",
        demands={"end_range_rotation": "modify"},
    ),
    case(
        "clinician-laxer-on-its-last-day",
        WORD + BONE,
        flags=[flag("osteoporosis"), word("end_range_rotation", "modify", until="2026-11-25")],
        exercise=twist,
        on="2026-11-25",
        verdict="modify",
        demands={"end_range_rotation": "modify"},
    ),
    case(
        "clinician-laxer-ended-the-day-before",
        WORD + BONE,
        flags=[flag("osteoporosis"), word("end_range_rotation", "modify", until="2026-11-24")],
        exercise=twist,
        on="2026-11-25",
        verdict="avoid",
        demands={"end_range_rotation": "avoid"},
    ),
    case(
        "clinician-stricter-on-its-last-day",
        WORD + CUSTOM,
        flags=[flag("osteopenia"), word("end_range_rotation", "avoid", until="2026-11-25")],
        exercise=twist,
        on="2026-11-25",
        verdict="avoid",
        demands={"end_range_rotation": "avoid"},
    ),
    case(
        "clinician-stricter-ended-the-day-before",
        WORD + CUSTOM,
        flags=[flag("osteopenia"), word("end_range_rotation", "avoid", until="2026-11-24")],
        exercise=twist,
        on="2026-11-25",
        verdict="watch",
        demands={"end_range_rotation": "watch"},
    ),
    case(
        "clinician-alone-ended-across-the-new-year",
        WORD + NO_ROW,
        flags=[word("end_range_rotation", "avoid", until="2025-12-31")],
        exercise=twist,
        on="2026-01-01",
        verdict="none",
        demands={"end_range_rotation": "none"},
    ),
    # One side only.
    case(
        "clinician-laxer-for-the-left-both-hips-new-record-left",
        WORD + HIP,
        flags=[new_hip("both"), word("hip_flexion_past_90", "modify", side="left")],
        exercise=bend,
        on="2026-04-12",
        side="left",
        verdict="modify",
        demands={"hip_flexion_past_90": "modify"},
    ),
    case(
        "clinician-laxer-for-the-left-both-hips-new-record-right",
        WORD + HIP,
        flags=[new_hip("both"), word("hip_flexion_past_90", "modify", side="left")],
        exercise=bend,
        on="2026-04-12",
        side="right",
        verdict="avoid",
        demands={"hip_flexion_past_90": "avoid"},
    ),
    case(
        "clinician-laxer-for-the-left-both-hips-new-record-both",
        WORD + HIP,
        flags=[new_hip("both"), word("hip_flexion_past_90", "modify", side="left")],
        exercise=bend,
        on="2026-04-12",
        verdict="avoid",
        demands={"hip_flexion_past_90": "avoid"},
    ),
    case(
        "clinician-laxer-for-the-left-only-left-hip-new-record-both",
        WORD + HIP,
        flags=[new_hip("left"), word("hip_flexion_past_90", "modify", side="left")],
        exercise=bend,
        on="2026-04-12",
        verdict="modify",
        demands={"hip_flexion_past_90": "modify"},
    ),
    case(
        "clinician-laxer-for-both-both-hips-new-record-both",
        WORD + HIP,
        flags=[new_hip("both"), word("hip_flexion_past_90", "modify", side="both")],
        exercise=bend,
        on="2026-04-12",
        verdict="modify",
        demands={"hip_flexion_past_90": "modify"},
    ),
    case(
        "clinician-stricter-for-the-right-record-right",
        WORD + NO_ROW,
        flags=[word("kneeling_load", "avoid", side="right")],
        exercise=knees,
        on="2026-11-25",
        side="right",
        verdict="avoid",
        demands={"kneeling_load": "avoid"},
    ),
    case(
        "clinician-stricter-for-the-right-record-left",
        WORD + NO_ROW,
        flags=[word("kneeling_load", "avoid", side="right")],
        exercise=knees,
        on="2026-11-25",
        side="left",
        verdict="none",
        demands={"kneeling_load": "none"},
    ),
    case(
        "clinician-stricter-for-the-right-record-both",
        WORD + NO_ROW,
        flags=[word("kneeling_load", "avoid", side="right")],
        exercise=knees,
        on="2026-11-25",
        verdict="avoid",
        demands={"kneeling_load": "avoid"},
    ),
    case(
        "clinician-stricter-for-the-right-leg-that-stands-while-left-works",
        WORD + NO_ROW,
        flags=[word("closed_chain_single_leg", "avoid", side="right")],
        exercise=stand,
        on="2026-11-25",
        side="left",
        verdict="avoid",
        demands={"closed_chain_single_leg": "avoid"},
    ),
    case(
        "clinician-stricter-for-the-right-leg-that-works-while-left-stands",
        WORD + NO_ROW,
        flags=[word("closed_chain_single_leg", "avoid", side="right")],
        exercise=stand,
        on="2026-11-25",
        side="right",
        verdict="none",
        demands={"closed_chain_single_leg": "none"},
    ),
    case(
        "clinician-without-a-side-speaks-for-both-knee-day-41",
        WORD + KNEE,
        flags=[
            flag("knee_replacement", side="right", on="2026-03-02"),
            word("kneeling_load", "modify"),
        ],
        exercise=knees,
        on="2026-04-12",
        side="right",
        verdict="modify",
        demands={"kneeling_load": "modify"},
    ),
    # On an exercise.
    case(
        "clinician-stricter-on-an-exercise-the-table-is-silent-about",
        WORD + NO_ROW,
        flags=[word("seated_reach", "avoid")],
        exercise=reach,
        on="2026-11-25",
        verdict="avoid",
    ),
    case(
        "clinician-stricter-on-an-exercise-the-table-watches",
        WORD + CUSTOM,
        flags=[flag("neck_pain"), word("seated_reach", "avoid")],
        exercise=reach,
        on="2026-11-25",
        verdict="avoid",
    ),
    case(
        "clinician-laxer-on-an-exercise-the-table-avoids",
        WORD + BONE,
        flags=[flag("osteoporosis"), word("seated_saw", "modify")],
        exercise=saw,
        on="2026-11-25",
        verdict="modify",
    ),
    case(
        "clinician-laxer-on-an-exercise-ended-the-day-before",
        WORD + BONE,
        flags=[flag("osteoporosis"), word("seated_saw", "modify", until="2026-11-24")],
        exercise=saw,
        on="2026-11-25",
        verdict="avoid",
        demands={"end_range_rotation": "avoid", "end_range_spinal_flexion": "avoid"},
    ),
    case(
        "clinician-stricter-on-an-exercise-on-its-last-day",
        WORD + NO_ROW,
        flags=[word("seated_reach", "avoid", until="2026-11-25")],
        exercise=reach,
        on="2026-11-25",
        verdict="avoid",
    ),
    case(
        "clinician-about-another-exercise",
        WORD + BONE,
        flags=[flag("osteoporosis"), word("seated_reach", "watch")],
        exercise=saw,
        on="2026-11-25",
        verdict="avoid",
        demands={"end_range_rotation": "avoid", "end_range_spinal_flexion": "avoid"},
    ),
]
