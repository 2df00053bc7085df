"""The demo studio itself: settings, hours, rooms, apparatus, springs. Plain data.

The springs carry names of the studio's own making, as any studio has words of its own for them.
"""

from datetime import time

STUDIO = {
    "name": "Wyndlefold Studio",
    "telephone": "01632 960100",
    "emergency_number": "999",
    "zone": "Europe/London",
    "locale": "en-gb",
    "units": "metric",
    "paper": "a4",
}

# Weekday (Monday is 0) -> opens, closes.
HOURS = {
    **{day: (time(7), time(20)) for day in range(5)},
    5: (time(8), time(16)),
    6: (time(9), time(14)),
}

LONG, GARDEN = "Long Room", "Garden Room"
# Room -> bookings at once.
ROOMS = {LONG: 3, GARDEN: 2}

# Unit -> kind, room.
UNITS = {
    "Reformer 1": ("reformer", LONG),
    "Reformer 2": ("reformer", LONG),
    "Reformer 3": ("reformer", LONG),
    "Chair 1": ("chair", LONG),
    "Trapeze table": ("trapeze_table", GARDEN),
    "Chair 2": ("chair", GARDEN),
    "Ladder barrel": ("ladder_barrel", GARDEN),
    "Arc 1": ("arc", GARDEN),
    "Arc 2": ("arc", GARDEN),
}

# Unit -> what belongs to it (codes of the library's closed list).
_EVERY_REFORMER = ("footbar", "foot_loops", "foot_strap", "hand_straps", "headrest", "shoulder_rests")
PARTS = {
    "Reformer 1": (*_EVERY_REFORMER, "long_box", "short_box", "standing_platform"),
    "Reformer 2": (*_EVERY_REFORMER, "long_box", "short_box", "jump_board"),
    "Reformer 3": (*_EVERY_REFORMER, "standing_platform"),
    "Chair 1": ("handles", "pedal"),
    "Chair 2": ("pedal",),
    "Trapeze table": (
        "ankle_slings",
        "arm_springs",
        "leg_springs",
        "push_through_bar",
        "roll_down_bar",
        "safety_strap",
        "trapeze_frame",
        "trapeze_sling",
    ),
    "Ladder barrel": ("ladder",),
}

# Kind -> (the studio's own name, grade, how many on one unit).
SPRINGS = {
    "reformer": (
        ("Thistledown", "very_light", 1),
        ("Fleece", "light", 1),
        ("Tweed", "medium", 2),
        ("Blanket", "heavy", 1),
    ),
    "trapeze_table": (
        ("Reed", "very_light", 2),
        ("Willow", "light", 2),
        ("Hazel", "medium", 2),
        ("Yew", "heavy", 2),
    ),
    "chair": (
        ("Spindle", "light", 1),
        ("Shuttle", "medium", 2),
    ),
}
