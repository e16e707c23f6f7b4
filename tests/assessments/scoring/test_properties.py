"""What must hold of every answer, whatever the key."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from assessments.scoring import FaultKey, FaultMark, score_fault_marks, score_many

from . import by_hand, drawn

some = settings(max_examples=40)


def score(key, marks, ladder, rules):
    return score_fault_marks(key, marks, ladder, rules)


@some
@given(drawn.answers(), drawn.ladders, drawn.rules)
def test_the_rules_followed_by_hand_allow_the_score(answer, ladder, rules):
    key, marks = answer
    allowed = by_hand.all_scores(key, marks, ladder, rules)
    assert min(abs(score(key, marks, ladder, rules).score - each) for each in allowed) < 1e-9


@some
@given(drawn.answers(), drawn.ladders, drawn.rules)
def test_scores_and_parts_lie_between_0_and_1_and_lines_sum(answer, ladder, rules):
    found = score(*answer, ladder, rules)
    for part in (found.score, found.seeing, found.naming, found.weighing):
        assert 0 <= part <= 1
    assert sum(points for _, points in found.lines) == pytest.approx(found.score, abs=1e-12)
    assert sum(line.available or 0 for line in found.lines) == pytest.approx(1)


@some
@given(drawn.answers(), drawn.ladders, drawn.rules)
def test_every_mark_and_entry_is_accounted_for_once(answer, ladder, rules):
    key, marks = answer
    found = score(key, marks, ladder, rules)
    used = [match.mark for match in found.matches] + [*found.false_alarms, *found.repeats]
    assert sorted(used) == list(range(len(marks)))
    assert sorted([match.entry for match in found.matches] + [*found.missed]) == list(range(len(key.entries)))


@some
@given(drawn.keys, drawn.ladders, drawn.rules)
def test_a_perfect_answer_scores_1(key, ladder, rules):
    """Where nothing is weighed, two entries of one fault in one place cannot be told apart: no such key."""
    assume(rules.weigh > 0 or not by_hand.confusable(key, rules))
    found = score(key, [drawn.exact(entry) for entry in key.entries], ladder, rules)
    assert found.score == pytest.approx(1, abs=1e-12)


@some
@given(st.data(), drawn.answers(), drawn.ladders, drawn.rules)
def test_the_order_of_marks_and_entries_does_not_matter(data, answer, ladder, rules):
    key, marks = answer
    turned_marks = data.draw(st.permutations(marks))
    turned_key = FaultKey(data.draw(st.permutations(key.entries)))
    assert score(turned_key, turned_marks, ladder, rules).score == score(key, marks, ladder, rules).score


@some
@given(st.lists(drawn.answers(), min_size=1, max_size=3), drawn.ladders, drawn.rules)
def test_many_are_marked_as_one_by_one(some_answers, ladder, rules):
    key = some_answers[0][0]
    answers = [(marks, False) for _, marks in some_answers] + [([], True), ([], False)]
    many = list(score_many(key, answers, ladder, rules))
    alone = [score_fault_marks(key, marks, ladder, rules, nothing) for marks, nothing in answers]
    assert many == alone
    assert [each.lines for each in many] == [each.lines for each in alone]


@some
@given(drawn.answers(), drawn.ladders, drawn.rules)
def test_a_mirrored_picture_scores_the_same(answer, ladder, rules):
    """Unless the rules leave a tie: the order of marks, which breaks it, begins at the left."""
    key, marks = answer
    assume(len(by_hand.all_scores(key, marks, ladder, rules)) == 1)
    turned = score(drawn.mirrored_key(key), [drawn.mirrored(mark) for mark in marks], ladder, rules)
    assert turned.score == pytest.approx(score(key, marks, ladder, rules).score, abs=1e-9)


@some
@given(drawn.answers(), drawn.ladders, drawn.rules, st.none() | drawn.levels)
def test_a_false_alarm_more_never_helps(answer, ladder, rules, level):
    key, marks = answer
    more = [*marks, FaultMark(5.0, 5.0, "ewe neck", level)]
    assert score(key, more, ladder, rules).score <= score(key, marks, ladder, rules).score + 1e-12


@some
@given(st.lists(st.none() | drawn.levels, max_size=4), drawn.ladders, drawn.rules, st.none() | drawn.levels)
def test_a_fault_more_on_a_sound_exhibit_never_helps(given_levels, ladder, rules, level):
    marks = [FaultMark(0.5, 0.5, "ewe neck", each) for each in given_levels]
    before = score_fault_marks(FaultKey(), marks, ladder, rules, nothing_found=not marks).score
    after = score(FaultKey(), [*marks, FaultMark(0.5, 0.5, "ewe neck", level)], ladder, rules).score
    assert after < before or before == after == 0


@some
@given(st.data(), drawn.placed_entries, drawn.ladders, drawn.rules)
def test_a_pin_nearer_to_the_region_never_scores_less(data, entry, ladder, rules):
    key, mark = FaultKey([entry]), data.draw(drawn.marks_on(FaultKey([entry])))
    assume(mark.x is not None)
    target, step = drawn.exact(entry), data.draw(st.integers(0, 8)) / 8
    x, y = mark.x + step * (target.x - mark.x), mark.y + step * (target.y - mark.y)
    nearer = FaultMark(x, y, mark.fault, mark.level, mark.clause)
    assume(by_hand.location(nearer, entry, rules) >= by_hand.location(mark, entry, rules))
    assert score(key, [nearer], ladder, rules).score >= score(key, [mark], ladder, rules).score - 1e-12


@some
@given(st.data(), drawn.entries, drawn.ladders, drawn.rules, drawn.levels)
def test_a_level_nearer_to_the_key_never_scores_less(data, entry, ladder, rules, level):
    key, mark = FaultKey([entry]), data.draw(drawn.marks_on(FaultKey([entry])))
    nearer = data.draw(st.sampled_from(range(min(level, entry.level), max(level, entry.level) + 1)))

    def at(said):
        return score(key, [FaultMark(mark.x, mark.y, mark.fault, said, mark.clause)], ladder, rules).score

    assert at(nearer) >= at(level) - 1e-12


@some
@given(st.data(), drawn.answers(), drawn.ladders, drawn.rules)
def test_an_identical_repeat_never_costs(data, answer, ladder, rules):
    """Of a mark that belongs to an entry and reaches no other, which its double could be matched to.

    Nor does another mark on that entry say another name: of several names on one fault only one is matched, and
    among equals the rules leave open which.
    """
    key, marks = answer
    before = score(key, marks, ladder, rules)
    number = data.draw(st.sampled_from(range(len(marks))))
    assume(number not in before.false_alarms)
    reached = [entry for entry in key.entries if by_hand.location(marks[number], entry, rules) > 0]
    assume(len(reached) == 1)
    beside = [mark for mark in marks if by_hand.location(mark, reached[0], rules) > 0]
    assume(all(mark.fault == marks[number].fault for mark in beside))
    assert score(key, [*marks, marks[number]], ladder, rules).score >= before.score - 1e-12


@some
@given(st.data(), drawn.entries, drawn.ladders, drawn.rules, st.lists(drawn.levels, min_size=2, max_size=4))
def test_trying_several_levels_scores_no_more_than_the_best_alone(data, entry, ladder, rules, tried):
    key, mark = FaultKey([entry]), data.draw(drawn.marks_on(FaultKey([entry])))
    marks = [FaultMark(mark.x, mark.y, mark.fault, level, mark.clause) for level in tried]
    best = max(score(key, [each], ladder, rules).score for each in marks)
    assert score(key, marks, ladder, rules).score <= best + 1e-12


@some
@given(st.data(), drawn.entries, drawn.ladders, drawn.rules, st.lists(drawn.levels, min_size=2, max_size=4))
def test_one_level_more_never_helps(data, entry, ladder, rules, tried):
    """Unless the entry disqualifies and only the level more says so: then it lifts the cap."""
    assume(not ladder.disqualifies(entry.level))
    key, mark = FaultKey([entry]), data.draw(drawn.marks_on(FaultKey([entry])))
    marks = [FaultMark(mark.x, mark.y, mark.fault, level, mark.clause) for level in tried]
    fewer = score(key, marks[:-1], ladder, rules).score
    assert score(key, marks, ladder, rules).score <= fewer + 1e-12
