"""Chair: padded seat on splayed legs, a pedal held up by springs, handles when the scene has any."""

import numpy as np

from library.body.scene import Layers, angle_in
from library.body.skeleton import Skeleton
from library.body.surfaces import CHAIR_SEAT, PEDAL_ARM, PEDAL_PIVOT, pedal_end


def chair(layers: Layers, scene: dict, phase: dict, _body: Skeleton) -> None:
    """Padded seat on splayed legs, pedal on two arms, springs between them, handles when the scene has any."""
    x, way = scene.get("x", 0.0), scene.get("dir", 1)
    if "mat" in scene:
        layers.slab(scene["mat"], (-0.30, 0.30), (-0.022, 0))

    def place(dx: float, y: float, z: float) -> tuple[float, float, float]:
        return (x + way * dx, y, z)

    w = 0.23
    _chair_stand(layers, place, w, far=True)
    _pedal(layers, scene, place, angle_in(phase, "pedal"))
    _chair_stand(layers, place, -w, far=False)
    layers.slab((x - 0.21, x + 0.21), (-w - 0.03, w + 0.03), (CHAIR_SEAT - 0.08, CHAIR_SEAT))
    if "handles" in scene:
        dx, top = scene["handles"]
        for y, front in ((w + 0.03, False), (-w - 0.03, True)):
            stroke = (place(dx, y, 0.30), place(dx, y, top), place(dx - 0.10, y, top))
            layers.posts(stroke, front=front, far=not front)


def _chair_stand(layers: Layers, place, y: float, *, far: bool) -> None:
    layers.posts(
        (place(-0.17, y, CHAIR_SEAT - 0.08), place(-0.23, y, 0.01)),
        (place(0.17, y, CHAIR_SEAT - 0.08), place(0.23, y, 0.01)),
        (place(-0.30, y, 0.01), place(0.30, y, 0.01)),
        far=far,
    )


def _pedal(layers: Layers, scene: dict, place, degrees: float) -> None:
    end_x, end_z = pedal_end(degrees, scene)
    for y in (0.15, -0.15):
        start = np.array(place(PEDAL_PIVOT[0], y, PEDAL_PIVOT[1]))
        end = np.array((end_x, y, end_z))
        layers.posts((start, end), far=y > 0)
        knot = start + (end - start) * (0.30 / PEDAL_ARM)
        layers.springs((knot, place(0.02, y * 0.6, CHAIR_SEAT - 0.08)), turns=8)
    half = 0.05
    layers.slab((end_x - half, end_x + half), (-0.2, 0.2), (end_z - 0.018, end_z + 0.012))
