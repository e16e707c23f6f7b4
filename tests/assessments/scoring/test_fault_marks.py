import pickle
import tracemalloc
from itertools import islice

import pytest

from assessments.scoring import (
    FaultKey,
    FaultMark,
    KeyEntry,
    MarkingRules,
    SeverityLadder,
    score_fault_marks,
    score_many,
)

from .exhibits import (
    BACK,
    BACK_EXACT,
    DISQUALIFYING,
    HOCKS,
    LADDER,
    MINOR,
    MODERATE,
    MOUTH,
    MOUTH_EXACT,
    SERIOUS,
    SHOULDER,
    SHOULDER_EXACT,
    SOUND,
    TOO_LONG,
    TWO_FAULTS,
    rectangle,
)


def score(key, *marks, **more):
    return score_fault_marks(key if isinstance(key, FaultKey) else FaultKey(key), marks, LADDER, **more)


class TestWhatIsReported:
    def test_matches_are_indices_into_what_was_given(self):
        found = score(TWO_FAULTS, FaultMark(0.9, 0.9, "gay tail", MINOR), BACK_EXACT, SHOULDER_EXACT)
        assert [(match.entry, match.mark) for match in found.matches] == [(0, 2), (1, 1)]
        assert found.false_alarms == (0,)
        assert (found.missed, found.repeats) == ((), ())

    def test_parts_of_a_match(self):
        mark = FaultMark(0.28, 0.45, "short upper arm", MODERATE, "5.1")
        (match,) = score(TWO_FAULTS, mark).matches
        assert match.location == pytest.approx(0.6)
        assert match.name == 0.5
        assert match.weigh == pytest.approx(2 / 3)
        assert match.credit == pytest.approx(0.6 * (0.4 + 0.35 * 0.5 + 0.25 * 2 / 3))
        assert match.points == pytest.approx(match.credit * 4 / 6)

    def test_the_three_parts_weigh_all_entries(self):
        found = score(TWO_FAULTS, FaultMark(0.28, 0.45, "short upper arm", MODERATE, "5.1"))
        assert found.seeing == pytest.approx(4 * 0.6 / 6)
        assert found.naming == pytest.approx(4 * 0.6 * 0.5 / 6)
        assert found.weighing == pytest.approx(4 * 0.6 * 2 / 3 / 6)
        assert found.missed == (1,)

    @pytest.mark.parametrize("marks", [[], [FaultMark(0.5, 0.5)]])
    def test_a_sound_exhibit_has_no_parts(self, marks):
        found = score(SOUND, *marks)
        assert (found.seeing, found.naming, found.weighing) == (None, None, None)
        assert found.false_alarms == tuple(range(len(marks)))

    def test_a_blank(self):
        found = score(TWO_FAULTS)
        assert (found.score, found.answered, found.missed) == (0, False, (0, 1))
        assert (found.seeing, found.naming, found.weighing) == (0, 0, 0)

    def test_a_score_can_be_kept(self):
        found = score(TWO_FAULTS, BACK_EXACT)
        again = pickle.loads(pickle.dumps(found))
        assert again == found
        assert again.lines == found.lines


class TestErrors:
    def test_nothing_found_with_marks(self):
        with pytest.raises(ValueError, match="nothing_found comes with 1 marks"):
            score(TWO_FAULTS, BACK_EXACT, nothing_found=True)

    def test_a_level_above_the_ladder(self):
        with pytest.raises(ValueError, match=r"mark 1 has level 4.*from 0 to 3"):
            score(TWO_FAULTS, BACK_EXACT, FaultMark(0.1, 0.1, "gay tail", 4))
        with pytest.raises(ValueError, match="mark 0 has level 1000000"):
            score(TWO_FAULTS, FaultMark(0.66, 0.34, "roached back", 10**30))

    def test_a_bad_answer_stops_many_where_it_stands(self):
        answers = [([BACK_EXACT], False), ([], True), ([BACK_EXACT], True)]
        scores = score_many(TWO_FAULTS, answers, LADDER)
        assert len(list(islice(scores, 2))) == 2
        with pytest.raises(ValueError, match="nothing_found"):
            next(scores)


