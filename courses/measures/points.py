"""The anatomical points of each view, with their words for the screen and where each is found."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise


@dataclass(frozen=True, slots=True)
class AnatomicalPoint:
    """`label` is the word on the screen, `where` tells whoever places it what to look for."""

    name: str
    label: str
    where: str


def _points(*rows: tuple[str, str, str]) -> tuple[AnatomicalPoint, ...]:
    return tuple(AnatomicalPoint(*row) for row in rows)


def _pair(name: str, label: str, where: str) -> tuple[tuple[str, str, str], ...]:
    """Left and right are the dog's own."""
    return (f"{name}_l", f"Left {label}", where), (f"{name}_r", f"Right {label}", where)


POINTS: dict[str, tuple[AnatomicalPoint, ...]] = {
    "profile": _points(
        ("nose", "Nose", "foremost point of the nose"),
        ("stop", "Stop", "deepest point of the step between muzzle and forehead"),
        ("occiput", "Occiput", "bony point at the back of the skull"),
        ("withers", "Withers", "highest point of the back behind the neck, over the shoulder blades"),
        ("blade_top", "Top of shoulder blade", "upper edge of the blade at the end of its ridge"),
        ("point_of_shoulder", "Point of shoulder", "front of the joint between blade and upper arm"),
        ("prosternum", "Forechest", "foremost point of the breastbone"),
        ("elbow", "Elbow joint", "middle of the joint between upper arm and forearm"),
        ("point_of_elbow", "Point of elbow", "bony point behind the elbow joint"),
        ("brisket", "Brisket", "lowest point of the chest between the forelegs"),
        ("wrist", "Wrist", "middle of the joint above the front pastern"),
        ("front_foot", "Front foot joint", "joint between front pastern and toes"),
        ("loin_top", "Top of loin", "upper line midway between the last rib and the pelvis"),
        ("hip_bone", "Hip bone", "front corner of the pelvis"),
        ("hip_joint", "Hip joint", "head of the thigh bone in its socket"),
        ("point_of_buttock", "Point of buttock", "rearmost point of the pelvis"),
        ("set_on", "Root of tail", "upper line where the tail begins"),
        ("stifle", "Stifle", "middle of the joint between upper and lower thigh"),
        ("hock_joint", "Hock joint", "middle of the joint above the rear pastern"),
        ("point_of_hock", "Point of hock", "bony point behind the hock joint"),
        ("rear_foot", "Rear foot joint", "joint between rear pastern and toes"),
        ("tail_tip", "Tip of tail", "last of the tail without its hair"),
        ("ground_front", "Ground in front", "on the ground below the near forefoot"),
        ("ground_rear", "Ground behind", "on the ground below the near hind foot"),
    ),
    "front": _points(
        ("withers", "Withers", "highest point over the shoulder blades"),
        *_pair("point_of_shoulder", "point of shoulder", "front of the joint between blade and upper arm"),
        *_pair("elbow", "elbow", "middle of the joint between upper arm and forearm"),
        *_pair("wrist", "wrist", "middle of the joint above the front pastern"),
        *_pair("foot", "foot joint", "middle of the joint between front pastern and toes"),
        *_pair("toe", "toe", "between the tips of the two middle toes"),
        *_pair("ground", "ground", "on the ground below the forefoot"),
        ("brisket", "Brisket", "lowest point of the chest between the forelegs"),
    ),
    "rear": _points(
        *_pair("hip", "hip", "outermost point of the thigh at the hip joint"),
        *_pair("stifle", "stifle", "outermost point of the thigh at the stifle"),
        *_pair("hock", "hock", "middle of the point of hock"),
        *_pair("rear_foot", "rear foot joint", "middle of the joint between rear pastern and toes"),
        *_pair("toe", "toe", "between the tips of the two middle toes"),
        *_pair("ground", "ground", "on the ground below the hind foot"),
        ("set_on", "Root of tail", "where the tail begins"),
    ),
    "head": _points(
        ("nose", "Nose", "foremost point of the nose"),
        ("stop", "Stop", "deepest point of the step between muzzle and forehead"),
        ("occiput", "Occiput", "bony point at the back of the skull"),
        ("eye_inner", "Inner corner of eye", "where the lids meet towards the nose"),
        ("eye_outer", "Outer corner of eye", "where the lids meet towards the ear"),
        ("ear_base", "Base of ear", "front edge of the ear where it leaves the skull"),
        ("ear_tip", "Tip of ear", "end of the ear leather"),
        ("jaw_corner", "Corner of jaw", "rear lower corner of the lower jaw"),
        ("chin", "Chin", "foremost point of the lower jaw"),
    ),
}


def _legs(*downwards: str) -> tuple[tuple[str, str], ...]:
    """Both legs from the top down, and the ground."""
    bones = [(f"{upper}_{side}", f"{lower}_{side}") for side in "lr" for upper, lower in pairwise(downwards)]
    return (*bones, ("ground_l", "ground_r"))


# Lines that make the points readable on the picture.
BONES: dict[str, tuple[tuple[str, str], ...]] = {
    "profile": (
        ("nose", "stop"),
        ("stop", "occiput"),
        ("blade_top", "point_of_shoulder"),
        ("point_of_shoulder", "elbow"),
        ("elbow", "wrist"),
        ("wrist", "front_foot"),
        ("hip_bone", "point_of_buttock"),
        ("hip_joint", "stifle"),
        ("stifle", "hock_joint"),
        ("hock_joint", "rear_foot"),
        ("ground_rear", "ground_front"),
    ),
    "front": _legs("point_of_shoulder", "elbow", "wrist", "foot", "toe"),
    "rear": _legs("hip", "stifle", "hock", "rear_foot", "toe"),
    "head": (("nose", "stop"), ("stop", "occiput"), ("eye_inner", "eye_outer"), ("jaw_corner", "chin")),
}


def point_label(view: str, name: str) -> str:
    """The word on the screen; the name itself, made readable, for a point the view does not know."""
    known = {point.name: point.label for point in POINTS.get(view, ())}
    return known.get(name, name.replace("_", " ").capitalize())
