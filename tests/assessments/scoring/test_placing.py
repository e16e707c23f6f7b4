import pytest

from assessments.scoring import check_cuts, rank_agreement, score_placing


def test_a_reversed_pair_loses_the_cuts_between_the_two():
    score = score_placing(["Ailsa", "Bran", "Corrie", "Dirk"], [2, 5, 3], ["Corrie", "Ailsa", "Bran", "Dirk"])
    assert score.reversed_pairs == (("Ailsa", "Corrie"), ("Bran", "Corrie"))
    assert score.losses == (7, 5)
    assert (score.lost, score.points) == (12, 38)


def test_a_pair_with_no_cut_may_stand_either_way():
    score = score_placing("ABC", [0, 4], "BAC")
    assert (score.points, score.reversed_pairs, score.losses) == (50, (("A", "B"),), (0,))


def test_points_never_fall_below_zero_but_the_loss_is_told():
    score = score_placing("ABC", [20, 20], "CBA", total=50)
    assert (score.points, score.lost) == (0, 80)


def test_a_class_of_two_and_a_class_of_six():
    assert score_placing([1, 2], [3], [2, 1], total=10).points == 7
    assert score_placing(range(6), [1, 2, 3, 4, 5], [0, 1, 2, 3, 5, 4], total=100).points == 95


@pytest.mark.parametrize(
    ("official", "cuts", "placing", "total", "message"),
    [
        ("A", [], "A", 50, "a class has at least 2"),
        ("AAB", [1, 2], "AAB", 50, r"official \('A', 'A', 'B'\) names an exhibit twice"),
        ("ABC", [1, 2], "ABB", 50, "placing .* names an exhibit twice"),
        ("ABC", [1, 2], "ABD", 50, "must order the same exhibits"),
        ("ABC", [1, 2], "AB", 50, "must order the same exhibits"),
        ("ABC", [1], "ABC", 50, r"cuts \(1,\): 3 exhibits have 2 cuts"),
        ("ABC", [1, -1], "ABC", 50, r"cuts \(1, -1\).*not below 0"),
        ("ABC", [1, float("nan")], "ABC", 50, "finite"),
        ("ABC", [1, 2], "ABC", 0, "total is 0"),
        ("ABC", [1, 2], "ABC", float("inf"), "total is inf"),
    ],
)
def test_refuses(official, cuts, placing, total, message):
    with pytest.raises(ValueError, match=message):
        score_placing(official, cuts, placing, total)


class TestCheckCuts:
    def test_other_numbers_than_four_have_only_the_last_limit(self):
        assert check_cuts([9, 9]) == []
        assert check_cuts([5, 5, 5, 5], total=100) == []
        assert check_cuts([5, 5, 5, 5]) == [
            "A full reversal loses 100 of 50 points, so it would fall below 0."
        ]

    @pytest.mark.parametrize("cuts", [[], [-1, 2, 3], [1, float("nan")]])
    def test_refuses_what_are_no_cuts(self, cuts):
        with pytest.raises(ValueError, match="cuts"):
            check_cuts(cuts)

    def test_refuses_a_total_of_nothing(self):
        with pytest.raises(ValueError, match="total is -1"):
            check_cuts([1, 2, 3], total=-1)


class TestRankAgreement:
    def test_same_reversed_and_between(self):
        assert rank_agreement("ABCD", "ABCD") == 1
        assert rank_agreement("ABCD", "DCBA") == -1
        assert rank_agreement("ABCD", "BACD") == pytest.approx(1 - 2 / 6)

    def test_pairs_that_may_stand_either_way_do_not_count(self):
        assert rank_agreement("ABCD", "BACD", [0, 2, 3]) == 1
        assert rank_agreement("ABCD", "BADC", [0, 2, 3]) == pytest.approx(1 - 2 / 5)

    def test_a_class_without_any_order_is_refused(self):
        with pytest.raises(ValueError, match="no pair has an order"):
            rank_agreement("ABC", "ABC", [0, 0])

    def test_refuses_what_score_placing_refuses(self):
        with pytest.raises(ValueError, match="names an exhibit twice"):
            rank_agreement("ABC", "AAB")
        with pytest.raises(ValueError, match="3 exhibits have 2 cuts"):
            rank_agreement("ABC", "ACB", [1])