class TestLocation:
    @pytest.mark.parametrize(
        ("x", "location"), [(0.35, 1), (0.30, 1), (0.29, 0.8), (0.26, 0.2), (0.251, 0.02)]
    )
    def test_falls_evenly_to_the_tolerance(self, x, location):
        assert score([SHOULDER], FaultMark(x, 0.45)).seeing == pytest.approx(location, abs=1e-9)

    def test_nothing_at_the_tolerance(self):
        entry = KeyEntry(rectangle(0.5, 0.5, 0.75, 0.75), "upright shoulder", "5.1", "forequarters", SERIOUS)
        found = score([entry], FaultMark(0.25, 0.625), rules=MarkingRules(tolerance=0.25))
        assert (found.missed, found.false_alarms) == ((0,), (0,))

    def test_with_several_regions_the_best(self):
        assert score([HOCKS], FaultMark(0.41, 0.75)).seeing == pytest.approx(0.8)
        assert score([HOCKS], FaultMark(0.54, 0.75)).seeing == pytest.approx(0.8)

    def test_a_mark_on_the_whole_dog_does_not_see_a_part(self):
        found = score([SHOULDER], FaultMark(None, None, "upright shoulder", SERIOUS))
        assert (found.missed, found.false_alarms) == ((0,), (0,))

    def test_a_fault_of_the_whole_dog_is_seen_by_its_name_anywhere(self):
        for place in ((None, None), (0.9, 0.9)):
            assert score([TOO_LONG], FaultMark(*place, "too long", MODERATE)).score == 1
        found = score([TOO_LONG], FaultMark(0.5, 0.5, "low on leg", MODERATE))
        assert found.score == pytest.approx(0.4 + 0.35 * 0.6 + 0.25)


class TestWeighing:
    def test_what_was_not_recognised_cannot_be_weighed(self):
        found = score([SHOULDER], FaultMark(0.35, 0.45, "loaded shoulder", SERIOUS, "5.4"))
        assert found.score == pytest.approx(0.4)
        assert found.weighing == 0

    def test_an_unweighed_mark_earns_no_weighing(self):
        assert score([SHOULDER], FaultMark(0.35, 0.45, "upright shoulder")).score == pytest.approx(0.75)

    def test_a_level_without_a_name_earns_nothing(self):
        assert score([SHOULDER], FaultMark(0.35, 0.45, None, SERIOUS)).score == pytest.approx(0.4)


class TestMatching:
    OVERLAPPING = (
        KeyEntry(rectangle(0.30, 0.40, 0.40, 0.50), "upright shoulder", "5.1", "forequarters", SERIOUS),
        KeyEntry(rectangle(0.35, 0.40, 0.45, 0.50), "short upper arm", "5.2", "forequarters", MODERATE),
    )

    def test_names_decide_where_both_regions_hold_both_pins(self):
        arm = FaultMark(0.36, 0.45, "short upper arm", MODERATE)
        shoulder = FaultMark(0.38, 0.45, "upright shoulder", SERIOUS)
        found = score(self.OVERLAPPING, arm, shoulder)
        assert [(match.entry, match.mark) for match in found.matches] == [(0, 1), (1, 0)]
        assert found.score == 1

    def test_the_sum_decides_not_the_best_single_credit(self):
        """The pin that names the shoulder also lies on the arm, where the other pin does not reach."""
        both = FaultMark(0.38, 0.45, "upright shoulder", SERIOUS)
        only_shoulder = FaultMark(0.30, 0.45, "upright shoulder", MODERATE)
        found = score(self.OVERLAPPING, both, only_shoulder)
        assert [(match.entry, match.mark) for match in found.matches] == [(0, 1), (1, 0)]
        assert found.score == pytest.approx((4 * (0.75 + 0.25 * 2 / 3) + 2 * 0.4) / 6)

    @pytest.mark.parametrize(("cheap", "dear"), [("ewe neck", "gay tail"), ("gay tail", "ewe neck")])
    def test_alike_marks_leave_the_cheaper_one_unmatched(self, cheap, dear):
        """Two names that the panel does not accept earn alike; the dearer false alarm is matched."""
        minor, serious = FaultMark(0.35, 0.45, cheap, MINOR), FaultMark(0.35, 0.45, dear, SERIOUS)
        for marks in ((minor, serious), (serious, minor)):
            found = score([SHOULDER], *marks)
            assert marks[found.matches[0].mark] is serious
            assert found.score == pytest.approx((4 * 0.4 - 0.25) / 4)

    def test_a_tie_falls_to_the_first_in_order_however_given(self):
        """The nameless pin comes first and is matched, so the wrong name is a false alarm."""
        nameless, wrong = FaultMark(0.35, 0.45), FaultMark(0.35, 0.45, "ewe neck")
        for marks in ((nameless, wrong), (wrong, nameless)):
            found = score([SHOULDER], *marks)
            assert marks[found.matches[0].mark] is nameless
            assert found.score == pytest.approx((4 * 0.4 - 0.5) / 4)


