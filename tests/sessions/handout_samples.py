"""Handouts for tests: three exercises with sides and without, told in words of our own."""

from datetime import date

from library.body import all_poses

NAMES = {
    "mat_bird_dog": "Opposite arm and leg reach in four-point",
    "mat_pelvic_curl": "Pelvic curl",
    "mat_side_leg_lift": "Side-lying leg lift",
    "st_single_leg_stand": "Single-leg stand",
}


def item(key: str, dose: dict, **more) -> dict:
    """Return one exercise of a handout as `handout.build` takes it."""
    return {
        "exercise": key,
        "version": 1,
        "name": NAMES[key],
        "pose": all_poses()[key],
        "dose": dose,
        "often": {"days": 7},
        "how": "Move slowly. Keep the rest of you quiet. Stop before it strains.",
        "breath": "Out as you go, in as you come back.",
        "easier": "Go half as far.",
        **more,
    }


def items() -> list[dict]:
    legs = {"left": {"times": 12}, "right": {"times": 9}, "means": "working_leg"}
    holds = {"left": {"times": 3, "seconds": 20}, "right": {"times": 3, "seconds": 20}, "means": "stance_leg"}
    return [
        item("mat_side_leg_lift", legs, adaptations=["Left leg: stop level with your hip."]),
        item("mat_pelvic_curl", {"both": {"times": 7}}, cue="Peel up like tape.", often={"days": 4}),
        item("st_single_leg_stand", holds, props=["a sturdy chair"], often={"weekdays": [0, 2, 4]}),
    ]


def handout_values(**changes) -> dict:
    """Return the keyword arguments of `handout.build`."""
    return {
        "number": 41,
        "version": 3,
        "issued": date(2026, 5, 13),
        "look_again": date(2026, 5, 27),
        "client": "Ottoline",
        "studio": "Wyndlefold Studio",
        "telephone": "01632 960 118",
        "emergency": "112",
        "when": "after a walk",
        "minutes": 10,
        "items": items(),
    } | changes
