"""Grounding: contacts decide where the body is.

The author gives angles; the solver moves the hips and the angles named free until every contact of the
phase touches what it should. Stored poses carry the result, so drawing never solves anything. Toes under a
foot that stands on its ball lie flat: the ground decides how far they are bent, whatever is authored.

Method: Gauss-Newton on the contact errors in per cent of stature, with a weak pull of the free angles to
the authored ones. Weights and limits: common practice, no source.
"""

from dataclasses import dataclass

import numpy as np

from library.body.contacts import first_point, points_of, sides_on_toes
from library.body.points import limbs_of, locate
from library.body.skeleton import Skeleton, authored_angles, level_toes, stand
from library.body.surfaces import Target, target
from library.body.tables import STATURE_M

PULL = 0.004  # per degree away from the authored angle
LONGEST_STEP = 25.0  # degrees in one round
ROUNDS = 40
LARGEST_GAP_M = 0.003
_PER_CENT = 100 / STATURE_M
_SETTLED = 1e-6
_NUDGE_DEGREES, _NUDGE_M = 0.01, 1e-5
_FIRST_HIPS = (0.0, 0.0, 0.6)
_ABOVE_ROUND = 1.2  # start over a drum, or the nearest way out may lead through it


class GroundingError(ValueError):
    """A phase whose contacts cannot all be met: the worst ``point``, its ``gap_m``, and the phase if known.

    ``reached`` is where the body came to rest, nearest to them all.
    """

    def __init__(self, point: str, gap_m: float, phase: str = "", reached: "Grounded | None" = None):
        super().__init__(f"{point} stays {gap_m * 1000:.0f} mm away from where it should touch")
        self.point, self.gap_m, self.phase, self.reached = point, gap_m, phase, reached


@dataclass(frozen=True)
class Grounded:
    """One solved phase: flat angles in degrees, middle of the hip axis and largest gap in metres."""

    angles: dict[str, float]
    hips: tuple[float, float, float]
    gap_m: float

    @property
    def body(self) -> Skeleton:
        """The skeleton in this position."""
        return stand(self.angles, self.hips)


def ground(phase: dict, scene: dict, *, start: Grounded | None = None) -> Grounded:
    """Solve one phase of a pose; ``start`` is the solved start when ``phase`` is the end.

    Raises GroundingError when a contact stays more than 3 mm from its surface.
    """
    authored = authored_angles(phase)
    free = _free_names(phase)
    targets = [(touch, target(touch, scene, same_x=_start_x(touch, start))) for touch in phase["touch"]]
    values = np.concatenate((_first_hips(targets, start), [authored.get(names[0], 0.0) for names in free]))
    wanted = values[2:].copy()

    # only the limbs that touch, and the trunk, are asked where they are
    limbs = sorted(limbs_of(point for touch, _ in targets for point in points_of(touch)))

    def pose(values: np.ndarray) -> Skeleton:
        return stand(_with(authored, free, values[2:]), (values[0], 0.0, values[1]), limbs=limbs)

    def errors(values: np.ndarray) -> np.ndarray:
        body = pose(values)
        gaps = [gap for touch, aim in targets for gap in contact_gaps(body, touch["point"], aim)]
        return np.concatenate((np.array(gaps) * _PER_CENT, PULL * (values[2:] - wanted)))

    values = _gauss_newton(errors, values)
    return _checked(phase, authored, free, values, targets)


def ground_pose(pose: dict) -> dict[str, Grounded]:
    """Every keyframe of a pose, the start first because the others may refer to it."""
    solved: dict[str, Grounded] = {}
    for name in ("start", "middle", "end"):
        if name in pose:
            try:
                solved[name] = ground(pose[name], pose["scene"], start=solved.get("start"))
            except GroundingError as error:
                raise GroundingError(error.point, error.gap_m, name, error.reached) from None
    return solved


def stored(pose: dict) -> dict:
    """A copy of a pose with its solved angles and hips written in, rounded as they are kept on file."""
    solved = ground_pose(pose)
    return dict(pose) | {name: rounded(pose[name], grounded) for name, grounded in solved.items()}


