"""How long it takes to judge the whole library for one client.

    .venv/bin/python -m tests.bench.bench_judge

A client with ten flags (eight conditions, two instructions of clinicians) against every exercise: with nothing kept
from before, once more for the same client and day, with every adaptation that the exercise offers, and one side at a
time. Prints each median beside its target and ends with code 1 when one is missed.
"""

import statistics
import sys
import time
from datetime import date
from types import SimpleNamespace

from library.flag_dates import FlagFacts
from library.precautions import judge
from library.standing import standing
from library.tables import exercises, rule_table

TARGET_MS, TIMES = 15, 101
ON = date(2026, 11, 25)


def flag(condition=None, **kwargs):
    """A flag with every attribute, as a client's row has them."""
    return SimpleNamespace(**{**dict.fromkeys(FlagFacts._fields), "condition": condition, **kwargs})


FLAGS = (
    flag("pregnancy", due=date(2027, 4, 14)),
    flag("pregnancy_pelvic_girdle_pain"),
    flag("hypermobility"),
    flag("shoulder_instability", side="left", on=date(2026, 10, 1)),
    flag("carpal_tunnel_wrist", side="right"),
    flag("knee_osteoarthritis", side="unknown"),
    flag("hypertension_controlled"),
    flag("disc_flexion_intolerant"),
    flag(instruction="inversion", verdict="avoid", by="Dr Osei", words="not head down"),
    flag(instruction="mat_cat", verdict="watch", by="Dr Osei", words="cat is fine, small"),
)


def main() -> int:
    facts = exercises()
    bare = tuple((fact, ()) for fact in facts)
    offered = tuple((fact["id"], tuple(fact["adaptations"])) for fact in facts.values())
    lines = [
        ("nothing kept from before", bare, {}, True),
        ("the same client again", bare, {}, False),
        ("with all adaptations, nothing kept", offered, {}, True),
        ("with all adaptations, again", offered, {}, False),
        ("right side, short spell, nothing kept", bare, {"side": "right", "supine_seconds": 60}, True),
    ]
    met = True
    for name, rows, how, fresh in lines:
        took = statistics.median(once(rows, how, fresh) for _ in range(TIMES))
        met = met and took < TARGET_MS
        word = "met" if took < TARGET_MS else "MISSED"
        print(
            f"{len(rows)} verdicts, {len(FLAGS)} flags, {name:<40} {took:5.2f} ms   target {TARGET_MS} ms   {word}"
        )
    return 0 if met else 1


def once(rows, how, fresh) -> float:
    """Milliseconds for all rows: the time this process worked, so that other work on the machine does not count."""
    rule_table()
    if fresh:
        standing.cache_clear()
    start = time.process_time()
    for exercise, adaptations in rows:
        judge(FLAGS, exercise, ON, adaptations=adaptations, **how)
    return (time.process_time() - start) * 1000


if __name__ == "__main__":
    sys.exit(main())
