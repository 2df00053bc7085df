"""Trapeze table: bed and frame, with whatever the hands or feet hold (table_parts).

What a scene of kind ``table`` may say:

    eye, eye_y    x and z (and half the gap) of the hooks of foot, arm or roll-down-bar springs
    bar_end       ``left``: the push-through bar is at the head end of somebody who lies on the back
    bar_springs   ``low``: the push-through bar is sprung from the bed, otherwise from the frame's top
    trapeze       x of the tube on top from which a sling or the ankle slings hang
    sling_on      ``ropes``: the sling hangs from ropes, otherwise from springs
    cushion       x0, x1 and height above the floor of a cushion on the bed

What a phase may say: a contact with ``pushbar`` (its angle), ``springs`` (``feet``, ``hands`` or a list of
points), ``bar`` (the roll-down bar in both hands), ``sling`` (the point of the legs that lies in it),
``hang`` (``ankles``), and ``straps`` ``hands`` for hands closed round a handle, a post or a rail.
"""

from library.body.scene import Layers, angle_in
from library.body.skeleton import Skeleton
from library.body.surfaces import TABLE_BED
from library.body.table_parts import (
    FRAME_HALF_WIDTH,
    FRAME_TOP,
    POST_X,
    ankle_slings,
    cross_tubes,
    limb_springs,
    push_bar,
    roll_bar,
    sheet,
    sling,
)

TABLE_X, TABLE_HALF_WIDTH, TABLE_BOTTOM = (-1.86, 0.28), FRAME_HALF_WIDTH, 0.47
FLOOR_BEYOND = 0.35


def table(layers: Layers, scene: dict, phase: dict, body: Skeleton) -> None:
    """Bed on legs inside a frame of posts, with whatever the hands or feet hold."""
    (x0, x1), w, z0, top = TABLE_X, TABLE_HALF_WIDTH, TABLE_BOTTOM, FRAME_TOP
    in0, in1 = POST_X
    legs = [(x0 + 0.06, w - 0.03), (x1 - 0.06, w - 0.03)]
    layers.posts(
        *(((x, y, 0), (x, y, z0)) for x, y in legs),
        ((in0, w, TABLE_BED), (in0, w, top), (in1, w, top), (in1, w, TABLE_BED)),
        *(((x, -w, top), (x, w, top)) for x in POST_X),
        *cross_tubes(scene, phase),
        far=True,
    )
    layers.slab((x0, x1), (-w, w), (z0, TABLE_BED))
    _floor_line(layers, phase, body)
    if "cushion" in scene:
        left, right, height = scene["cushion"]
        layers.slab((left, right), (-0.16, 0.16), (TABLE_BED, height))
    _held(layers, scene, phase, body)
    near = (
        *(((x, -y, 0), (x, -y, z0)) for x, y in legs),
        ((in0, -w, z0 + 0.06), (in0, -w, top), (in1, -w, top), (in1, -w, z0 + 0.06)),
    )
    if phase.get("straps") == "hands" and not phase.get("springs"):
        sheet(layers, "between_arms").posts(*near)  # the near hand is closed round it
    else:
        layers.posts(*near, front=True)


def _floor_line(layers: Layers, phase: dict, body: Skeleton) -> None:
    """The floor from the table's end to somebody who stands before it."""
    if any(touch.get("on") == "floor" for touch in phase["touch"]):
        feet = [float(body.origins[f"{side}.ankle"][0]) for side in "lr"]
        end = min(TABLE_X, key=lambda x: abs(x - feet[0]))
        way = 1 if end == TABLE_X[1] else -1
        furthest = max(way * x for x in feet) * way
        layers.line("app", ((end, 0, 0), (furthest + way * FLOOR_BEYOND, 0, 0)))


def _held(layers: Layers, scene: dict, phase: dict, body: Skeleton) -> None:
    degrees = angle_in(phase, "pushbar")
    if degrees is not None:
        push_bar(layers, scene, phase, degrees)
    if phase.get("springs"):
        limb_springs(layers, scene, phase["springs"], body)
    if phase.get("bar"):
        roll_bar(layers, scene, body)
    if phase.get("sling"):
        sling(layers, scene, phase["sling"], body)
    if phase.get("hang"):
        ankle_slings(layers, scene, body)