class TestRepeats:
    def test_a_nameless_pin_on_a_found_fault_costs_nothing(self):
        found = score(TWO_FAULTS, SHOULDER_EXACT, BACK_EXACT, FaultMark(0.31, 0.42))
        assert (found.score, found.repeats, found.repeat_of) == (1, (2,), (0,))

    def test_another_fault_named_on_a_found_one_is_a_false_alarm(self):
        found = score(TWO_FAULTS, SHOULDER_EXACT, BACK_EXACT, FaultMark(0.35, 0.5, "loaded shoulder", MINOR))
        assert (found.false_alarms, found.score) == ((2,), pytest.approx((6 - 0.25) / 6))

    def test_the_matched_marks_own_wrong_name_again_is_a_repeat(self):
        wrong = FaultMark(0.35, 0.45, "loaded shoulder", SERIOUS)
        found = score([SHOULDER], wrong, FaultMark(0.36, 0.45, "loaded shoulder", MINOR))
        assert (found.false_alarms, len(found.repeats)) == ((), 1)
        assert found.score == pytest.approx(0.4)

    def test_an_accepted_name_with_full_credit_is_a_repeat(self):
        entry = KeyEntry(
            SHOULDER.region, "upright shoulder", "5.1", "forequarters", SERIOUS, {"steep shoulder": 1}
        )
        found = score([entry], SHOULDER_EXACT, FaultMark(0.36, 0.45, "steep shoulder", SERIOUS))
        assert (found.score, len(found.repeats)) == (1, 1)

    def test_out_of_reach_it_is_a_false_alarm(self):
        found = score([SHOULDER], SHOULDER_EXACT, FaultMark(0.6, 0.45, "upright shoulder", SERIOUS))
        assert (found.repeats, found.false_alarms) == ((), (1,))

    def test_the_furthest_level_counts(self):
        again = FaultMark(0.36, 0.45, "upright shoulder", MINOR)
        found = score([SHOULDER], SHOULDER_EXACT, again)
        assert found.matches[0].mark == 0
        assert found.matches[0].weigh == pytest.approx(1 / 3)

    def test_a_repeat_without_a_level_does_not_lower_the_weighing(self):
        found = score([SHOULDER], SHOULDER_EXACT, FaultMark(0.36, 0.45, "upright shoulder"))
        assert (found.score, found.repeats) == (1, (1,))

    def test_a_level_without_a_name_agrees_with_nothing(self):
        """S is 0 where N is 0, so a nameless repeat with a level takes the weighing away."""
        found = score([SHOULDER], SHOULDER_EXACT, FaultMark(0.36, 0.45, None, SERIOUS))
        assert found.score == pytest.approx(0.75)

    def test_belongs_to_the_nearest_entry_of_which_it_is_true(self):
        left = KeyEntry(rectangle(0.30, 0.40, 0.34, 0.50), "upright shoulder", "5.1", "forequarters", SERIOUS)
        right = KeyEntry(rectangle(0.38, 0.40, 0.42, 0.50), "short upper arm", "5.2", "forequarters", SERIOUS)
        exact = (
            FaultMark(0.32, 0.45, "upright shoulder", SERIOUS),
            FaultMark(0.40, 0.45, "short upper arm", SERIOUS),
        )
        assert score([left, right], *exact, FaultMark(0.35, 0.45)).repeat_of == (0,)
        assert score([left, right], *exact, FaultMark(0.37, 0.45)).repeat_of == (1,)
        near_right = FaultMark(0.37, 0.45, "upright shoulder", MINOR)
        assert score([left, right], *exact, near_right).repeat_of == (0,)

    def test_equally_near_it_belongs_to_the_first_in_order_however_given(self):
        left = KeyEntry(rectangle(0.30, 0.40, 0.40, 0.50), "upright shoulder", "5.1", "forequarters", SERIOUS)
        right = KeyEntry(rectangle(0.35, 0.40, 0.45, 0.50), "short upper arm", "5.2", "forequarters", MINOR)
        marks = (
            FaultMark(0.32, 0.45, "upright shoulder", SERIOUS),
            FaultMark(0.43, 0.45, "short upper arm", MINOR),
            FaultMark(0.37, 0.45, None, MINOR),
        )
        assert score([left, right], *marks).score == pytest.approx((4 * 0.75 + 1) / 5)
        assert score([right, left], *marks).score == pytest.approx((4 * 0.75 + 1) / 5)