def rounded(phase: dict, grounded: Grounded) -> dict:
    """A copy of a phase with solved angles and hips, rounded as they are kept on file."""
    angles = {name: round(float(value), 1) for name, value in grounded.angles.items() if round(value, 1)}
    return phase | {"solved": angles, "solved_hips": [round(value, 3) for value in grounded.hips]}


def contact_gaps(body: Skeleton, point: str | list[str], aim: Target) -> list[float]:
    """Distances in metres by which a contact misses its target, one per condition.

    Of a list of points the one that touches first counts: the lowest, or on a round surface the one
    nearest its axis.
    """
    places = [locate(body, name) for name in ([point] if isinstance(point, str) else point)]
    if aim.axis is not None:
        reaches = [float(np.hypot(place[0] - aim.axis[0], place[2] - aim.axis[1])) for place in places]
        nearest = int(np.argmin(reaches))
        place, gaps = places[nearest], [reaches[nearest] - aim.radius]
    else:
        place, gaps = min(places, key=lambda place: place[2]), []
    if aim.x is not None:
        gaps.append(float(place[0] - aim.x))
    if aim.z is not None:
        gaps.append(float(place[2] - aim.z))
    return gaps


def _free_names(phase: dict) -> list[list[str]]:
    """The angles each unknown moves: ``both.hip`` moves two, ``lean`` and ``l.knee`` one."""
    names = []
    for name in phase.get("free", ()):
        part, _, angle = name.partition(".")
        names.append([f"l.{angle}", f"r.{angle}"] if part == "both" else [name])
    return names


def _start_x(touch: dict, start: Grounded | None) -> float | None:
    if touch.get("x") != "same" or start is None:
        return None
    return float(locate(start.body, first_point(touch))[0])


def _first_hips(targets, start: Grounded | None) -> tuple[float, float]:
    if start is not None:
        return start.hips[0], start.hips[2]
    on_round = any(aim.axis is not None for _, aim in targets)
    return _FIRST_HIPS[0], _ABOVE_ROUND if on_round else _FIRST_HIPS[2]


def _with(authored: dict, free: list[list[str]], values: np.ndarray) -> dict[str, float]:
    solved = dict(authored)
    for names, value in zip(free, values, strict=True):
        for name in names:
            solved[name] = float(value)
    return solved


def _gauss_newton(errors, values: np.ndarray) -> np.ndarray:
    nudges = np.concatenate(([_NUDGE_M] * 2, [_NUDGE_DEGREES] * (len(values) - 2)))
    for _ in range(ROUNDS):
        now = errors(values)
        slopes = np.stack(
            [
                (errors(values + nudge * unit) - now) / nudge
                for nudge, unit in zip(nudges, np.eye(len(values)), strict=True)
            ],
            axis=1,
        )
        step = np.linalg.lstsq(slopes, -now, rcond=1e-10)[0]
        longest = np.abs(step[2:]).max(initial=0.0)
        if longest > LONGEST_STEP:
            step *= LONGEST_STEP / longest
        values = values + step
        if np.abs(step).max() < _SETTLED:
            break
    return values


def _checked(phase: dict, authored: dict, free: list[list[str]], values: np.ndarray, targets) -> Grounded:
    angles, hips = _with(authored, free, values[2:]), (float(values[0]), 0.0, float(values[1]))
    body = stand(angles, hips)
    gaps = [
        (max(map(abs, contact_gaps(body, touch["point"], aim)), default=0.0), first_point(touch))
        for touch, aim in targets
    ]
    gap, point = max(gaps, key=lambda entry: entry[0])
    angles |= {f"{side}.toes": level_toes(body, side) for side in sides_on_toes(phase)}
    reached = Grounded({name: value for name, value in angles.items() if value}, hips, gap)
    if gap > LARGEST_GAP_M:
        raise GroundingError(point, gap, reached=reached)
    return reached
