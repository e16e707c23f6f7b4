"""The item bank: each filter finds what it says, orders put unknown figures last, facility follows the marks."""

import pytest

from assessments.actions.facility import bring_facilities_up_to_date
from assessments.actions.items import retire_item
from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.actions.quizzes import add_item
from assessments.models import Facility, Item, Key
from assessments.queries.bank import (
    FILTERS,
    bank_row,
    items_in_bank,
    narrowed,
    not_in,
    sorted_by,
    with_rows,
)
from tests import makers
from tests.assessments.items.asked import choice


@pytest.fixture
def keyed(cast, edition):
    """Upright shoulder, 5.1, and roached back, 6.2."""
    return makers.make_keyed_item(edition, cast.educator)


@pytest.fixture
def sound(cast, edition):
    return makers.make_keyed_item(edition, cast.educator, entries=[])


@pytest.fixture
def bare(cast, edition):
    """A draft whose first key says nothing yet."""
    return makers.make_draft_item(edition, cast.educator)


def found(cast, **wanted):
    return list(narrowed(items_in_bank(cast.club), wanted).order_by("pk"))


def test_each_filter_finds_what_it_says(cast, edition, keyed, sound, bare):
    shoulder, back = edition.clauses.get(number="5.1"), edition.clauses.get(number="6.2")
    Item.objects.filter(pk=bare.pk).update(title="The long loin", clause=back)
    Key.objects.filter(item=sound).update(fit="examination")
    makers.make_keyed_item(makers.make_edition(cast.other_club), cast.stranger)
    quiz = makers.make_open_quiz(edition, cast.educator)
    add_item(quiz=quiz, item=keyed)
    held = quiz.items.exclude(pk=keyed.pk).get()
    retire_item(item=held)
    asked = [
        ({"about": f"s{back.section_id}"}, [keyed, bare, held]),
        ({"about": f"c{shoulder.pk}"}, [keyed, held]),
        ({"about": "c99999999999999999999"}, []),
        ({"about": "what"}, []),
        ({"zone": "topline"}, [keyed, held]),
        ({"kind": "mark-the-faults"}, [keyed, sound, bare, held]),
        ({"state": "draft"}, [bare]),
        ({"state": "retired"}, [held]),
        ({"fit": "examination"}, [sound]),
        ({"fit": "none"}, [keyed, bare, held]),
        ({"holds": "sound"}, [sound]),
        ({"holds": "faulty"}, [keyed, bare, held]),
        ({"use": "used"}, [keyed, held]),
        ({"use": "unused"}, [sound, bare]),
        ({"words": "long LOIN"}, [bare]),
        ({"words": "roached"}, [keyed, held]),
        (
            {"words": str(sound.exhibit.number)},
            [
                item
                for item in (keyed, sound, bare, held)
                if sound.exhibit.number in (item.exhibit.number, item.pk)
            ],
        ),
        ({"words": "6.2"}, [bare]),
        ({"difficulty": "unknown"}, [keyed, sound, bare, held]),
        ({"edition": edition.pk, "state": "in use"}, [keyed, sound]),
    ]
    for wanted, items in asked:
        assert found(cast, **wanted) == items, wanted
    assert {name for wanted, _items in asked for name in wanted} == set(FILTERS)
    assert list(not_in(items_in_bank(cast.club), quiz.pk).order_by("pk")) == [sound, bare]
    usable = narrowed(items_in_bank(cast.club), {"edition": edition.pk, "state": "in use"}).order_by("pk")
    assert list(usable.values_list("pk", "sound", "fit")) == [
        (keyed.pk, False, ""),
        (sound.pk, True, "examination"),
    ]


def test_words_are_sought_in_what_is_asked(cast, edition, keyed):
    item = choice(edition, cast.educator)
    assert found(cast, words="standard ASK") == [item]
    assert bank_row(with_rows(items_in_bank(cast.club)).get(pk=item.pk)).asks == item.asking["stem"]
    assert bank_row(with_rows(items_in_bank(cast.club)).get(pk=keyed.pk)).asks == ""


