"""Faults as changes to the ideal: which parameters move, how far, and where it is seen.

Degree 1 is the clear, just exaggerated picture for teaching; 0.35 is just visible beside the ideal.
The extent was settled by eye on the rendered figures; a club's own committee may set it otherwise.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from .parameters import PARAMETERS, ImpossibleFigure
from .settings import Settings, ideal


@dataclass(frozen=True)
class Preset:
    """One fault. `changes` maps a parameter to its value at degree 1; `views` has the clearest first."""

    key: str
    name: str
    opposite_virtue: str
    zone: str
    views: tuple[str, ...]
    changes: Mapping[str, float]


def _faults(zone: str, *rows: tuple[str, str, str, str, dict[str, float]]) -> list[Preset]:
    return [
        Preset(key, name, virtue, zone, tuple(views.split()), MappingProxyType(changes))
        for key, name, virtue, views, changes in rows
    ]


_HEAD = _faults(
    "head",
    ("snipy_muzzle", "Snipy muzzle", "Deep, blunt muzzle", "head profile front",
     {"muzzle_depth": 0.70, "underjaw": 0.55, "muzzle_width": 0.72}),
    ("short_muzzle", "Muzzle too short", "Muzzle as long as the skull", "head profile",
     {"muzzle_ratio": 0.76}),
    ("long_muzzle", "Muzzle too long", "Muzzle as long as the skull", "head profile",
     {"muzzle_ratio": 1.28}),
    ("flat_stop", "Lacking stop", "Moderate stop", "head profile",
     {"stop": 0.05}),
    ("domed_skull", "Domed skull", "Flat skull", "head front profile",
     {"skull_dome": 0.90, "stop": 1.45}),
    ("broad_skull", "Broad, heavy skull", "Clean skull, moderate in width", "front",
     {"skull_width": 1.25}),
    ("overshot_jaw", "Receding underjaw", "Jaws that meet", "head profile",
     {"jaw_offset": -0.90, "underjaw": 0.65}),
    ("undershot_jaw", "Projecting underjaw", "Jaws that meet", "head profile",
     {"jaw_offset": 0.85, "underjaw": 1.15}),
    ("loose_lips", "Pendulous lips", "Close lips", "head front profile",
     {"lips": 0.95}),
    ("round_eye", "Round, full eye", "Almond-shaped eye", "head front",
     {"eye_roundness": 0.95, "eye_size": 1.32}),
    ("pale_eye", "Pale eye", "Dark eye", "head front",
     {"eye_paleness": 0.95}),
    ("low_set_ears", "Ears set low", "Ears set high", "front head",
     {"ear_set": 0.95}),
    ("tipped_ears", "Soft, tipping ears", "Firm, erect ears", "head front profile",
     {"ear_fold": 0.90}),
    ("large_ears", "Ears too large", "Ears in proportion to the head", "head front profile",
     {"ear_length": 1.45}),
)  # fmt: skip

_NECK = _faults(
    "neck",
    ("ewe_neck", "Ewe neck", "Arched, well-set neck", "profile",
     {"ewe_neck": 0.90, "neck_angle": 53}),
    ("short_neck", "Short, thick neck", "Neck of good length", "profile",
     {"neck_length": 0.290, "neck_depth": 1.12}),
    ("throaty_neck", "Throaty neck", "Clean throat", "profile head front",
     {"dewlap": 0.95}),
    ("low_neck", "Low-carried neck", "Well-carried neck", "profile",
     {"neck_angle": 38}),
)  # fmt: skip

_FOREQUARTERS = _faults(
    "forequarters",
    ("upright_shoulder", "Upright shoulder", "Well-laid shoulder", "profile",
     {"layback": 21}),
    ("short_upper_arm", "Short, steep upper arm", "Long, sloping upper arm", "profile",
     {"arm_ratio": 0.73, "upper_arm_angle": 31}),
    ("lacking_forechest", "Lacking forechest", "Forechest well filled", "profile",
     {"forechest": 0.028}),
    ("upright_pasterns", "Upright front pasterns", "Slightly sloping front pasterns", "profile feet",
     {"pastern_slope": 1}),
    ("weak_pasterns", "Weak front pasterns", "Firm front pasterns", "profile feet",
     {"pastern_slope": 39}),
    ("knuckling_over", "Knuckling over", "Straight wrists", "profile",
     {"wrist_set": 0.038, "pastern_slope": 5}),
    ("back_at_wrist", "Back at the wrists", "Straight wrists", "profile",
     {"wrist_set": -0.029, "pastern_slope": 22}),
    ("out_at_elbow", "Out at elbow", "Elbows close to the chest", "front",
     {"elbow_spacing": 0.296, "wrist_spacing": 0.176, "forefoot_spacing": 0.168, "front_toe_turn": -6}),
    ("narrow_front", "Narrow front", "Front of moderate width", "front",
     {"shoulder_spacing": 0.170, "elbow_spacing": 0.164, "wrist_spacing": 0.136,
      "forefoot_spacing": 0.134}),
    ("wide_front", "Wide front", "Front of moderate width", "front",
     {"shoulder_spacing": 0.284, "elbow_spacing": 0.284, "wrist_spacing": 0.262,
      "forefoot_spacing": 0.262}),
    ("pinched_wrists", "Pinched in at the wrists", "Straight forelegs", "front",
     {"wrist_spacing": 0.146, "forefoot_spacing": 0.190, "front_toe_turn": 16}),
    ("bowed_forelegs", "Bowed forelegs", "Straight forelegs", "front",
     {"wrist_spacing": 0.250, "elbow_spacing": 0.240, "forefoot_spacing": 0.176, "front_toe_turn": -8}),
    ("toes_out", "Toeing out in front", "Forefeet straight ahead", "front",
     {"front_toe_turn": 27}),
    ("toes_in", "Toeing in", "Forefeet straight ahead", "front",
     {"front_toe_turn": -20}),
)  # fmt: skip

_BODY = _faults(
    "body",
    ("shallow_chest", "Shallow chest", "Chest reaching the elbow", "profile front",
     {"chest_depth": 0.442}),
    ("overdeep_chest", "Chest too deep", "Chest reaching the elbow", "profile front",
     {"chest_depth": 0.582}),
    ("tucked_up", "Tucked up too high", "Moderate tuck-up", "profile",
     {"tuck_up": 0.160}),
    ("heavy_belly", "Heavy belly, no tuck-up", "Moderate tuck-up", "profile",
     {"tuck_up": 0.016}),
    ("slab_sided", "Slab-sided", "Well-sprung ribs", "front rear",
     {"rib_spring": 0.79}),
    ("barrel_ribs", "Barrel-ribbed", "Well-sprung ribs", "front rear",
     {"rib_spring": 1.24}),
)  # fmt: skip

_TOPLINE = _faults(
    "topline",
    ("roached_back", "Roached back", "Level, firm back", "profile",
     {"roach": 0.052}),
    ("dipped_back", "Dipped back", "Level, firm back", "profile",
     {"dip": 0.046}),
    ("high_rump", "Higher at the rump than at the withers", "Withers the highest point", "profile",
     {"rump_height": 0.068}),
    ("falling_topline", "Topline falling to the rear", "Level, firm back", "profile",
     {"rump_height": -0.062}),
    ("steep_croup", "Steep croup", "Moderately falling croup", "profile",
     {"pelvis_slope": 43}),
    ("flat_croup", "Flat croup", "Moderately falling croup", "profile",
     {"pelvis_slope": 14}),
)  # fmt: skip

_HINDQUARTERS = _faults(
    "hindquarters",
    ("straight_stifle", "Straight stifle", "Well-bent stifle", "profile",
     {"stifle_angle": 144, "hock_angle": 157}),
    ("over_angulated", "Over-angulated behind", "Moderate angulation behind", "profile",
     {"stifle_angle": 105, "hock_angle": 128}),
    ("sickle_hocks", "Sickle hocks", "Upright rear pasterns", "profile",
     {"rear_pastern": 17, "hock_angle": 129}),
    ("long_rear_pasterns", "Hocks set high", "Hocks well let down", "profile rear",
     {"rear_pastern_length": 0.252}),
    ("light_thighs", "Light thighs", "Broad, muscled thighs", "profile rear",
     {"thigh_breadth": 0.74}),
    ("cow_hocks", "Cow hocks", "Hocks parallel", "rear",
     {"hock_spacing": 0.100, "rear_toe_turn": 20, "stifle_spacing": 0.244}),
    ("bowed_hocks", "Bowed hocks", "Hocks parallel", "rear",
     {"hock_spacing": 0.244, "hindfoot_spacing": 0.150, "rear_toe_turn": -13}),
    ("narrow_behind", "Narrow behind", "Moderate width behind", "rear",
     {"hip_spacing": 0.166, "stifle_spacing": 0.184, "hock_spacing": 0.108, "hindfoot_spacing": 0.106}),
    ("wide_behind", "Wide behind", "Moderate width behind", "rear",
     {"stifle_spacing": 0.274, "hock_spacing": 0.236, "hindfoot_spacing": 0.240}),
)  # fmt: skip

_FEET = _faults(
    "feet",
    ("flat_feet", "Flat feet", "Well-arched feet", "feet profile",
     {"foot_arch": 0.05}),
    ("splayed_feet", "Splayed feet", "Tight feet", "feet front",
     {"toe_spread": 0.95, "foot_arch": 0.60}),
    ("hare_feet", "Long, hare feet", "Short, rounded feet", "feet profile",
     {"foot_length": 1.34, "foot_arch": 0.75}),
    ("long_nails", "Nails too long", "Short nails", "feet front",
     {"nail_length": 2.7}),
)  # fmt: skip

_TAIL = _faults(
    "tail",
    ("high_tail", "Tail carried high", "Tail carried low", "profile rear",
     {"tail_base": 124, "tail_curl": 1.75}),
    ("curled_tail", "Tail curled over the back", "Tail carried low in a sabre", "profile",
     {"tail_base": 127, "tail_curl": 4.0}),
    ("short_tail", "Short tail", "Tail reaching the hock", "profile rear",
     {"tail_length": 0.40}),
    ("thin_tail", "Thin, bare tail", "Well-furnished tail", "profile rear",
     {"tail_brush": 0.44}),
    ("side_tail", "Tail carried to one side", "Tail carried straight", "rear",
     {"tail_side": 30}),
)  # fmt: skip

_COAT = _faults(
    "coat",
    ("open_coat", "Long, open coat", "Close double coat", "profile front rear",
     {"coat_length": 2.4}),
    ("smooth_coat", "Coat too short", "Close double coat", "profile front rear",
     {"coat_length": 0.34}),
    ("washed_colour", "Washed-out colour", "Clear, rich colour", "profile front rear head",
     {"colour_strength": 0.12}),
    ("excess_white", "Too much white", "White within the markings allowed", "profile front rear head",
     {"white": 0.90}),
    ("pale_pigment", "Pale nose and eye rims", "Black nose and eye rims", "head front",
     {"pigment": 0.06}),
)  # fmt: skip

_WHOLE = _faults(
    "whole",
    ("long_body", "Long in body", "Slightly longer than tall", "profile",
     {"body_length": 1.165}),
    ("short_body", "Short, square body", "Slightly longer than tall", "profile",
     {"body_length": 0.940}),
    ("short_on_leg", "Short on the leg", "Legs as long as the chest is deep", "profile front",
     {"leg_shortening": 0.066, "chest_depth": 0.560}),
    ("leggy", "High on the leg", "Legs as long as the chest is deep", "profile front",
     {"leg_shortening": -0.052, "chest_depth": 0.470}),
    ("light_bone", "Light in bone", "Bone of good strength", "profile front rear",
     {"bone": 0.76}),
    ("coarse_bone", "Coarse in bone", "Bone of good strength", "profile front rear",
     {"bone": 1.30}),
)  # fmt: skip

PRESETS: Mapping[str, Preset] = MappingProxyType(
    {
        preset.key: preset
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
        for preset in group
    }
)


def apply_faults(faults: Mapping[str, float], base: Settings | None = None) -> Settings:
    """The figure with these faults, each at its degree from 0 to 1, measured from the ideal.

    Changes of several faults to one parameter add up. `base` carries coat, markings, seed and any
    values of its own to start from. Raises `ImpossibleFigure` for a degree outside 0..1, and when the
    faults cannot stand on one dog; `KeyError` for a fault that is not in `PRESETS`.
    """
    start = base if base is not None else ideal()
    moved: dict[str, float] = {}
    for key, degree in faults.items():
        if not 0.0 <= degree <= 1.0:
            raise ImpossibleFigure(f"The degree of {PRESETS[key].name} must lie between 0 and 1.")
        for name, value in PRESETS[key].changes.items():
            step = degree * (value - PARAMETERS[name].ideal)
            moved[name] = moved.get(name, start[name]) + step
    return start.with_(**moved)
