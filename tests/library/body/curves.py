"""Curves of path data as points on the page: cubics by their polynomial (Bernstein form)."""

import re

import numpy as np

_SHARES = np.linspace(0, 1, 13)[1:, None]


def cubics(path: str) -> list[np.ndarray]:
    """Points (n, 2) of each stroke of a path of relative cubics (M, c)."""
    strokes, at = [], np.zeros(2)
    for command, text in re.findall(r"([Mc])([^Mc]*)", path):
        numbers = np.array([float(value) for value in re.findall(r"-?(?:\d+\.?\d*|\.\d+)", text)])
        if command == "M":
            at = numbers
            strokes.append([at[None]])
            continue
        for one, other, end in numbers.reshape(-1, 3, 2):
            t, u = _SHARES, 1 - _SHARES
            strokes[-1].append(at + 3 * u * u * t * one + 3 * u * t * t * other + t**3 * end)
            at = at + end
    return [np.concatenate(parts) for parts in strokes]
