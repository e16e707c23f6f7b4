"""Each measure written out by hand for a dog in profile that looks to the right, with a function library.

The library may be numpy (many placings at once) or `uncertainties.umath` (error propagation by another
hand than ours).
"""

from types import SimpleNamespace
from typing import Any


def profile(p: dict[str, tuple[Any, Any]], maths: SimpleNamespace) -> dict[str, Any]:
    def distance(a: str, b: str) -> Any:
        return maths.sqrt((p[a][0] - p[b][0]) ** 2 + (p[a][1] - p[b][1]) ** 2)

    def heading(a: str, b: str) -> Any:
        """From a to b, degrees anticlockwise from the picture's right."""
        return maths.degrees(maths.atan2(p[a][1] - p[b][1], p[b][0] - p[a][0]))

    def corner(a: str, b: str, c: str) -> Any:
        """By the law of cosines."""
        ab, cb, ac = distance(a, b), distance(c, b), distance(a, c)
        return maths.degrees(maths.acos((ab**2 + cb**2 - ac**2) / (2 * ab * cb)))

    ground = heading("ground_rear", "ground_front")
    base = distance("ground_rear", "ground_front")
    (gx, gy), (fx, fy) = p["ground_rear"], p["ground_front"]

    def up(a: str) -> Any:
        return ((gy - p[a][1]) * (fx - gx) + (p[a][0] - gx) * (fy - gy)) / base

    def forward(a: str) -> Any:
        return ((p[a][0] - gx) * (fx - gx) + (p[a][1] - gy) * (fy - gy)) / base

    height = up("withers")
    (wx, wy), (sx, sy), (lx, ly) = p["withers"], p["set_on"], p["loin_top"]
    return {
        "length_to_height": (forward("prosternum") - forward("point_of_buttock")) / height,
        "depth_of_chest": (up("withers") - up("brisket")) / height,
        "length_of_leg": up("elbow") / height,
        "layback": heading("point_of_shoulder", "blade_top") - ground - 90,
        "shoulder_angle": corner("blade_top", "point_of_shoulder", "elbow"),
        "upper_arm_to_blade": distance("point_of_shoulder", "elbow")
        / distance("point_of_shoulder", "blade_top"),
        "elbow_set": (forward("elbow") - forward("withers")) / height,
        "front_pastern": heading("front_foot", "wrist") - ground - 90,
        "pelvis_slope": heading("point_of_buttock", "hip_bone") - ground,
        "croup_slope": heading("set_on", "hip_bone") - ground,
        "stifle_angle": corner("hip_joint", "stifle", "hock_joint"),
        "hock_angle": corner("stifle", "hock_joint", "rear_foot"),
        "rear_pastern": heading("rear_foot", "hock_joint") - ground - 90,
        "hind_reach": (forward("point_of_buttock") - forward("rear_foot")) / height,
        "topline_rise": ((sx - wx) * (ly - wy) - (lx - wx) * (sy - wy))
        / distance("withers", "set_on")
        / height,
        "tail_reach": distance("set_on", "tail_tip") / distance("set_on", "point_of_hock"),
        "muzzle_to_skull": distance("nose", "stop") / distance("stop", "occiput"),
    }
