"""The club's list of faults."""

import pytest
from django.core.exceptions import ValidationError

from courses.actions.fault import Named, add_fault, add_faults, change_fault, remove_fault
from courses.models import Fault
from courses.queries.fault import find_faults
from courses.refusals import Refused
from tests import makers

pytestmark = pytest.mark.django_db


def test_a_fault_is_on_the_list_once_whatever_its_letter_case(edition):
    fault = add_fault(
        breed=edition.breed, named=Named("Sickle hock", "hindquarters", 2, other_names=["bent", "bent"])
    )
    assert (fault.name, fault.other_names, fault.level) == ("Sickle hock", ["bent"], 2)
    with pytest.raises(ValidationError, match="already"):
        add_fault(breed=edition.breed, named=Named("SICKLE HOCK", "hindquarters", 1))
    change_fault(fault=fault, named=Named("Sickle Hock", "hindquarters", 3))
    assert Fault.objects.get().level == 3


@pytest.mark.parametrize(
    "named",
    [
        Named("", "body", 1),
        Named("x" * 81, "body", 1),
        Named("Long", "nowhere", 1),
        Named("Long", "body", 12),
        Named("Long", "body", 1, other_names=[str(n) for n in range(13)]),
    ],
)
def test_what_the_list_does_not_take(edition, named):
    with pytest.raises(ValidationError):
        add_fault(breed=edition.breed, named=named)


def test_several_are_added_all_or_none(edition):
    with pytest.raises(ValidationError):
        add_faults(breed=edition.breed, named=[Named("Cow hocks", "hindquarters", 2), Named("", "body", 1)])
    assert not Fault.objects.exists()


def test_a_fault_in_use_stays_and_says_where(cast, edition):
    fault = makers.make_fault(edition)
    exhibit = makers.make_exhibit(cast.club, cast.educator)
    exhibit.shown_faults.create(fault=fault, level=2)
    makers.make_keyed_item(edition, cast.educator)
    with pytest.raises(Refused, match=rf"in use: exhibit {exhibit.number}, key entry \(1\)"):
        remove_fault(fault=fault)
    exhibit.shown_faults.all().delete()
    free = makers.make_fault(edition, "Cow hocks", "7.1")
    remove_fault(fault=free)
    assert not Fault.objects.filter(name="Cow hocks").exists()


def test_search_takes_all_words_and_puts_names_that_begin_so_first(edition):
    makers.make_fault(edition, "Low-set tail", "9.1", virtue="Well-set tail")
    makers.make_fault(edition, "Gay tail", "9.2", other_names=["Séchelle tail"])
    makers.make_fault(edition, "Tail too short", "9.3")

    def found(words, limit=20):
        return [fault.name for fault in find_faults(edition.breed, words, limit)]

    assert found("tail") == ["Tail too short", "Gay tail", "Low-set tail"]
    assert found("TAIL set") == ["Low-set tail"]
    assert found("séchelle") == ["Gay tail"]
    assert found("9.2") == ["Gay tail"]
    assert found("tail", 1) == ["Tail too short"]
    assert found("whiskers") == []
