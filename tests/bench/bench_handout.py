"""How long a handout takes, how large it is, and whether making one slows the pages of the studio.

    .venv/bin/python -m tests.bench.bench_handout

Prints each figure beside its target and ends with code 1 when one is missed.
"""

import os
import statistics
import sys
import threading
import time

TIMES = 12
WARM_SECONDS = 0.8
LARGEST = 400_000
# A page's work in the server's own process, while a PDF is being made next door.
SLOWED_BY = 0.030


def main() -> int:
    os.environ.setdefault("DJANGO_SETTINGS_MODULE", "tests.settings")
    import django

    django.setup()
    from sessions import pdf

    begun = time.perf_counter()
    there, reason = pdf.available()
    print(f"worker ready after {time.perf_counter() - begun:.2f} s {reason}")
    if not there:
        return 1
    lines = [*handouts(), *neighbours()]
    for what, value, target, met in lines:
        print(f"{what:<46} {value:>10}   target {target:<10} {'met' if met else 'MISSED'}")
    pdf.shutdown()
    return 0 if all(met for *_line, met in lines) else 1


def page(**changes) -> str:
    from django.template.loader import render_to_string

    from sessions import handout
    from tests.sessions.handout_samples import handout_values, item, items

    reach = item("mat_bird_dog", {"left": {"times": 6}, "right": {"times": 6}, "means": "working_leg"})
    values = handout_values(items=[*items(), reach], **changes)
    return render_to_string("handouts/handout.html", {"payload": handout.build(**values), "for_pdf": True})


def handouts():
    """Four exercises, from payload to bytes: the middle of several, with figures drawn before and not."""
    from library.body import drawing
    from sessions import pdf

    for name, changes in (("A4", {}), ("Letter", {"paper": "letter"}), ("large print", {"large": True})):
        took, size = [], 0
        for _time in range(TIMES):
            begun = time.perf_counter()
            size = len(pdf.make_pdf(page(**changes)))
            took.append(time.perf_counter() - begun)
        middle = statistics.median(took)
        yield (
            f"{name}, warm, median of {TIMES}",
            f"{middle:.2f} s",
            f"{WARM_SECONDS} s",
            middle < WARM_SECONDS,
        )
        yield f"{name}, size", f"{size // 1000} kB", f"{LARGEST // 1000} kB", size < LARGEST
    for cached in vars(drawing).values():
        if hasattr(cached, "cache_clear"):
            cached.cache_clear()
    begun = time.perf_counter()
    pdf.make_pdf(page())
    took = time.perf_counter() - begun
    yield "A4, figures not drawn before", f"{took:.2f} s", f"{WARM_SECONDS} s", took < WARM_SECONDS


def neighbours():
    """The same small work again and again, alone and while PDFs are made without a pause."""
    from sessions import pdf

    html = page()
    alone = _ninety_fifth(_work())
    stop = threading.Event()

    def press() -> None:
        while not stop.is_set():
            pdf.make_pdf(html)

    thread = threading.Thread(target=press)
    thread.start()
    beside = _ninety_fifth(_work())
    stop.set()
    thread.join()
    slower = beside - alone
    yield (
        "a page beside it, 95 in 100, slower by",
        f"{slower * 1000:.0f} ms",
        f"{SLOWED_BY * 1000:.0f} ms",
        slower < SLOWED_BY,
    )


def _work(times: int = 150):
    for _time in range(times):
        begun = time.perf_counter()
        page()
        yield time.perf_counter() - begun


def _ninety_fifth(durations) -> float:
    return statistics.quantiles(durations, n=20)[-1]


if __name__ == "__main__":
    sys.exit(main())
