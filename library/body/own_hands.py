"""Hands that lie on or hold a part of the own body: found from where the palms are, and which hands grip.

Bounds are metres from the skin of a body of the stored stature; common practice, no source.
"""

import numpy as np

from library.body.points import locate
from library.body.skeleton import Skeleton

_ALONG = (0.28, 1.05)  # shares of the thigh, from the hip down
_HELD_BY = ("straps", "springs", "bar", "hold")  # what the hands may hold instead of the body
_CROSSED, _TOGETHER = 0.08, 0.06
# Nearest first wins: what a bent arm lies on, and within how far of the point that stands for it.
_ON_TRUNK = (
    ("pelvis_back", ("pelvis.back",), 0.10),
    ("hips", ("pelvis.left", "pelvis.right", "pelvis.front"), 0.15),
    ("ribs", ("ribs.left", "ribs.right", "ribs.front"), 0.145),
)
_BENT = 70  # degrees of an elbow whose hand may lie on the trunk


class OwnHands:
    """Where each hand is on the own body; ``found('l')`` is a key such as ``on_thigh``, or '' for none."""

    def __init__(self, body: Skeleton, phase: dict, elbows: dict[str, float]):
        self.body, self.phase, self.elbows = body, phase, elbows
        self.palms = {side: locate(body, f"{side}.palm") for side in "lr"}
        self.busy = any(_in_hands(phase, kind) for kind in _HELD_BY)
        self.thighs = {} if self.busy else {side: self._thigh(side) for side in "lr"}

    def found(self, side: str) -> str:
        if self.busy:
            return ""
        if self.thighs[side]:
            place, leg = self.thighs[side]
            if self.thighs["l"] == self.thighs["r"]:
                return f"{place}_{'left' if leg == 'l' else 'right'}"
            return place
        if self._crossed():
            return "crossed"
        if self._together() and self.elbows[side] <= _BENT:
            return "together_behind"
        return self._on_trunk(side) if self.elbows[side] > _BENT else ""

    def _thigh(self, side: str) -> tuple[str, str] | None:
        """The thigh under a palm: ('on_thigh' or 'behind_thigh', its side)."""
        found = []
        for leg in "lr":
            hip, knee = self.body.origins[f"{leg}.hip"], self.body.origins[f"{leg}.knee"]
            ahead, aside, up = self.body.frames[f"{leg}.thigh"].T @ (self.palms[side] - hip)
            if not _ALONG[0] < -up / np.linalg.norm(knee - hip) < _ALONG[1]:
                continue
            if 0.05 < ahead < 0.115 and abs(aside) < 0.06:
                found.append((abs(aside), "on_thigh", leg))
            elif -0.12 < ahead < -0.03 and abs(aside) < 0.09 and side in self.phase.get("grip", ()):
                found.append((abs(aside), "behind_thigh", leg))
        return min(found)[1:] if found else None

    def _crossed(self) -> bool:
        """Each hand on the other forearm."""
        return all(self._from_forearm(one, other) < _CROSSED for one, other in ("lr", "rl"))

    def _from_forearm(self, side: str, other: str) -> float:
        elbow, wrist = (self.body.origins[f"{other}.{joint}"] for joint in ("elbow", "wrist"))
        along = (self.palms[side] - elbow) @ (wrist - elbow) / ((wrist - elbow) @ (wrist - elbow))
        if along > 0.95:
            return float("inf")  # hand to hand is no crossing
        return float(np.linalg.norm(self.palms[side] - elbow - max(along, 0) * (wrist - elbow)))

    def _together(self) -> bool:
        """Hands that hold each other behind the back."""
        behind = self.body.frames["thorax"].T @ (self.palms["l"] - self.body.origins["c7"])
        near = np.linalg.norm(self.palms["l"] - self.palms["r"]) < _TOGETHER
        return bool(near and behind[0] < 0 and {"l", "r"} <= set(self.phase.get("grip", ())))

    def _on_trunk(self, side: str) -> str:
        near = [
            (
                min(float(np.linalg.norm(locate(self.body, name) - self.palms[side])) for name in names),
                key,
                bound,
            )
            for key, names, bound in _ON_TRUNK
        ]
        within = [(far, key) for far, key, bound in near if far < bound]
        return min(within)[1] if within else ""


def _in_hands(phase: dict, kind: str) -> bool:
    """Whether the hands hold a thing of this kind rather than the feet or nothing."""
    held = phase.get(kind)
    if kind == "straps":
        return held == "hands"
    if kind == "springs":
        every = held if isinstance(held, list) else [held]
        return any(one and (one == "hands" or one.endswith("palm")) for one in every)
    if kind == "hold":
        every = [held] if isinstance(held, dict) else held or []
        return any(one.get("between") == "hands" or one["what"] == "weights" for one in every)
    return bool(held)
