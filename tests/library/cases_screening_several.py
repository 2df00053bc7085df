"""Verdict cases: which date counts, and several conditions together.

Windows are half-open; a date that is unknown or lies in the future puts every window in force; 'long ago'
leaves the rules without an end. Across conditions the strictest verdict counts. Those are design choices of a
studio (common practice, no source); the rows they are tried on come from the publications named.
"""

from .cases_screening_kit import case, ex, flag, one

DATES = "common practice, no source (how dates combine); "
SEVERAL = "common practice, no source (the strictest counts); "
HIP = "Leeds leaflet and RNOH guide to hip precautions (screening S70)"
KNEE = "Wylde 2019 kneeling after knee replacement (screening S72)"
ARTHRITIS = "NICE NG226 as summarised (screening S79)"
CUSTOM = "the rows themselves common practice, no source"
FRACTURE = "Giangregorio 2015 consensus (screening S50)"
PRESSURE = "ACSM 2004 stand on exercise and hypertension, from memory (screening M13)"
EYE = "Jasien 2015 on head-down positions (screening S100)"
PREGNANT = "Tommy's page on exercises to avoid in pregnancy (screening S36)"
GIRDLE = "Northern Care Alliance NHS leaflet on pelvic girdle pain (screening S59)"

twist = ex("x", ["end_range_rotation"])
knees_named = ex("x", ["kneeling_load"], {"kneeling_load": "named"})
hip_turn = ex("x", ["hip_internal_rotation"], {"hip_internal_rotation": "named"})

DATE_CASES = [
    case(
        "hip-operation-day-after-session-counts-as-unknown",
        DATES + HIP,
        flags=[flag("hip_replacement_posterior", side="left", on="2026-05-25")],
        exercise=hip_turn,
        on="2026-05-24",
        side="left",
        **one("hip_internal_rotation", "avoid"),
    ),
    case(
        "hip-operation-a-year-after-session-counts-as-unknown",
        DATES + HIP,
        flags=[flag("hip_replacement_posterior", side="left", on="2027-05-24")],
        exercise=hip_turn,
        on="2026-05-24",
        side="left",
        **one("hip_internal_rotation", "avoid"),
    ),
    case(
        "kneeling-knee-operation-on-the-day-itself-day-0",
        DATES + KNEE,
        flags=[flag("knee_replacement", side="right", on="2026-05-24")],
        exercise=knees_named,
        on="2026-05-24",
        side="right",
        **one("kneeling_load", "avoid"),
    ),
    case(
        "kneeling-knee-operation-long-ago",
        DATES + KNEE,
        flags=[flag("knee_replacement", side="right", on="long_ago")],
        exercise=knees_named,
        on="2026-05-24",
        side="right",
        **one("kneeling_load", "modify"),
    ),
    case(
        "kneeling-knee-operation-date-and-side-unknown",
        DATES + KNEE,
        flags=[flag("knee_replacement", side="unknown")],
        exercise=knees_named,
        on="2026-05-24",
        side="left",
        **one("kneeling_load", "avoid"),
    ),
    case(
        "kneeling-knee-operation-ten-years-ago-by-date",
        DATES + KNEE,
        flags=[flag("knee_replacement", side="right", on="2016-05-24")],
        exercise=knees_named,
        on="2026-05-24",
        side="right",
        **one("kneeling_load", "modify"),
    ),
    case(
        "ongoing-rule-needs-no-date-and-ignores-one",
        DATES + FRACTURE,
        flags=[flag("osteoporosis", on="2001-01-01")],
        exercise=twist,
        on="2026-05-24",
        **one("end_range_rotation", "avoid"),
    ),
    case(
        "ongoing-rule-holds-long-ago",
        DATES + FRACTURE,
        flags=[flag("osteoporosis", on="long_ago")],
        exercise=twist,
        on="2026-05-24",
        **one("end_range_rotation", "avoid"),
    ),
    case(
        "pregnancy-last-period-after-the-session-counts-as-unknown",
        DATES + PREGNANT,
        flags=[flag("pregnancy", due="2026-12-28")],
        exercise=ex("x", ["prone_lying"]),
        on="2026-03-22",
        **one("prone_lying", "avoid"),
    ),
]


def together(id, source, flags, expected, *, on="2026-11-25", side=None, sides=None, verdict):
    """Several flags at once against an exercise that makes just the demands expected."""
    return case(
        id,
        SEVERAL + source,
        flags=flags,
        exercise=ex("x", expected, sides),
        on=on,
        side=side,
        verdict=verdict,
        demands=expected,
    )


