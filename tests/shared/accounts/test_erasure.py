"""Every field that points to a person, or holds words, says how it is left when somebody is erased."""

import pytest

from shared.accounts.erasure import (
    POINTS,
    WORDS,
    Way,
    fields_that_point_to,
    fields_with_words,
    label_of,
    of_club,
)
from shared.accounts.models import Club, Membership, Person

POINTING = [*fields_that_point_to(Person), *fields_that_point_to(Membership)]
WORDED = list(fields_with_words())


def test_what_points_to_a_person_says_how_it_leaves():
    assert {label_of(field) for field in POINTING} == set(POINTS)


def test_what_holds_words_says_how_they_leave():
    assert {label_of(field) for field in WORDED} == set(WORDS)


@pytest.mark.parametrize(
    "field", [field for field in POINTING if field.model is not Membership], ids=label_of
)
def test_what_points_to_a_person_is_found_within_its_club(db, field):
    assert of_club(field.model, Club(pk=1)).count() == 0


def test_only_a_way_of_its_own_leaves_a_pointer_to_its_app():
    own = {name for name, way in POINTS.items() if way is Way.OWN}
    assert own == {
        "accounts.Membership.person",
        "assessments.Sitting.trainee",
        "assessments.EntryResult.trainee",
        "assessments.FalseAlarm.trainee",
        "assessments.SessionTrainee.trainee",
        "assessments.Candidate.member",
    }
