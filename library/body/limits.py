"""How far a movement goes: what leads it, and which share of the way a client's own limit leaves of it.

A pose names its ``driver``: an angle of the skeleton (``r.hip``, ``both.knee``, ``lean``) or a number of a
contact (``pedal``, ``pushbar``). A limit is a value of the driver. Its share of the way, 0 at the start and
1 at the end, holds for everything else that moves: one joint stopped by itself would tear hands and feet off
the apparatus. Values are the solved ones, as authored ones may lie beyond what the body reaches.

A limit is kept as plain values: ``{"by": "share", "value": 50}`` in per cent of the way, or
``{"by": "degrees", "value": 40.0, "of": "r.hip", "from": 90.0}`` as a value of the named driver, with the value at
which it started when the limit was set.
"""

from dataclasses import dataclass
from itertools import pairwise

from library.body.cutting import Torn, cut
from library.body.movement import keyframes
from library.body.skeleton import BODY_ANGLES, LIMB_ANGLES, angles_of

# A driver that moves less than this leads nothing anybody could stop at (common practice, no source).
LEAST_DEGREES = 4.0
PARTLY, NO_EFFECT, NOTHING_LEFT, UNKNOWN = "partly", "no effect", "nothing left", "unknown"
BY_SHARE, BY_DEGREES = "share", "degrees"
# As near to an end as this, in shares of the way, is that end.
_AT_AN_END = 0.005


def angle(driver: str) -> str:
    """A driver without its side: ``hip``, ``lean``, ``pedal``."""
    return driver.rpartition(".")[2]


def is_measured(driver: str) -> bool:
    """Whether a driver is an angle that a goniometer reads; what is not is counted from where it starts."""
    return angle(driver) in LIMB_ANGLES


@dataclass(frozen=True)
class Lead:
    """What leads a movement: the driver's name and its values (share of the way, degrees), start to end."""

    driver: str
    way: tuple[tuple[float, float], ...]

    @property
    def start(self) -> float:
        return self.way[0][1]

    @property
    def end(self) -> float:
        return self.way[-1][1]

    def limit(self, value: float) -> dict:
        """A limit at a value of the driver, as it is kept."""
        return {"by": BY_DEGREES, "value": value, "of": self.driver, "from": self.start}

    def share(self, value: float) -> float:
        """The share of the way at which the driver first has this value, 0 to 1.

        0 for a value on the near side of the start, 1 for one beyond everything the driver reaches.
        """
        for (low, first), (high, last) in pairwise(self.way):
            if min(first, last) <= value <= max(first, last) and first != last:
                return low + (high - low) * (value - first) / (last - first)
        turned_back = (value - self.start) * (self.end - self.start) < 0
        return 0.0 if turned_back else 1.0

    def value(self, share: float) -> float:
        """The driver's value at a share of the way."""
        share = min(max(share, 0.0), 1.0)
        for (low, first), (high, last) in pairwise(self.way):
            if share <= high:
                return first + (last - first) * (share - low) / (high - low)
        return self.end


@dataclass(frozen=True)
class Held:
    """A pose with a client's limit: what to draw, and what the limit does.

    effect: PARTLY, NO_EFFECT (the limit lies beyond the end), NOTHING_LEFT (at or before the start), UNKNOWN
    (the limit was set by something that does not lead this pose). drawn: whether ``pose`` ends at the limit;
    where it does not, it is the whole movement.
    """

    pose: dict
    share: float
    effect: str
    drawn: bool


def lead(pose: dict) -> Lead | None:
    """What leads a pose, or None where its driver is not known or hardly moves."""
    frames = keyframes(pose)
    way = tuple((share, driver_value(frame, pose.get("driver", ""))) for share, frame in frames)
    values = [value for _, value in way]
    if None in values or abs(values[-1] - values[0]) < LEAST_DEGREES:
        return None
    return Lead(pose["driver"], way)


def share_of(limit: dict | None, leading: Lead | None) -> float | None:
    """The share of the way that a limit leaves; 1 without a limit, None where the limit does not fit."""
    if not limit:
        return 1.0
    if limit["by"] == BY_SHARE:
        return min(max(limit["value"] / 100, 0.0), 1.0)
    if leading is None or limit.get("of") != leading.driver:
        return None
    return leading.share(limit["value"])


def effect_of(share: float | None) -> str:
    """What a share leaves of a movement."""
    if share is None:
        return UNKNOWN
    if share <= _AT_AN_END:
        return NOTHING_LEFT
    return NO_EFFECT if share >= 1 - _AT_AN_END else PARTLY


def held(pose: dict, limit: dict | None) -> Held:
    """A pose at a client's limit. Where it cannot be cut there the whole pose is given, and ``drawn`` says so."""
    share = share_of(limit, lead(pose))
    effect = effect_of(share)
    if effect != PARTLY:
        return Held(pose, 1.0 if share is None else share, effect, effect == NO_EFFECT)
    try:
        return Held(cut(pose, share), share, effect, True)
    except Torn:
        return Held(pose, share, effect, False)


def driver_value(frame: dict, driver: str) -> float | None:
    """The solved value of a driver in one keyframe; None where it is no angle and no number of a contact."""
    part, _, angle = driver.rpartition(".")
    if angle in BODY_ANGLES and not part:
        return angles_of(frame).get(angle, 0.0)
    if angle in LIMB_ANGLES and part in ("l", "r", "both"):
        return angles_of(frame).get(f"{'r' if part == 'both' else part}.{angle}", 0.0)
    numbers = (touch.get(driver) for touch in frame["touch"])
    return next((float(number) for number in numbers if isinstance(number, int | float)), None)
