"""A dog to measure: the ideal of the drawn figure as printed in its design, placed on a picture."""

import math

# Units of the height at the withers, x forward, y up, ground at 0.
IDEAL = {
    "withers": (-0.0106, 1.0000),
    "blade_top": (-0.0156, 0.9650),
    "point_of_shoulder": (0.1450, 0.7356),
    "prosternum": (0.2090, 0.7436),
    "elbow": (-0.0260, 0.5319),
    "point_of_elbow": (-0.0920, 0.5479),
    "brisket": (-0.0460, 0.4850),
    "wrist": (-0.0120, 0.1737),
    "front_foot": (0.0189, 0.0660),
    "loin_top": (-0.4338, 0.9700),
    "hip_bone": (-0.6151, 0.9260),
    "hip_joint": (-0.7858, 0.8126),
    "point_of_buttock": (-0.8800, 0.7852),
    "set_on": (-0.8260, 0.8750),
    "stifle": (-0.6667, 0.5177),
    "hock_joint": (-0.8779, 0.2660),
    "point_of_hock": (-0.9149, 0.3010),
    "rear_foot": (-0.8779, 0.0660),
    "tail_tip": (-1.0500, 0.2600),
    "occiput": (0.2336, 1.2712),
    "stop": (0.4360, 1.2120),
    "nose": (0.6280, 1.1100),
    "ground_front": (0.0189, 0.0),
    "ground_rear": (-0.8779, 0.0),
}
FRONT = {
    "withers": (0.0, 1.0),
    "elbow_l": (0.112, 0.535),
    "elbow_r": (-0.112, 0.535),
    "wrist_l": (0.098, 0.178),
    "wrist_r": (-0.098, 0.178),
    "foot_l": (0.090, 0.066),
    "foot_r": (-0.098, 0.066),
    "toe_l": (0.096, 0.010),
    "toe_r": (-0.104, 0.010),
    "ground_l": (0.090, 0.0),
    "ground_r": (-0.098, 0.0),
}
REAR = {
    "hock_l": (-0.084, 0.268),
    "hock_r": (0.084, 0.268),
    "rear_foot_l": (-0.090, 0.066),
    "rear_foot_r": (0.084, 0.066),
    "toe_l": (-0.100, 0.010),
    "toe_r": (0.080, 0.010),
    "ground_l": (-0.090, 0.0),
    "ground_r": (0.084, 0.0),
}

Points = dict[str, tuple[float, float]]


def placed(dog: Points, *, height: float = 0.43, roll: float = 0.0, mirrored: bool = False) -> Points:
    """On a picture, y down; `height` of the dog in picture units, the camera rolled by `roll` degrees."""
    cos, sin = math.cos(math.radians(roll)), math.sin(math.radians(roll))
    way = -1 if mirrored else 1
    flat = {name: (way * height * x, -height * y) for name, (x, y) in dog.items()}
    return {name: (0.6 + cos * x - sin * y, 0.675 + sin * x + cos * y) for name, (x, y) in flat.items()}


def without(points: Points, *names: str) -> Points:
    return {name: at for name, at in points.items() if name not in names}
