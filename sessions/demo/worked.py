"""What has worked for the demo's clients, exercise by exercise: cues, how far they go, what they begin with."""

from dataclasses import dataclass

from library import limit_wording
from library.body import limits as ranges
from sessions import own_limits
from sessions.actions import own_ways
from sessions.demo.cast import BY_KEY
from sessions.models import OwnWay

# The Thursday of the week before, once the day's sessions are over.
WEEK, DAY, TIME = -1, 3, "20:30"


@dataclass(frozen=True)
class Kept:
    """One client's own way in one exercise. cues: the one that worked last comes first. prefers: last settings.

    limit: how far, as (side, "share" or "degrees", number as it is read). since: the week in which it was set, before
    a handout was issued with it; else it came last, and a handout from before it is called back.
    """

    client: str
    exercise: str
    cues: tuple[str, ...] = ()
    range: str = ""
    words: str = ""
    prefers: bool = False
    limit: tuple[tuple[str, str, int], ...] = ()
    since: int = WEEK


KEPT = (
    Kept("petra", "st_hip_hinge", ("Shut the drawer behind you.",), "medium", "hands to the kneecaps"),
    Kept(
        "petra",
        "mat_bird_dog",
        ("Long heel, heavy pelvis.", "Balance a cup on your belt."),
        "small",
        limit=(("left", "share", 75), ("right", "share", 50)),
        since=-3,
    ),
    Kept("ottoline", "ref_foot_heels", ("Footprints in wet sand.",), "full", prefers=True),
    Kept(
        "ottoline",
        "st_wall_slide",
        ("Polish the wall.",),
        "medium",
        "to the height of the chin",
        limit=(("both", "degrees", 90),),
        since=-2,
    ),
    Kept("ottoline", "ref_scooter", ("The carriage is asleep, do not wake it.",), prefers=True),
    Kept("teodor", "ref_foot_toes", ("Up on all five toes.",), "medium", "heels level with the bar", True),
    Kept(
        "teodor",
        "st_single_leg_stand",
        ("Grow out of the standing foot.",),
        limit=(("left", "degrees", 60),),
        since=-7,
    ),
    Kept("wenna", "mat_prone_chest_lift", ("Slide the breastbone along the mat first.",), "small"),
    Kept("wenna", "ref_foot_heels", ("Push the floor, not the bar.",), prefers=True),
    Kept("kofi", "sp_band_row", ("Elbows in your back pockets.", "Wide collarbones, quiet wrists.")),
    Kept(
        "kofi",
        "mat_chest_lift",
        ("Look over the edge of a table.",),
        "small",
        "shoulder blades stay down",
        limit=(("both", "share", 50),),
    ),
    Kept("elowen", "mat_bird_dog", ("Balance a ruler across your back.",), limit=(("left", "share", 50),)),
    Kept("rosalind", "mat_clam", limit=(("left", "degrees", 30), ("right", "degrees", 50)), since=-16),
    Kept("anjali", "mat_chest_lift", limit=(("both", "share", 75),)),
    Kept("hollis", "ref_elephant", ("Hang from the hips like a coat.",), "full", prefers=True),
    Kept("hollis", "mat_saw", ("Wring yourself out, then reach.",), "medium"),
    Kept("hollis", "ref_short_box_side", ("Over the fence, do not lean on it.",), prefers=True),
)


def plan_for(demo) -> None:
    """Put down what was kept: all of it on one evening, but for limits that are older."""
    for week in sorted({kept.since for kept in KEPT if kept.limit}):
        demo.then(demo.at(demo.day(week, DAY), TIME), lambda week=week: _keep_limits(demo, week))
    demo.then(demo.at(demo.day(WEEK, DAY), TIME), lambda: _keep(demo))


def _who(demo, kept: Kept) -> dict:
    return {
        "actor": demo.actor(BY_KEY[kept.client].instructor),
        "client": demo.clients[kept.client],
        "exercise": demo.shelf.exercises[kept.exercise],
    }


def _keep_limits(demo, week: int) -> None:
    demo.shelf.write()
    for kept in KEPT:
        if kept.limit and kept.since == week:
            who = _who(demo, kept)
            limit = _limit(who["exercise"].current.pose, kept.limit)
            own_ways.set_limit(**who, limit=limit, expected=0)


def _keep(demo) -> None:
    demo.shelf.write()
    for kept in KEPT:
        who = _who(demo, kept)
        for cue in reversed(kept.cues):
            own_ways.worked(**who, cue=cue)
        if kept.range or kept.words:
            values = {"range": kept.range, "range_words": kept.words}
            row = OwnWay.objects.of(who["client"].pk, who["exercise"])
            own_ways.set_range(**who, values=values, expected=row.version if row else 0)
        setting = own_ways.last_setting(who["client"].pk, who["exercise"]) if kept.prefers else {}
        if setting:
            own_ways.prefer(**who, setting=setting)


def _limit(pose: dict, sides) -> dict:
    """Return a limit as it is kept, from numbers as people read them."""
    leading = ranges.lead(pose)
    made = {
        side: own_limits.share(number)
        if by == ranges.BY_SHARE
        else leading.limit(limit_wording.value_of(number, leading))
        for side, by, number in sides
    }
    return own_limits.made(made)
