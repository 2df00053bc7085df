"""How long it takes to find what to do instead of one exercise among all.

    .venv/bin/python -m tests.bench.bench_alternatives

Every exercise of the library in turn, for the client with ten flags of `bench_judge`, judged as the screens do
and with nothing kept from before. Prints the medians and the exercise that takes longest beside the target, and
ends with code 1 when that one misses it.
"""

import statistics
import sys
import time

from library.alternatives import nearest
from library.precautions import judge
from library.standing import standing
from library.tables import exercises
from tests.bench.bench_judge import FLAGS, ON

TARGET_MS, TIMES = 20, 7


def time_of(exercise_id: str) -> float:
    """Milliseconds of one search: the time this process worked; the flags are weighed anew."""

    def judge_one(key, adaptations=()):
        return judge(FLAGS, key, ON, adaptations=adaptations)

    standing.cache_clear()
    begun = time.process_time()
    nearest(exercise_id, judge_one, judge_changed=judge_one, at_hand=("reformer",))
    return (time.process_time() - begun) * 1000


def main() -> int:
    medians = {key: statistics.median(time_of(key) for _ in range(TIMES)) for key in exercises()}
    longest = max(medians, key=medians.get)
    word = "met" if medians[longest] < TARGET_MS else "MISSED"
    print(
        f"alternatives of one exercise among {len(medians)}: median {statistics.median(medians.values()):.1f} ms, "
        f"longest {medians[longest]:.1f} ms ({longest}); target {TARGET_MS} ms: {word}"
    )
    return int(word != "met")


if __name__ == "__main__":
    sys.exit(main())
