"""Clearance and age cases, typed by hand.

CLEARANCE: what must be on file before a session, by condition and date. The three levels and the day limits
are design choices of a studio (common practice, no source) laid on the advice each condition's verdict cases
name. A level holds while fewer than the limit's days have gone by, as windows do; then the next one holds, or
none. An unknown or future date keeps the first level; 'long ago' takes the last.

AGES: gestational age, and age since a birth or an operation, in whole weeks and days.
"""

from datetime import date
from typing import NamedTuple

LEVELS = "common practice, no source (levels of clearance and their limits)"
OBSTETRIC = "standard obstetric dating, 280 days from the last period"
CALENDAR = "standard calendar, whole days from the event"


class Clearance(NamedTuple):
    """The level expected of one condition on one day; `event` is a date, 'long_ago' or None (unknown)."""

    id: str
    condition: str
    event: object
    on: date
    level: str
    source: str


class Age(NamedTuple):
    """The age expected: 'gestation' counts back from a due date, 'since' counts on from an event."""

    id: str
    kind: str
    anchor: date
    on: date
    weeks: int
    days: int
    source: str


def undated(level, conditions):
    """The rows of conditions whose level does not depend on a date."""
    on = date(2026, 11, 25)
    return [Clearance(f"{name}-always-{level}", name, None, on, level, LEVELS) for name in conditions.split()]


def for_good(conditions):
    """Written word before every start, however old: no date ends it."""
    rows = []
    for name in conditions.split():
        for tag, event in (
            ("last-week", date(2026, 11, 18)),
            ("ten-years-back", date(2016, 11, 18)),
            ("long-ago", "long_ago"),
        ):
            rows.append(
                Clearance(f"{name}-{tag}", name, event, date(2026, 11, 25), "written_before_start", LEVELS)
            )
    return rows


def until(limit, first, then, conditions, *, event, before, at, after):
    """The rows of conditions with a limit: the day before it, on it and after it, and without a date.

    Raises ValueError when the typed dates are not the limit's neighbours.
    """
    event, before, at, after = (date.fromisoformat(day) for day in (event, before, at, after))
    if [(day - event).days for day in (before, at, after)] != [limit - 1, limit, limit + 1]:
        raise ValueError(f"dates for day {limit} after {event} do not agree")
    rows = []
    for name in conditions.split():
        rows += [
            Clearance(f"{name}-day-{limit - 1}", name, event, before, first, LEVELS),
            Clearance(f"{name}-day-{limit}", name, event, at, then, LEVELS),
            Clearance(f"{name}-day-{limit + 1}", name, event, after, then, LEVELS),
            Clearance(f"{name}-day-0", name, event, event, first, LEVELS),
            Clearance(f"{name}-unknown", name, None, at, first, LEVELS),
            Clearance(f"{name}-event-in-the-future", name, after, at, first, LEVELS),
            Clearance(f"{name}-long-ago", name, "long_ago", at, then, LEVELS),
        ]
    return rows


CLEARANCE = [
    *undated(
        "none",
        """osteoporosis osteopenia spinal_stenosis scoliosis si_joint_pain acute_low_back_pain neck_pain
        shoulder_impingement frozen_shoulder carpal_tunnel_wrist tennis_elbow hip_impingement_labral
        hip_osteoarthritis knee_osteoarthritis patellofemoral_pain ankle_sprain plantar_heel_pain
        meniscus_tear osteoarthritis_general hypermobility fibromyalgia hypertension_controlled
        diabetes_insulin asthma blood_thinners vertigo_bppv multiple_sclerosis parkinsons migraine
        pregnancy_pelvic_girdle_pain diastasis_recti pelvic_floor_prolapse lymphoedema_risk reflux
        anxiety_panic lymphoedema_leg""",
    ),
    *undated(
        "ask",
        """disc_flexion_intolerant spondylolisthesis cervical_radiculopathy rheumatoid_arthritis
        orthostatic_hypotension lung_disease_other glaucoma epilepsy peripheral_neuropathy_feet pregnancy
        hernia cancer_treatment_active me_cfs_long_covid""",
    ),
    *undated(
        "written_before_start",
        """hypertension_uncontrolled coronary_disease cardiac_surgery_sternotomy atrial_fibrillation
        pacemaker_icd diabetic_retinopathy aneurysm_known stroke epilepsy_uncontrolled bone_metastases""",
    ),
    *for_good("cardiac_surgery_sternotomy pacemaker_icd"),
    *until(
        84,
        "written_before_start",
        "ask",
        "osteoporosis_vertebral_fracture spinal_surgery",
        event="2026-03-02",
        before="2026-05-24",
        at="2026-05-25",
        after="2026-05-26",
    ),
    *until(
        84,
        "written_before_start",
        "none",
        """rotator_cuff_repair fracture_arm_recent hip_replacement_posterior hip_replacement_anterior
        knee_replacement acl_reconstruction fracture_leg_recent recent_clot""",
        event="2023-12-11",
        before="2024-03-03",
        at="2024-03-04",
        after="2024-03-05",
    ),
    *until(
        112,
        "written_before_start",
        "none",
        "meniscus_repair",
        event="2026-03-02",
        before="2026-06-21",
        at="2026-06-22",
        after="2026-06-23",
    ),
    *until(
        56,
        "written_before_start",
        "none",
        "retinal_detachment abdominal_surgery_recent",
        event="2025-11-17",
        before="2026-01-11",
        at="2026-01-12",
        after="2026-01-13",
    ),
    *until(
        42,
        "written_before_start",
        "none",
        "breast_surgery",
        event="2026-03-02",
        before="2026-04-12",
        at="2026-04-13",
        after="2026-04-14",
    ),
    *until(
        14,
        "written_before_start",
        "ask",
        "concussion_recent",
        event="2026-03-02",
        before="2026-03-15",
        at="2026-03-16",
        after="2026-03-17",
    ),
    *until(
        42,
        "ask",
        "none",
        "whiplash",
        event="2025-12-29",
        before="2026-02-08",
        at="2026-02-09",
        after="2026-02-10",
    ),
    *until(
        84,
        "ask",
        "none",
        "shoulder_instability postnatal_vaginal postnatal_caesarean",
        event="2025-11-17",
        before="2026-02-08",
        at="2026-02-09",
        after="2026-02-10",
    ),
    *until(
        14,
        "ask",
        "none",
        "wrist_hand_injury_acute",
        event="2026-03-02",
        before="2026-03-15",
        at="2026-03-16",
        after="2026-03-17",
    ),
    *until(
        28,
        "ask",
        "none",
        "cataract_surgery",
        event="2026-03-02",
        before="2026-03-29",
        at="2026-03-30",
        after="2026-03-31",
    ),
]

