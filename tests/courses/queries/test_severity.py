"""The ladder in force, and how a club reads words of degree."""

import datetime

import pytest

from courses.models import SeverityScale
from courses.queries.severity import Reading, ladder_of, level_of, reading_of


def scale(*labels, disqualifying=True):
    return SeverityScale(
        labels=list(labels), weights=list(range(1, len(labels) + 1)), disqualifying=disqualifying
    )


USUAL = scale("Minor", "Moderate", "Serious", "Disqualifying")


@pytest.mark.django_db
def test_the_newest_begun_ladder_holds(cast):
    assert ladder_of(cast.club).weights == [1, 2, 4, 8]
    for day, weights in [(1, [1, 2]), (20, [1, 3])]:
        SeverityScale.objects.create(
            club=cast.club,
            labels=["Fault", "Grave"],
            weights=weights,
            effective_from=datetime.date(2026, 3, day),
        )
    assert ladder_of(cast.club, datetime.date(2026, 2, 28)).weights == [1, 2, 4, 8]
    assert ladder_of(cast.club, datetime.date(2026, 3, 19)).weights == [1, 2]
    assert ladder_of(cast.club, datetime.date(2026, 3, 20)).weights == [1, 3]
    assert ladder_of(cast.other_club, datetime.date(2026, 3, 20)).weights == [1, 2, 4, 8]


@pytest.mark.parametrize(
    ("ladder", "levels"),
    [
        (USUAL, [0, 1, 2, 3]),
        (scale("Fault", "Severe fault", "Disqualification"), [0, 0, 1, 2]),
        (scale("Slight", "Fault", "Grave", "Eliminating", "Disqualifying"), [0, 2, 3, 4]),
        (scale("Light", "Heavy", disqualifying=False), [0, 0, 1, 1]),
        (scale("Serious", "Minor", "Worst"), [1, 0, 0, 2]),
    ],
)
def test_the_four_readings_find_their_level_on_any_ladder(ladder, levels):
    assert [level_of(key, ladder) for key in ("minor", "moderate", "serious", "disqualifying")] == levels


def test_the_heaviest_word_is_read_and_the_lighter_ones_are_told():
    text = "A slight fault when young, a serious fault when grown."
    assert reading_of(text, (), USUAL) == Reading(2, "serious fault", ("slight fault",))
    assert reading_of("The tail reaches the hock.", (), USUAL) is None


def test_the_club_reads_in_its_own_way():
    text = "A gay tail is undesirable."
    assert reading_of(text, (), USUAL).level == 0
    assert reading_of(text, (("undesirable", "serious"),), USUAL).level == 2
    assert reading_of(text, (("undesirable", None),), USUAL) is None
