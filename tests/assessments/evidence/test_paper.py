"""Figures of a quiz from scores, and how they are kept."""

import json

import numpy as np
import pytest

from assessments.evidence.paper import PaperFigures, paper_figures
from assessments.statistics.item_analysis import analyse

TABLE = np.array([[1.0, 0.5, 0.2], [0.8, np.nan, 0.1], [0.6, 0.4, 0.0], [0.2, 0.3, np.nan]])
SCORES = [(person, item, TABLE[person, item]) for person, item in np.argwhere(~np.isnan(TABLE)).tolist()]


def test_the_figures_are_those_of_the_analysis():
    found, wanted = paper_figures(reversed(SCORES)), analyse(TABLE)
    assert (found.people, found.alpha, found.sem) == (4, wanted.alpha, wanted.sem)
    assert [item.facility for item in found.items] == wanted.facility.tolist()
    assert [item.discrimination for item in found.items] == wanted.discrimination.tolist()
    assert [item.presented for item in found.items] == [4, 3, 3]
    assert found.marks == pytest.approx(sorted(np.nanmean(TABLE, axis=1)), abs=1e-4)
    assert found.mean == pytest.approx(np.nanmean(TABLE, axis=1).mean())


def test_what_is_not_known_is_none_and_survives_being_kept():
    found = paper_figures(
        [(person, item, 1.0 if item else person / 9) for person in range(6) for item in (0, 1)]
    )
    assert found.items[1].discrimination is None
    assert PaperFigures.from_data(json.loads(json.dumps(found.to_data(), allow_nan=False))) == found


def test_one_item_has_a_facility_and_no_reliability():
    found = paper_figures([(person, 7, person / 9) for person in range(10)])
    assert (found.people, found.alpha, found.items[0].facility) == (10, None, 0.5)
    assert not found.enough


def test_nobody_is_no_paper():
    assert paper_figures([]) == PaperFigures(0, None, None, None, None, (), ())
