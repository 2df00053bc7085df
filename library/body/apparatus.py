"""The scene of a pose: which apparatus is drawn, and what the hands or feet hold."""

from collections.abc import Iterable

from library.body import props
from library.body.apparatus_barrel import barrel
from library.body.apparatus_chair import chair
from library.body.apparatus_floor import arc, floor, mat
from library.body.apparatus_frame import table
from library.body.apparatus_reformer import reformer
from library.body.camera import Camera
from library.body.points import locate
from library.body.scene import Layers
from library.body.skeleton import Skeleton

_ON_THE_FLOOR = {"mat": mat, "floor": floor, "barrel": barrel, "arc": arc}
_WITH_PARTS = {"reformer": reformer, "table": table, "chair": chair}
_LOW = 0.35  # metres: what lies lower than this decides how far a mat has to reach


def build(pose: dict, bodies: dict[str, Skeleton], camera: Camera) -> dict[str, Layers]:
    """Everything of each phase that is not the body.

    ``bodies`` are both end positions: a mat is the same in both pictures.
    Raises KeyError for an unknown kind of scene.
    """
    scene, built = pose["scene"], {}
    kind = scene["kind"]
    reach = _reach(bodies.values()) if kind not in _WITH_PARTS else (0.0, 0.0)
    for name, body in bodies.items():
        layers, phase = Layers(camera), pose[name]
        if kind in _WITH_PARTS:
            _WITH_PARTS[kind](layers, scene, phase, body)
        else:
            _ON_THE_FLOOR[kind](layers, scene, reach)
        props.draw(layers, scene, phase, body)
        built[name] = layers
    return built


def _reach(bodies: Iterable[Skeleton]) -> tuple[float, float]:
    names = (
        "vertex",
        "seat",
        "l.toe",
        "r.toe",
        "l.heel",
        "r.heel",
        "l.kneecap",
        "r.kneecap",
        "l.palm",
        "r.palm",
    )
    places = [locate(body, name) for body in bodies for name in names]
    low = [float(p[0]) for p in places if p[2] < _LOW]
    low = low or [float(p[0]) for p in places]  # nobody is near the floor
    return min(low), max(low)