# (name, due date, session, weeks, days), counted on a calendar.
GESTATION = [
    ("last-period-itself", "2026-03-09", "2025-06-02", 0, 0),
    ("day-after-last-period", "2026-03-09", "2025-06-03", 0, 1),
    ("second-third-begins", "2026-03-09", "2025-09-08", 14, 0),
    ("last-third-begins", "2026-03-09", "2025-12-15", 28, 0),
    ("leap-day-before-due", "2024-03-02", "2024-02-29", 39, 5),
    ("day-after-leap-day", "2024-03-02", "2024-03-01", 39, 6),
    ("last-period-on-a-leap-day", "2024-12-05", "2024-02-29", 0, 0),
    ("last-period-on-a-leap-day-14-weeks", "2024-12-05", "2024-06-06", 14, 0),
    ("spring-of-a-plain-year", "2026-09-06", "2026-03-08", 14, 0),
    ("last-day-of-the-year", "2027-01-15", "2026-12-31", 37, 6),
    ("first-day-of-the-year", "2027-01-15", "2027-01-01", 38, 0),
    ("due-day", "2027-01-15", "2027-01-15", 40, 0),
    ("two-weeks-over", "2027-01-15", "2027-01-29", 42, 0),
    ("leap-year-28-february", "2028-03-07", "2028-02-28", 38, 6),
    ("leap-year-29-february", "2028-03-07", "2028-02-29", 39, 0),
    ("leap-year-1-march", "2028-03-07", "2028-03-01", 39, 1),
    ("sixteen-weeks-on-a-leap-day", "2024-08-15", "2024-02-29", 16, 0),
    ("day-before-sixteen-weeks", "2026-12-28", "2026-07-12", 15, 6),
]

# (name, day of the event, session, weeks, days).
SINCE = [
    ("same-day", "2026-03-02", "2026-03-02", 0, 0),
    ("day-before-six-weeks", "2026-03-02", "2026-04-12", 5, 6),
    ("six-weeks", "2026-03-02", "2026-04-13", 6, 0),
    ("day-before-twelve-weeks", "2026-03-02", "2026-05-24", 11, 6),
    ("twelve-weeks", "2026-03-02", "2026-05-25", 12, 0),
    ("born-on-a-leap-day-six-weeks", "2024-02-29", "2024-04-11", 6, 0),
    ("over-the-new-year", "2025-12-30", "2026-01-06", 1, 0),
    ("over-a-leap-day", "2024-02-26", "2024-03-04", 1, 0),
    ("no-leap-day", "2026-02-26", "2026-03-04", 0, 6),
    ("half-a-year", "2026-03-02", "2026-08-31", 26, 0),
]

AGES = [
    Age(f"{kind}-{name}", kind, date.fromisoformat(anchor), date.fromisoformat(on), weeks, days, source)
    for kind, source, rows in (("gestation", OBSTETRIC, GESTATION), ("since", CALENDAR, SINCE))
    for name, anchor, on, weeks, days in rows
]