SEVERAL_CASES = [
    together(
        "osteopenia-watch-and-hypermobility-modify",
        "hypermobility physiotherapy notes (screening S81)",
        [flag("osteopenia"), flag("hypermobility")],
        {"end_range_spinal_flexion": "modify"},
        verdict="modify",
    ),
    together(
        "osteopenia-and-osteoporosis",
        FRACTURE,
        [flag("osteopenia"), flag("osteoporosis")],
        {"end_range_spinal_flexion": "avoid", "loaded_spinal_flexion": "avoid", "prone_lying": "none"},
        verdict="avoid",
    ),
    together(
        "order-of-flags-does-not-matter",
        FRACTURE,
        [flag("osteoporosis"), flag("osteopenia")],
        {"end_range_spinal_flexion": "avoid", "loaded_spinal_flexion": "avoid", "prone_lying": "none"},
        verdict="avoid",
    ),
    together(
        "pressure-modify-and-glaucoma-avoid-head-down",
        EYE + "; " + PRESSURE,
        [flag("hypertension_controlled"), flag("glaucoma")],
        {"inversion": "avoid", "isometric_grip": "modify", "prone_lying": "watch"},
        sides={"isometric_grip": "both"},
        verdict="avoid",
    ),
    together(
        "migraine-and-anxiety-both-watch",
        CUSTOM,
        [flag("migraine"), flag("anxiety_panic")],
        {"inversion": "watch", "sustained_vigorous_pace": "watch"},
        verdict="watch",
    ),
    together(
        "reflux-watch-neck-modify-stenosis-silent",
        CUSTOM,
        [flag("reflux"), flag("neck_pain"), flag("spinal_stenosis")],
        {
            "head_lifted_neck_flexion": "modify",
            "loaded_spinal_flexion": "watch",
            "end_range_rotation": "none",
        },
        verdict="modify",
    ),
    together(
        "pregnant-20-weeks-with-girdle-pain",
        GIRDLE + "; " + PREGNANT,
        [flag("pregnancy", due="2027-04-14"), flag("pregnancy_pelvic_girdle_pain")],
        {
            "closed_chain_single_leg": "avoid",
            "hip_wide_abduction": "avoid",
            "jump_impact": "avoid",
            "standing_balance": "modify",
            "end_range_rotation": "watch",
            "neck_end_range": "none",
        },
        sides={"closed_chain_single_leg": "other", "hip_wide_abduction": "named"},
        verdict="avoid",
    ),
    together(
        "left-hip-worn-right-hip-replaced-day-83-record-left",
        ARTHRITIS + "; " + HIP,
        [
            flag("hip_osteoarthritis", side="left"),
            flag("hip_replacement_posterior", side="right", on="2026-03-02"),
        ],
        {"hip_internal_rotation": "modify", "hip_flexion_past_90": "watch"},
        sides={"hip_internal_rotation": "named", "hip_flexion_past_90": "named"},
        on="2026-05-24",
        side="left",
        verdict="modify",
    ),
    together(
        "left-hip-worn-right-hip-replaced-day-83-record-right",
        ARTHRITIS + "; " + HIP,
        [
            flag("hip_osteoarthritis", side="left"),
            flag("hip_replacement_posterior", side="right", on="2026-03-02"),
        ],
        {"hip_internal_rotation": "avoid", "hip_flexion_past_90": "avoid"},
        sides={"hip_internal_rotation": "named", "hip_flexion_past_90": "named"},
        on="2026-05-24",
        side="right",
        verdict="avoid",
    ),
    together(
        "left-hip-worn-right-hip-replaced-day-84-record-both",
        ARTHRITIS + "; " + HIP,
        [
            flag("hip_osteoarthritis", side="left"),
            flag("hip_replacement_posterior", side="right", on="2026-03-02"),
        ],
        {"hip_internal_rotation": "modify", "hip_flexion_past_90": "watch"},
        sides={"hip_internal_rotation": "named", "hip_flexion_past_90": "named"},
        on="2026-05-25",
        verdict="modify",
    ),
    together(
        "both-knees-replaced-right-one-41-days-ago-record-left",
        KNEE,
        [
            flag("knee_replacement", side="left", on="long_ago"),
            flag("knee_replacement", side="right", on="2026-03-02"),
        ],
        {"kneeling_load": "modify", "jump_impact": "avoid"},
        sides={"kneeling_load": "named"},
        on="2026-04-12",
        side="left",
        verdict="avoid",
    ),
    together(
        "both-knees-replaced-right-one-41-days-ago-record-right",
        KNEE,
        [
            flag("knee_replacement", side="left", on="long_ago"),
            flag("knee_replacement", side="right", on="2026-03-02"),
        ],
        {"kneeling_load": "avoid"},
        sides={"kneeling_load": "named"},
        on="2026-04-12",
        side="right",
        verdict="avoid",
    ),
    together(
        "clot-84-days-ago-on-blood-thinners",
        "pages on living with blood thinners (screening S130)",
        [flag("recent_clot", on="2026-03-02"), flag("blood_thinners")],
        {
            "elevated_unstable_platform": "avoid",
            "sustained_vigorous_pace": "watch",
            "inversion": "watch",
            "breath_hold_strain": "none",
        },
        on="2026-05-25",
        verdict="avoid",
    ),
    together(
        "no-flags-at-all",
        "common practice, no source",
        [],
        {"inversion": "none", "loaded_spinal_flexion": "none"},
        verdict="none",
    ),
    together(
        "flags-but-no-demands",
        "common practice, no source",
        [flag("osteoporosis"), flag("pregnancy")],
        {},
        verdict="none",
    ),
    together(
        "hip-worn-says-nothing-about-the-arms",
        "common practice, no source",
        [flag("hip_osteoarthritis", side="both")],
        {"overhead_reach": "none", "isometric_grip": "none", "supine_lying_long": "none"},
        sides={"overhead_reach": "both", "isometric_grip": "both"},
        verdict="none",
    ),
]

CASES = [*DATE_CASES, *SEVERAL_CASES]