class TestFalseAlarms:
    @pytest.mark.parametrize(("level", "weight"), [(MINOR, 1), (MODERATE, 2), (SERIOUS, 4), (None, 2)])
    def test_cost_a_quarter_of_their_weight(self, level, weight):
        found = score(TWO_FAULTS, SHOULDER_EXACT, BACK_EXACT, FaultMark(0.9, 0.2, "gay tail", level))
        assert found.score == pytest.approx(1 - 0.25 * weight / 6)

    def test_never_bring_the_score_below_zero(self):
        alarms = [FaultMark(0.9, 0.1 * n, "gay tail", SERIOUS) for n in range(8)]
        assert score(TWO_FAULTS, FaultMark(0.66, 0.34), *alarms).score == 0

    def test_on_a_sound_exhibit_take_their_weight(self):
        minor = FaultMark(0.9, 0.2, "gay tail", MINOR)
        assert score(SOUND, minor, minor).score == pytest.approx(0.5)
        assert score(SOUND, minor, FaultMark(0.1, 0.1, "ewe neck", SERIOUS)).score == 0

    def test_on_a_ladder_without_disqualification(self):
        ladder = SeverityLadder(("Slight", "Marked", "Grave"), (1, 2, 5), disqualifying=False)
        assert score_fault_marks(SOUND, [FaultMark(0.5, 0.5, "gay tail", 1)], ladder).score == pytest.approx(
            0.6
        )


