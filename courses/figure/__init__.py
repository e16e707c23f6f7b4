"""Drawn exhibits: a dog drawn from anatomical quantities, correct or with chosen faults.

A figure is a set of numbers a judge could check: angles of bones from plumb, lengths against the height
at the withers, and a few shapes against the ideal. From them the joints are placed so that the dog
stands, the contour is laid over the joints, and the contour is modelled, coloured and inked. The points
that a drawing reports are the joints it was built from, so an angle read from them is exactly the angle
that was asked for.

    from courses.figure import apply_faults, draw
    exhibit = draw("profile", apply_faults({"upright_shoulder": 0.7}))
    exhibit.image.save("upright.png")

Same settings and seed, same picture, byte for byte.
"""

from .drawing import Drawing, draw, drawing_of, preview
from .parameters import PARAMETERS, VIEWS, ZONES, ImpossibleFigure, Parameter
from .presets import PRESETS, Preset, apply_faults
from .regions import changed_regions, zone_outlines
from .settings import COATS, MARKINGS, Settings, ideal

__all__ = [
    "COATS",
    "MARKINGS",
    "PARAMETERS",
    "PRESETS",
    "VIEWS",
    "ZONES",
    "Drawing",
    "ImpossibleFigure",
    "Parameter",
    "Preset",
    "Settings",
    "apply_faults",
    "changed_regions",
    "draw",
    "drawing_of",
    "ideal",
    "preview",
    "zone_outlines",
]
