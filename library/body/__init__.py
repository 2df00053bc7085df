"""The body model: one skeleton of named angles, drawn as a figure on its apparatus.

``figure`` draws, ``view_box`` tells a drawing's size, ``mirror`` gives the other side's pose,
``poses.all_poses`` reads the stored poses, ``skeleton.joints`` gives points in metres, ``warm`` draws ahead.
Plain computation: no web framework, no clock, no settings.
"""

from library.body.drawing import figure, view_box
from library.body.mirroring import mirror
from library.body.poses import all_poses
from library.body.warming import warm

__all__ = ["all_poses", "figure", "mirror", "view_box", "warm"]