class TestDisqualification:
    MOUTH_AND_BACK = (MOUTH, BACK)

    def test_exact(self):
        found = score(self.MOUTH_AND_BACK, MOUTH_EXACT, BACK_EXACT)
        assert (found.score, found.capped, found.cap_reason) == (1, False, None)

    def test_missed(self):
        teeth = KeyEntry(rectangle(0.10, 0.60, 0.16, 0.65), "missing premolar", "3.5", "head", MINOR)
        many = [BACK, SHOULDER, HOCKS, teeth, MOUTH]
        hocks = FaultMark(0.37, 0.75, "cow hocks", SERIOUS)
        premolar = FaultMark(0.13, 0.62, "missing premolar", MINOR)
        found = score(many, BACK_EXACT, SHOULDER_EXACT, hocks, premolar)
        assert found.uncapped == pytest.approx(11 / 19)
        assert (found.score, found.capped, found.cap_reason) == (0.5, True, "missed")

    def test_missed_but_lower_anyway_is_not_called_capped(self):
        found = score(self.MOUTH_AND_BACK, BACK_EXACT)
        assert (found.score, found.capped, found.cap_reason) == (pytest.approx(0.2), False, "missed")

    @pytest.mark.parametrize("level", [SERIOUS, None])
    def test_not_weighed_as_disqualifying(self, level):
        found = score(self.MOUTH_AND_BACK, FaultMark(0.13, 0.22, "undershot", level), BACK_EXACT)
        assert (found.score, found.capped, found.cap_reason) == (0.5, True, "not weighed")

    def test_without_weighing_finding_it_is_enough(self):
        rules = MarkingRules(see=0.55, name=0.45, weigh=0)
        found = score(self.MOUTH_AND_BACK, FaultMark(0.13, 0.22, "undershot"), BACK_EXACT, rules=rules)
        assert found.score == 1

    @pytest.mark.parametrize(
        "claim",
        [
            FaultMark(0.66, 0.34, "roached back", DISQUALIFYING),
            FaultMark(0.9, 0.2, "gay tail", DISQUALIFYING),
            FaultMark(None, None, "too long", DISQUALIFYING),
        ],
        ids=["matched", "false alarm", "whole dog"],
    )
    def test_claimed_where_there_is_none(self, claim):
        others = [SHOULDER_EXACT] if claim.fault == "roached back" else [SHOULDER_EXACT, BACK_EXACT]
        found = score(TWO_FAULTS, *others, claim)
        assert (found.score, found.capped, found.cap_reason) == (0.5, True, "overclaimed")

    def test_claimed_in_a_repeat(self):
        again = FaultMark(0.66, 0.35, "roached back", DISQUALIFYING)
        found = score(TWO_FAULTS, SHOULDER_EXACT, BACK_EXACT, again)
        assert (found.repeats, found.score, found.cap_reason) == ((2,), 0.5, "overclaimed")

    def test_a_repeated_right_claim_is_no_overclaim(self):
        found = score(self.MOUTH_AND_BACK, MOUTH_EXACT, MOUTH_EXACT, BACK_EXACT)
        assert (found.score, found.cap_reason) == (1, None)

    def test_a_ladder_without_disqualification_has_no_cap(self):
        ladder = SeverityLadder(("Minor", "Moderate", "Serious", "Grave"), (1, 2, 4, 8), disqualifying=False)
        found = score_fault_marks(FaultKey(self.MOUTH_AND_BACK), [MOUTH_EXACT], ladder)
        assert (found.score, found.cap_reason) == (pytest.approx(0.8), None)


class TestMany:
    def test_takes_no_more_memory_for_more_answers(self):
        def peak(count):
            answers = (([SHOULDER_EXACT, BACK_EXACT], False) for _ in range(count))
            tracemalloc.start()
            for _ in score_many(TWO_FAULTS, answers, LADDER):
                pass
            _, highest = tracemalloc.get_traced_memory()
            tracemalloc.stop()
            return highest

        peak(10)
        assert peak(3300) < 1.5 * peak(1100)

    def test_reads_answers_as_they_are_needed(self):
        def answers():
            while True:
                yield [BACK_EXACT], False

        assert next(score_many(TWO_FAULTS, answers(), LADDER)).score == pytest.approx(1 / 3)

    def test_no_answers(self):
        assert list(score_many(TWO_FAULTS, [], LADDER)) == []

    def test_an_answer_without_pins_among_answers_with(self):
        whole = FaultMark(None, None, "too long", MODERATE)
        answers = [
            ([whole], False),
            ([SHOULDER_EXACT, whole], False),
            ([], False),
            ([whole, BACK_EXACT], False),
        ]
        scores = [each.score for each in score_many(FaultKey([SHOULDER, TOO_LONG, BACK]), answers, LADDER)]
        assert scores == pytest.approx([2 / 8, 6 / 8, 0, 4 / 8])
