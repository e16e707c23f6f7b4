"""Every quantity that can be set on the figure: what it is, its unit, its range and its ideal.

H is the height at the withers. Ranges are those within which the drawing keeps a sound contour;
they are wider than any breed asks and end where the picture would stop teaching.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

VIEWS = ("profile", "front", "rear", "head", "feet")
ZONES = (
    "head",
    "neck",
    "forequarters",
    "body",
    "topline",
    "hindquarters",
    "feet",
    "tail",
    "coat",
    "whole",
)

DEGREES = "°"
HEIGHTS = "H"
TIMES = "×"


class ImpossibleFigure(ValueError):
    """A value outside its range, or values that no standing dog can combine; the message names them."""


@dataclass(frozen=True)
class Parameter:
    """One quantity of the figure. `views` are those in which it can be seen, the clearest first."""

    name: str
    label: str
    unit: str
    low: float
    high: float
    ideal: float
    description: str
    views: tuple[str, ...]
    zone: str

    def check(self, value: float) -> None:
        """Raise `ImpossibleFigure` unless the value is a number within low and high."""
        if not self.low - 1e-9 <= value <= self.high + 1e-9:
            raise ImpossibleFigure(
                f"{self.label} ({self.name}) must lie between {self.low:g} and {self.high:g} {self.unit}, "
                f"not {value:g}."
            )


def _group(zone: str, *rows: tuple[str, str, str, float, float, float, str, str]) -> list[Parameter]:
    return [
        Parameter(name, label, unit, low, high, ideal, text, tuple(views.split()), zone)
        for name, label, unit, low, high, ideal, views, text in rows
    ]


_HEAD = _group(
    "head",
    ("head_tilt", "Carriage of the head", DEGREES, -30, 0, -17, "profile head",
     "Slope of the top of the skull; 0 is level, negative is nose down."),
    ("muzzle_ratio", "Muzzle to skull", TIMES, 0.70, 1.30, 1.025, "head profile",
     "Nose to stop over stop to occiput."),
    ("muzzle_depth", "Depth of muzzle", TIMES, 0.62, 1.20, 1.0, "head profile",
     "Depth of the muzzle at its middle, against the ideal."),
    ("muzzle_width", "Width of muzzle", TIMES, 0.62, 1.30, 1.0, "front",
     "Width of the muzzle from the front, against the ideal."),
    ("underjaw", "Strength of underjaw", TIMES, 0.30, 1.25, 1.0, "head profile",
     "How much chin shows below and in front of the lip, against the ideal."),
    ("jaw_offset", "Lower jaw forward", TIMES, -1.0, 1.0, 0.0, "head profile",
     "Where the lower jaw ends: −1 far behind the upper (overshot), +1 far before it (undershot)."),
    ("lips", "Looseness of lips", TIMES, 0.0, 1.0, 0.0, "head profile front",
     "How far the upper lip hangs below the line of the jaw."),
    ("stop", "Depth of stop", TIMES, 0.0, 1.8, 1.0, "head profile",
     "Step between forehead and bridge of the nose; 0 is none."),
    ("skull_dome", "Roundness of skull", TIMES, 0.0, 1.0, 0.0, "head profile front",
     "How far the skull rises in a dome above the flat ideal."),
    ("skull_width", "Width of skull", TIMES, 0.80, 1.30, 1.0, "front rear",
     "Width between the ears and across the cheeks, against the ideal."),
    ("eye_size", "Size of eye", TIMES, 0.65, 1.60, 1.0, "head front profile",
     "Size of the opening of the eye, against the ideal."),
    ("eye_roundness", "Roundness of eye", TIMES, 0.0, 1.0, 0.0, "head front profile",
     "Shape of the opening: 0 is almond, 1 is round and full."),
    ("eye_paleness", "Paleness of eye", TIMES, 0.0, 1.0, 0.0, "head front profile",
     "Colour of the iris: 0 dark brown, 1 pale yellow."),
    ("ear_length", "Length of ear", TIMES, 0.60, 1.60, 1.0, "head front profile rear",
     "Length of the ear, against the ideal."),
    ("ear_set", "Low set of ear", TIMES, -0.3, 1.0, 0.0, "head front profile",
     "How far the ear is set down the side of the skull; 0 is at its top."),
    ("ear_fold", "Fold of ear", TIMES, 0.0, 1.0, 0.0, "head front profile",
     "How much of the ear tips forward: 0 stands erect, 1 hangs from above the middle."),
)  # fmt: skip

_NECK = _group(
    "neck",
    ("neck_length", "Length of neck", HEIGHTS, 0.27, 0.41, 0.365, "profile",
     "Withers to occiput."),
    ("neck_angle", "Carriage of neck", DEGREES, 36, 58, 48, "profile",
     "Rise of the line from withers to occiput above the horizontal."),
    ("ewe_neck", "Hollow of the upper neck", TIMES, 0.0, 1.0, 0.0, "profile",
     "How far the arch of the neck is turned upside down."),
    ("neck_depth", "Thickness of neck", TIMES, 0.80, 1.25, 1.0, "profile front",
     "Thickness of the neck at its middle, against the ideal."),
    ("dewlap", "Loose skin of the throat", TIMES, 0.0, 1.0, 0.0, "profile head front",
     "How far loose skin hangs below the throat."),
)  # fmt: skip

_FOREQUARTERS = _group(
    "forequarters",
    ("layback", "Lay of shoulder blade", DEGREES, 18, 42, 35, "profile",
     "Point of shoulder to top of blade, from plumb, leaning back."),
    ("upper_arm_angle", "Slope of upper arm", DEGREES, 24, 50, 40, "profile",
     "Point of shoulder to elbow, from plumb."),
    ("arm_ratio", "Upper arm to blade", TIMES, 0.68, 1.02, 0.95, "profile",
     "Length of the upper arm over length of the blade."),
    ("forechest", "Forechest", HEIGHTS, 0.026, 0.095, 0.064, "profile",
     "How far the chest stands before the point of shoulder with the ideal lay of blade; "
     "a steeper blade takes some of it away."),
    ("pastern_slope", "Slope of front pastern", DEGREES, 0, 42, 16, "profile feet",
     "Wrist to foot joint, from plumb, foot forward."),
    ("wrist_set", "Wrist forward", HEIGHTS, -0.030, 0.042, 0.0, "profile",
     "How far the wrist stands before its place under the elbow; negative is behind."),
    ("shoulder_spacing", "Width at the points of shoulder", HEIGHTS, 0.150, 0.300, 0.224, "front",
     "Distance between left and right point of shoulder."),
    ("elbow_spacing", "Width at the elbows", HEIGHTS, 0.150, 0.310, 0.224, "front",
     "Distance between left and right elbow."),
    ("wrist_spacing", "Width at the wrists", HEIGHTS, 0.125, 0.290, 0.196, "front",
     "Distance between left and right wrist."),
    ("forefoot_spacing", "Width at the forefeet", HEIGHTS, 0.110, 0.290, 0.196, "front",
     "Distance between left and right front foot joint."),
    ("front_toe_turn", "Turn of the forefeet", DEGREES, -24, 32, 3, "front",
     "Apparent turn of the toes from straight ahead, outwards positive."),
)  # fmt: skip

_BODY = _group(
    "body",
    ("chest_depth", "Depth of chest", HEIGHTS, 0.43, 0.59, 0.515, "profile front",
     "Withers to brisket."),
    ("tuck_up", "Rise of the belly", HEIGHTS, 0.010, 0.170, 0.088, "profile",
     "How far the belly line at the flank lies above the brisket."),
    ("rib_spring", "Spring of rib", TIMES, 0.76, 1.26, 1.0, "front rear",
     "Width of the rib cage, against the ideal."),
)  # fmt: skip

_TOPLINE = _group(
    "topline",
    ("roach", "Rise of the back", HEIGHTS, 0.0, 0.062, 0.0, "profile",
     "Height of the arch over the loin."),
    ("dip", "Dip of the back", HEIGHTS, 0.0, 0.055, 0.0, "profile",
     "Depth of the hollow behind the withers."),
    ("rump_height", "Height of the rump", HEIGHTS, -0.070, 0.075, 0.0, "profile",
     "How far the pelvis lies above its place; negative makes the back fall away to the rear."),
    ("pelvis_slope", "Slope of the pelvis", DEGREES, 12, 46, 28, "profile",
     "Hip bone to point of buttock, from the horizontal, falling to the rear."),
)  # fmt: skip

_HINDQUARTERS = _group(
    "hindquarters",
    ("stifle_angle", "Angle of the stifle", DEGREES, 100, 147, 118, "profile",
     "Angle at the stifle between thigh and second thigh."),
    ("hock_angle", "Angle of the hock", DEGREES, 114, 163, 140, "profile",
     "Angle at the hock between second thigh and rear pastern."),
    ("rear_pastern", "Slope of rear pastern", DEGREES, -5, 19, 0, "profile",
     "Hock to foot joint, from plumb, foot forward."),
    ("rear_pastern_length", "Length of rear pastern", HEIGHTS, 0.150, 0.260, 0.200, "profile rear",
     "Hock joint to foot joint."),
    ("thigh_breadth", "Breadth of thigh", TIMES, 0.72, 1.15, 1.0, "profile rear",
     "Breadth of thigh and second thigh, against the ideal."),
    ("hip_spacing", "Width at the hips", HEIGHTS, 0.150, 0.240, 0.196, "rear",
     "Distance between left and right hip joint."),
    ("stifle_spacing", "Width at the stifles", HEIGHTS, 0.170, 0.300, 0.232, "rear",
     "Distance between left and right stifle."),
    ("hock_spacing", "Width at the hocks", HEIGHTS, 0.086, 0.260, 0.168, "rear",
     "Distance between left and right hock."),
    ("hindfoot_spacing", "Width at the hind feet", HEIGHTS, 0.090, 0.250, 0.168, "rear",
     "Distance between left and right hind foot joint."),
    ("rear_toe_turn", "Turn of the hind feet", DEGREES, -20, 28, 2, "rear",
     "Apparent turn of the hind toes from straight ahead, outwards positive."),
)  # fmt: skip

_FEET = _group(
    "feet",
    ("foot_arch", "Arch of the toes", TIMES, 0.0, 1.0, 1.0, "feet profile",
     "1 is tight and well knuckled up, 0 is flat."),
    ("foot_length", "Length of foot", TIMES, 0.86, 1.40, 1.0, "feet profile",
     "Length of the toes, against the ideal."),
    ("toe_spread", "Spread of the toes", TIMES, 0.0, 1.0, 0.0, "feet front",
     "How far the toes stand apart; 0 is close."),
    ("nail_length", "Length of nail", TIMES, 0.6, 3.0, 1.0, "feet front profile",
     "Length of the nails, against the ideal."),
)  # fmt: skip

_TAIL = _group(
    "tail",
    ("tail_base", "Carriage of the tail", DEGREES, 0, 128, 14, "profile rear",
     "Direction of the upper half of the tail, from hanging straight down, to the rear."),
    ("tail_curl", "Curl of the tail", TIMES, 0.0, 4.2, 1.0, "profile",
     "How much the end of the tail curls; 1 is a light sabre, above 3 it lies over the back."),
    ("tail_length", "Length of tail", HEIGHTS, 0.26, 0.82, 0.74, "profile rear",
     "Root to tip along the tail."),
    ("tail_brush", "Fullness of the tail", TIMES, 0.40, 1.35, 1.0, "profile rear",
     "Thickness of the brush, against the ideal."),
    ("tail_side", "Tail to one side", DEGREES, -40, 40, 0, "rear",
     "Turn of the tail out of the middle line, to the picture's right positive."),
)  # fmt: skip

_COAT = _group(
    "coat",
    ("coat_length", "Length of coat", TIMES, 0.30, 2.6, 1.0, "profile front rear head",
     "Length of the outer coat, against the ideal."),
    ("colour_strength", "Strength of colour", TIMES, 0.0, 1.25, 1.0, "profile front rear head",
     "1 is clear and rich, 0 is washed out."),
    ("white", "Extent of white", TIMES, 0.0, 1.0, 0.0, "profile front rear head",
     "White beyond the dog's own markings: on muzzle, neck, body and legs."),
    ("pigment", "Dark of nose and rims", TIMES, 0.0, 1.0, 1.0, "head front profile",
     "1 is black, 0 is flesh-coloured."),
)  # fmt: skip

_WHOLE = _group(
    "whole",
    ("body_length", "Length of body", HEIGHTS, 0.93, 1.20, 1.025, "profile",
     "Point of shoulder to point of buttock."),
    ("leg_shortening", "Shortness of leg", HEIGHTS, -0.060, 0.075, 0.0, "profile front",
     "How much shorter the legs are than in the ideal; negative is longer."),
    ("bone", "Strength of bone", TIMES, 0.74, 1.34, 1.0, "profile front rear feet",
     "Thickness of the legs below elbow and stifle, against the ideal."),
)  # fmt: skip

PARAMETERS: Mapping[str, Parameter] = MappingProxyType(
    {
        parameter.name: parameter
        for group in (
            _HEAD,
            _NECK,
            _FOREQUARTERS,
            _BODY,
            _TOPLINE,
            _HINDQUARTERS,
            _FEET,
            _TAIL,
            _COAT,
            _WHOLE,
        )
        for parameter in group
    }
)