def test_words_are_sought_in_the_key_that_counts_not_in_older_ones(cast, edition, keyed):
    draft = start_draft(item=keyed, by=cast.educator.person)
    dip = makers.make_fault(edition, "Dipped back", "6.2", zone="topline", level=1)
    save_draft(
        key=draft, sound=False, note="", by=cast.educator.person, entries=[makers.entry(dip, [makers.BACK])]
    )
    assert (found(cast, words="roached"), found(cast, words="dipped")) == ([keyed], [])
    publish_key(item=keyed, by=cast.educator.person)
    assert (found(cast, words="roached"), found(cast, words="dipped")) == ([], [keyed])


def test_difficulty_is_known_once_five_people_answered_and_follows_the_marks(cast, edition):
    quiz = makers.make_open_quiz(edition, cast.educator)
    item = quiz.items.get()
    shoulder = edition.breed.faults.get(name="Upright shoulder")
    half = makers.said(makers.pin(0.35, 0.5, shoulder, 2))
    makers.make_sittings(quiz, [[half]] * 4)
    bring_facilities_up_to_date(club=cast.club)
    assert Facility.objects.get(item=item).people == 4
    assert found(cast, difficulty="unknown") == [item]
    trainees = makers.make_sittings(quiz, [[makers.said(nothing_found=True)]])
    makers.make_sittings(quiz, [[half]], trainees=trainees, number=2)
    bring_facilities_up_to_date(club=cast.club)
    kept = Facility.objects.get(item=item)
    # Four won 4 of 6, one nothing; the second sitting of the fifth does not count.
    assert (kept.people, round(kept.share, 4)) == (5, round(4 * (4 / 6) / 5, 4))
    assert (found(cast, difficulty="middling"), found(cast, difficulty="unknown")) == ([item], [])
    draft = start_draft(item=item, by=cast.educator.person)
    only = [makers.entry(shoulder, [makers.SHOULDER])]
    save_draft(key=draft, sound=False, note="", by=cast.educator.person, entries=only)
    publish_key(item=item, by=cast.educator.person)
    assert found(cast, difficulty="middling") == [item]
    bring_facilities_up_to_date(club=cast.club)
    assert found(cast, difficulty="easy") == [item]


@pytest.mark.parametrize(
    ("share", "difficulty"),
    [(0.0, "too hard"), (0.2, "hard"), (0.5, "middling"), (0.8, "easy"), (0.95, "easy"), (0.951, "too easy")],
)
def test_the_ends_of_difficulty_are_those_that_the_evidence_flags(cast, keyed, share, difficulty):
    Facility.objects.create(item=keyed, people=5, share=share)
    assert found(cast, difficulty=difficulty) == [keyed]
    others = {"too hard", "hard", "middling", "easy", "too easy", "unknown"} - {difficulty}
    assert [other for other in others if found(cast, difficulty=other)] == []


def test_orders_put_what_is_not_known_last(cast, edition, keyed, sound, bare):
    Item.objects.filter(pk=sound.pk).update(clause=edition.clauses.get(number="6.2"))
    Item.objects.filter(pk=bare.pk).update(clause=edition.clauses.get(number="5.1"))
    Facility.objects.create(item=keyed, people=9, share=0.7)
    Facility.objects.create(item=bare, people=9, share=0.3)
    Facility.objects.create(item=sound, people=4, share=0.1)
    add_item(quiz=makers.make_open_quiz(edition, cast.educator), item=sound)
    ours = Item.objects.filter(pk__in=[keyed.pk, sound.pk, bare.pk]).values("pk")

    def in_order(name):
        return list(sorted_by(items_in_bank(cast.club).filter(pk__in=ours), name))

    assert in_order("newest") == in_order("no such order") == [bare, sound, keyed]
    assert in_order("exhibit") == [keyed, sound, bare]
    assert in_order("clause") == [bare, sound, keyed]
    assert in_order("hardest") == [bare, keyed, sound]
    assert in_order("easiest") == [keyed, bare, sound]
    assert in_order("most used") == [sound, keyed, bare]
