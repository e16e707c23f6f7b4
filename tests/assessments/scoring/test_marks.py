import pickle

import numpy as np
import pytest

from assessments.scoring import FaultKey, FaultMark, KeyEntry

from .exhibits import BACK, HOCKS, TOO_LONG, rectangle

SQUARE = rectangle(0.1, 0.1, 0.2, 0.2)


class TestKeyEntry:
    def test_region_may_be_one_polygon_several_or_none(self):
        assert KeyEntry(SQUARE, "short neck", "4.1", "neck", 0).region == (SQUARE,)
        assert len(HOCKS.region) == 2
        assert TOO_LONG.region is None
        assert TOO_LONG.shape is None

    @pytest.mark.parametrize(
        ("change", "message"),
        [
            ({"region": [(0, 0), (1, 1)]}, "at least 3"),
            ({"region": [(0, 0), (1, 1), (1, 0), (0, 1)]}, "not simple"),
            ({"region": []}, "empty"),
            ({"region": [(0, 0), (1, float("nan")), (1, 1)]}, "finite"),
            ({"fault": ""}, "fault '' is not a name"),
            ({"fault": 3}, "fault 3 is not a name"),
            ({"clause": " "}, "clause ' ' is not a name"),
            ({"zone": ""}, "zone '' is not a name"),
            ({"level": -1}, "level -1 is not a level"),
            ({"level": 1.5}, "level 1.5 is not a whole number"),
            ({"level": True}, "level True is not a level"),
            ({"also": {"ewe neck": 1.2}}, "credit 1.2 for 'ewe neck' must be a number from 0 to 1"),
            ({"also": {"ewe neck": -0.1}}, "credit -0.1"),
            ({"also": {"ewe neck": float("nan")}}, "credit nan"),
            ({"also": {"ewe neck": "half"}}, "credit 'half'"),
            ({"also": {"": 0.5}}, "fault '' is not a name"),
        ],
    )
    def test_refuses(self, change, message):
        entry = {"region": SQUARE, "fault": "short neck", "clause": "4.1", "zone": "neck", "level": 0}
        with pytest.raises(ValueError, match=message):
            KeyEntry(**(entry | change))

    def test_name_credit(self):
        """The key's name, an accepted one, another of the same clause, and everything else."""
        assert BACK.name_credit("roached back", None) == 1
        assert BACK.name_credit("steep croup", "6.2") == 0.5
        assert BACK.name_credit("dip behind the withers", "6.2") == 0.5
        assert BACK.name_credit("dip behind the withers", "6.3") == 0
        assert BACK.name_credit(None, "6.2") == 0

    def test_the_stated_credit_comes_before_the_clause(self):
        entry = KeyEntry(SQUARE, "short neck", "4.1", "neck", 0, also={"ewe neck": 0.0, "thick neck": 0.9})
        assert entry.name_credit("ewe neck", "4.1") == 0
        assert entry.name_credit("thick neck", "4.1") == 0.9

    def test_no_clause_is_nobodys_clause(self):
        assert KeyEntry(SQUARE, "short neck", None, "neck", 0).name_credit("ewe neck", None) == 0

    def test_a_changed_dictionary_does_not_change_the_key(self):
        also = {"ewe neck": 0.5}
        entry = KeyEntry(SQUARE, "short neck", "4.1", "neck", 0, also)
        also["ewe neck"] = 1.0
        assert entry.also == {"ewe neck": 0.5}

    def test_entries_can_be_kept(self):
        assert pickle.loads(pickle.dumps(FaultKey([HOCKS, TOO_LONG]))) == FaultKey((HOCKS, TOO_LONG))
        assert len({HOCKS, TOO_LONG, HOCKS}) == 2


class TestFaultMark:
    @pytest.mark.parametrize(
        ("arguments", "message"),
        [
            ((0.1, None), "x = 0.1 and y = None: give both"),
            ((None, 0.1), "give both"),
            ((float("nan"), 0.1), "x = nan and y = 0.1: both must be finite"),
            ((0.1, float("inf")), "finite"),
            (("left", 0.1), "finite"),
            ((0.1, 0.1, ""), "fault '' is not a name"),
            ((0.1, 0.1, "short neck", -1), "level -1"),
            ((0.1, 0.1, "short neck", 0.5), "level 0.5"),
            ((0.1, 0.1, "short neck", 1, ""), "clause '' is not a name"),
        ],
    )
    def test_refuses(self, arguments, message):
        with pytest.raises(ValueError, match=message):
            FaultMark(*arguments)

    def test_numbers_of_an_array_are_numbers(self):
        mark = FaultMark(np.float64(0.5), np.float64(0.25), "short neck", np.int64(2))
        assert mark == FaultMark(0.5, 0.25, "short neck", 2)

    def test_order(self):
        """x, y, fault, level, clause, the unsaid and the whole dog first."""
        marks = [
            FaultMark(None, None, "too long"),
            FaultMark(0.1, 0.9),
            FaultMark(0.2, 0.1, None, 3),
            FaultMark(0.2, 0.1, "ewe neck", None, "9"),
            FaultMark(0.2, 0.1, "ewe neck", 0),
            FaultMark(0.2, 0.1, "ewe neck", 0, "4.1"),
            FaultMark(0.2, 0.1, "short neck"),
        ]
        jumbled = [marks[place] for place in (3, 6, 0, 5, 1, 4, 2)]
        assert sorted(jumbled, key=lambda mark: mark.order) == marks
