"""The exhibits that the tests of scoring share."""

from assessments.scoring import DEFAULT_LADDER, FaultKey, FaultMark, KeyEntry

LADDER = DEFAULT_LADDER
MINOR, MODERATE, SERIOUS, DISQUALIFYING = range(4)


def rectangle(left, upper, right, lower):
    return ((left, upper), (right, upper), (right, lower), (left, lower))


SHOULDER = KeyEntry(rectangle(0.30, 0.40, 0.40, 0.55), "upright shoulder", "5.1", "forequarters", SERIOUS)
BACK = KeyEntry(
    rectangle(0.60, 0.30, 0.72, 0.38), "roached back", "6.2", "topline", MODERATE, also={"steep croup": 0.5}
)
MOUTH = KeyEntry(rectangle(0.10, 0.20, 0.16, 0.25), "undershot", "3.4", "head", DISQUALIFYING)
HOCKS = KeyEntry(
    (rectangle(0.35, 0.70, 0.40, 0.80), rectangle(0.55, 0.70, 0.60, 0.80)),
    "cow hocks",
    "8.2",
    "hindquarters",
    SERIOUS,
)
TOO_LONG = KeyEntry(None, "too long", "2.1", "whole", MODERATE, also={"low on leg": 0.6})

SHOULDER_EXACT = FaultMark(0.35, 0.45, "upright shoulder", SERIOUS, "5.1")
BACK_EXACT = FaultMark(0.66, 0.34, "roached back", MODERATE, "6.2")
MOUTH_EXACT = FaultMark(0.13, 0.22, "undershot", DISQUALIFYING, "3.4")

TWO_FAULTS = FaultKey((SHOULDER, BACK))
SOUND = FaultKey(())
