"""How long figures take and what they weigh.

    .venv/bin/python -m tests.bench.bench_figures

Prints each figure beside its target and ends with code 1 when one is missed. "From nothing" means that nothing
of the pose was drawn or solved before; the modules are loaded and the numeric library is warm. Times are those of the
processor: what else the machine does meanwhile does not count.
"""

import statistics
import sys
import time

from library.body import all_poses, cutting, drawing, figure

FIRST_MS, KEPT_MS = 20, 1
HANDOUT_MS, HANDOUT_FIGURES = 250, 16
TWO_PANELS_BYTES = 12_000
LIBRARY_S = 10


def main() -> int:
    poses = all_poses()
    for pose in list(poses.values())[:3]:
        two_panels(pose)
    lines = [*one_by_one(poses), *of_a_handout(poses), *whole_library(poses)]
    for what, value, target, met in lines:
        verdict = "" if met is None else "met" if met else "MISSED"
        print(f"{what:<58} {value:>22}   {target:<12} {verdict}")
    return 0 if all(met for *_line, met in lines if met is not None) else 1


def forget() -> None:
    """Empty everything that is kept of drawings."""
    for module in (drawing, cutting):
        for kept in vars(module).values():
            if hasattr(kept, "cache_clear"):
                kept.cache_clear()


def two_panels(pose: dict, paint: str = "screen") -> list[str]:
    side = "right" if "side" in pose else None
    return [figure(pose, phase=phase, side=side, paint=paint, title="A figure") for phase in ("start", "end")]


def timed(work) -> float:
    """Return milliseconds of the processor."""
    begun = time.process_time()
    work()
    return (time.process_time() - begun) * 1000


def one_by_one(poses: dict):
    first, kept, sizes = {}, {}, {}
    for key, pose in poses.items():
        forget()
        first[key] = timed(lambda pose=pose: two_panels(pose))
        kept[key] = timed(lambda pose=pose: two_panels(pose))
        sizes[key] = sum(len(text.encode()) for text in two_panels(pose))
    for name, values, most, unit in (
        ("drawn first", first, FIRST_MS, "ms"),
        ("from what is kept", kept, KEPT_MS, "ms"),
        ("bytes", sizes, TWO_PANELS_BYTES, "bytes"),
    ):
        middle, worst = statistics.median(values.values()), max(values, key=values.get)
        over = [key for key, value in values.items() if value > most]
        shown = f"{middle:.2f}" if unit == "ms" else f"{middle:.0f}"
        yield (
            f"two panels, {name}, middle of {len(values)}",
            f"{shown} {unit}",
            f"{most} {unit}",
            middle <= most,
        )
        yield f"  largest: {worst}", f"{values[worst]:.1f} {unit}", f"{most} {unit}", None
        yield f"  over the target: {' '.join(over[:6])}", str(len(over)), "0", None


def of_a_handout(poses: dict):
    """Eight exercises, two panels each, on paper and from nothing."""
    sample = list(poses.values())[:: len(poses) // (HANDOUT_FIGURES // 2)][: HANDOUT_FIGURES // 2]
    took = []
    for _time in range(5):
        forget()
        took.append(timed(lambda: [two_panels(pose, "paper") for pose in sample]))
    middle = statistics.median(took)
    yield (
        f"{HANDOUT_FIGURES} figures of a handout",
        f"{middle:.0f} ms",
        f"{HANDOUT_MS} ms",
        middle < HANDOUT_MS,
    )


def whole_library(poses: dict):
    forget()
    seconds = timed(lambda: [two_panels(pose) for pose in poses.values()]) / 1000
    yield (
        f"the whole library, {len(poses)} exercises",
        f"{seconds:.1f} s",
        f"{LIBRARY_S} s",
        seconds < LIBRARY_S,
    )


if __name__ == "__main__":
    sys.exit(main())
