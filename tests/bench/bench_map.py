"""Server time and queries of exercise pages, maps and ideas, without a client and for one.

    .venv/bin/python -m tests.bench.bench_map

On the demo's Wednesday, the whole library loaded. Each page is asked for many times through Django's own test
client; the median counts. Then what the client has done is multiplied and the queries are counted again: they must
not grow. Prints each figure beside its target and ends with code 1 when one is missed; the processor's time beside
it tells a slow page from a busy machine.
"""

import statistics
import sys
import time

from tests.bench.bench_pages import TIMES, WEDNESDAY, Page, figures, queries_of, signed_in
from tests.bench.house import database

TARGET_MS = 80
# The exercises with the fullest maps, and the idea and the skill with the most exercises.
EXERCISES = ("mat_pelvic_curl", "mat_heel_slide", "ref_bottom_lift")
FAMILY, SKILL = "tf_supine_legs", "scapular_control"


def main() -> int:
    with database(WEDNESDAY):
        return 0 if measure() else 1


def measure() -> bool:
    """Print a line for each page and return whether all targets are met."""
    pages, client, teacher = laid()
    grow(client, teacher, 1)  # so that each exercise has a last time
    timed = [(page, *figures(page), processor(page)) for page in pages]
    grow(client, teacher, 12)
    met = True
    for page, median, slowest, queries, used in timed:
        after = queries_of(page)
        good = median <= TARGET_MS and after == queries
        met = met and good
        print(
            f"{page.name:<36} {median:6.1f} ms median, {slowest:6.1f} ms slowest of {TIMES},"
            f" {used:5.1f} ms of processor"
            f"   target {TARGET_MS} ms   {queries:>3} queries, {after:>3} with more rows"
            f"   {'met' if good else 'MISSED'}"
        )
    return met


def processor(page) -> float:
    """Return the median of the processor's time of a page, in milliseconds."""
    times = []
    for _time in range(TIMES // 3):
        begun = time.process_time()
        page.get()
        times.append((time.process_time() - begun) * 1000)
    return statistics.median(times)


def laid():
    """Lay the demo and return the pages, and the client who has done the most."""
    from django.db.models import Count

    from clients.models import Client
    from library.actions.loading import load_library
    from library.models import Exercise
    from sessions.demo import laying
    from studio.models import Staff

    load_library()
    laying.lay(WEDNESDAY)
    teacher = Staff.objects.get(sign_in_name="maris")
    browser = signed_in(teacher)
    client = Client.objects.annotate(done=Count("attendances__record__entries")).order_by("-done").first()
    ids = dict(Exercise.objects.values_list("key", "public_id"))
    at = f"/clients/{client.public_id}"
    pages = []
    for key in EXERCISES:
        pages += [
            Page(f"exercise {key}", browser, f"/library/{ids[key]}/"),
            Page(f"map {key}", browser, f"/library/{ids[key]}/map/"),
            Page(f"client, exercise {key}", browser, f"{at}/exercises/{ids[key]}/"),
            Page(f"client, map {key}", browser, f"{at}/exercises/{ids[key]}/map/"),
        ]
    pages += [
        Page("ideas", browser, "/library/ideas/"),
        Page(f"idea {FAMILY}", browser, f"/library/ideas/{FAMILY}/"),
        Page(f"client, idea {FAMILY}", browser, f"{at}/ideas/{FAMILY}/"),
        Page(f"skill {SKILL}", browser, f"/library/skills/{SKILL}/"),
        Page(f"client, skill {SKILL}", browser, f"{at}/skills/{SKILL}/"),
    ]
    return pages, client, teacher


def grow(client, teacher, sessions: int) -> None:
    """Add so many sessions in which the client did each of the exercises, and as many flags."""
    import datetime as dt

    from sessions.demo import factories as f

    for number in range(sessions):
        earlier = WEDNESDAY.date() - dt.timedelta(days=400 + 20 * sessions + number)
        booking = f.BookingFactory(instructor=teacher, wall_day=earlier)
        before = f.AttendanceFactory(client=client, booking=booking, state="done")
        record = f.RecordFactory(attendance=before, finished_at=booking.ends_at)
        for key in (*EXERCISES, "mat_clam"):
            f.EntryFactory(record=record, exercise__key=key, both={"quality": 4, "repetitions": 8})
        f.FlagFactory(client=client, condition="asthma", created_by=teacher)


if __name__ == "__main__":
    sys.exit(main())
