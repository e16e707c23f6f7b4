"""Placed points beside the point responses of an open standard for test items."""

import pytest

from assessments.scoring.points import KeyPoint, PointKey, PointRules, score_points

# 1EdTech (IMS Global) QTI example item select_point, "Where is Edinburgh?": one circle of radius 16 round
# (102, 113) is worth 1, everything else 0. The radius is the spread here; the height at the withers is the
# unit, and the credit fades to nothing before the next pixel that is asked.
EDINBURGH = PointKey({"it": KeyPoint("Edinburgh", (102, 113), spread=16)}, height=1)
AT_ONCE = PointRules(fading=0.9)


@pytest.mark.parametrize(
    ("spot", "expected"),
    [
        ((102, 113), 1),  # T9-D-01, printed
        # T9-D-02, derived from the rule of areaMapping; a spot on the edge counts as inside
        ((112, 123), 1),
        ((113, 124), 1),
        ((114, 125), 0),
        ((118, 113), 1),
        ((119, 113), 0),
        ((102, 97), 1),
        ((102, 96), 0),
        ((86, 113), 1),
        ((0, 0), 0),
    ],
)
def test_where_is_edinburgh(spot, expected):
    assert score_points(EDINBURGH, {"it": spot}, AT_ONCE).score == expected
