"""Verdict, clearance and age cases for health screening, written by a second hand.

Every expected verdict was read off published advice as laid out in condition tables (consensus statements,
hospital and NHS leaflets, surgeon's protocols; each case names its publications in `source`, and says 'common
practice, no source' or 'from memory' where that is all there is) and typed by hand, one condition at a time.
Nothing here was computed from the program's own rule data, so a slip in code or data shows.

`CASES`     dicts of id, source, flags, exercise, on, side, verdict, demands: see `cases_screening_kit.case`.
`CLEARANCE` what must be on file before a session: see `cases_screening_clearance.Clearance`.
`AGES`      gestational and other ages in weeks and days: see `cases_screening_clearance.Age`.

The sheets of one condition make all forty demands at once, so a demand the table does not name must have no
rule. A spell on the back of unknown length counts as long; no adaptation is chosen in any case.
"""

from . import (
    cases_screening_arm,
    cases_screening_birth,
    cases_screening_clinician,
    cases_screening_heart,
    cases_screening_leg,
    cases_screening_nerve,
    cases_screening_several,
    cases_screening_sides,
    cases_screening_spine,
    cases_screening_trunk,
)
from .cases_screening_clearance import AGES, CLEARANCE

CASES = [
    *cases_screening_spine.CASES,
    *cases_screening_arm.CASES,
    *cases_screening_leg.CASES,
    *cases_screening_heart.CASES,
    *cases_screening_nerve.CASES,
    *cases_screening_birth.CASES,
    *cases_screening_trunk.CASES,
    *cases_screening_sides.CASES,
    *cases_screening_several.CASES,
    *cases_screening_clinician.CASES,
]

__all__ = ["AGES", "CASES", "CLEARANCE"]
