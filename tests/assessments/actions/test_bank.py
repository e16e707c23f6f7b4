"""Many items changed at once and taken back; copies that touch nothing, also into a newer edition."""

import datetime

import pytest

from assessments.actions.bank import (
    add_items,
    bring_back_items,
    copy_item,
    copy_items_to,
    copy_to_edition,
    file_items,
    retire_items,
    take_back,
    title_items,
)
from assessments.actions.items import change_asking
from assessments.actions.keys import publish_key, save_draft
from assessments.actions.quizzes import make_quiz
from assessments.items.complete_the_clause.asking import CompletingForm
from assessments.items.complete_the_clause.wording import gaps_at
from assessments.models import Item
from assessments.named_clauses import followed, named_in
from assessments.queries.copies import moved_clauses, newer_editions
from assessments.rules import NotReady, Refused
from courses.actions.edition import Described, copy_edition
from courses.models import Clause
from tests import makers
from tests.assessments.items.asked import clause_item


@pytest.fixture
def items(cast, edition):
    """Two in use and a draft."""
    keyed = [makers.make_keyed_item(edition, cast.educator) for _ in range(2)]
    return [*keyed, makers.make_draft_item(edition, cast.educator)]


def fresh(items):
    return [Item.objects.get(pk=item.pk) for item in items]


def states(items):
    return [item.state for item in fresh(items)]


def test_retiring_and_bringing_back_are_undone_item_by_item(cast, items):
    done = retire_items(items=items)
    assert (done.said, states(items)) == ("3 items retired.", ["retired"] * 3)
    take_back(club=cast.club, back=done.back)
    assert states(items) == ["in use", "in use", "draft"]
    retire_items(items=items[:1])
    done = retire_items(items=fresh(items))
    assert done.said == "2 items retired."
    take_back(club=cast.club, back=done.back)
    assert states(items) == ["retired", "in use", "draft"]
    retire_items(items=fresh(items))
    done = bring_back_items(items=fresh(items))
    assert (done.said, states(items)) == ("3 items are back.", ["in use", "in use", "draft"])
    take_back(club=cast.club, back=done.back)
    assert states(items) == ["retired"] * 3


def test_another_club_takes_nothing_back(cast, items):
    done = retire_items(items=items)
    take_back(club=cast.other_club, back=done.back)
    assert states(items) == ["retired"] * 3


def test_items_are_added_to_a_quiz_once_and_taken_out_again(cast, edition, items):
    quiz = make_quiz(edition=edition, title="Toplines", by=cast.educator.person)
    add_items(quiz=quiz, items=items[:1])
    done = add_items(quiz=quiz, items=items)
    assert done.said == "2 items added to “Toplines”."
    assert list(quiz.quiz_items.values_list("item", flat=True)) == [item.pk for item in items]
    take_back(club=cast.club, back=done.back)
    assert [row.item_id for row in quiz.quiz_items.all()] == [items[0].pk]
    retire_items(items=items[1:2])
    with pytest.raises(Refused, match="Bring it back first"):
        add_items(quiz=quiz, items=fresh(items))


def test_items_are_filed_under_a_clause_unless_a_published_key_rests_on_another(cast, edition, items):
    first, second = edition.clauses.get(number="5.1"), edition.clauses.get(number="6.2")
    done = file_items(items=items, clause=first)
    assert {item.clause for item in fresh(items)} == {first}
    with pytest.raises(Refused, match=rf"Item {items[0].pk}, {items[1].pk}: its key is published"):
        file_items(items=fresh(items), clause=second)
    file_items(items=fresh(items)[2:], clause=second)
    take_back(club=cast.club, back=done.back)
    assert {item.clause for item in fresh(items)} == {None}
    other = makers.make_edition(cast.club, title="Edition of 2019", state="retired")
    with pytest.raises(Refused, match="another edition"):
        file_items(items=items, clause=makers.make_clause(other))


def test_a_title_is_given_and_taken_back(cast, items):
    Item.objects.filter(pk=items[0].pk).update(title="Before")
    done = title_items(items=fresh(items), title="Spring seminar")
    assert {item.title for item in fresh(items)} == {"Spring seminar"}
    take_back(club=cast.club, back=done.back)
    assert [item.title for item in fresh(items)] == ["Before", "", ""]


def test_a_copy_holds_the_newest_key_as_a_draft_and_touches_nothing(cast, edition, items):
    item = items[0]
    quiz = make_quiz(edition=edition, title="Toplines", by=cast.educator.person)
    add_items(quiz=quiz, items=[item])
    made = copy_item(item=item, by=cast.educator.person)
    draft = made.keys.get()
    assert (made.state, made.exhibit, made.copied_from) == ("draft", item.exhibit, item)
    assert (draft.version, draft.published_at, draft.fit, draft.panel) == (1, None, "", None)
    fields = ("fault", "clause", "zone", "level", "regions")
    assert list(draft.entries.values_list(*fields)) == list(item.keys.get().entries.values_list(*fields))
    save_draft(key=draft, sound=True, note="", entries=[], by=cast.educator.person)
    assert (item.keys.get().entries.count(), list(quiz.items.all())) == (2, [item])
    assert moved_clauses(made) == []


def newer(edition, **changes):
    """The next edition, in draft, with clauses reworded by their numbers, or taken out where the text is None."""
    described = Described(
        title="Edition of 2027",
        issuing_body="Skerry Drover Club",
        issued_on=datetime.date(2027, 1, 1),
        source="",
        reproduced_by="",
    )
    made = copy_edition(edition=edition, described=described)
    for number, text in changes.items():
        clause = made.clauses.get(number=number.replace("_", "."))
        clause.delete() if text is None else Clause.objects.filter(pk=clause.pk).update(text=text)
    return made


def test_a_copy_in_a_newer_edition_follows_its_clauses_and_says_what_changed(cast, edition, items):
    item = items[0]
    Item.objects.filter(pk=item.pk).update(clause=edition.clauses.get(number="5.1"))
    later = newer(edition, **{"5_1": "The blade slopes well back. A steep blade disqualifies.", "6_2": None})
    made = copy_to_edition(item=fresh([item])[0], edition=later, by=cast.educator.person)
    assert (made.edition, made.clause) == (later, later.clauses.get(number="5.1"))
    clauses = [entry.clause and entry.clause.number for entry in made.keys.get().entries.all()]
    assert clauses == ["5.1", None]
    assert made.keys.get().entries.first().clause.edition == later
    moved = {row.old.number: row.state for row in moved_clauses(Item.objects.get(pk=made.pk))}
    assert moved == {"5.1": "reworded", "6.2": "removed"}
    assert list(item.keys.get().entries.values_list("clause__number", flat=True)) == ["5.1", "6.2"]


def test_a_copied_gap_text_is_asked_otherwise_where_its_clause_is_reworded(cast, edition):
    item = clause_item(edition, cast.educator)
    later = newer(edition, **{"5_1": "The neck is of good length."})
    made = copy_to_edition(item=item, edition=later, by=cast.educator.person)
    with pytest.raises(NotReady, match="worded otherwise in this edition"):
        publish_key(item=made, by=cast.educator.person)
    form = CompletingForm(edition=later, exhibits=(0, 0), item=Item.objects.get(pk=made.pk))
    assert form.text == "The neck is of good length."
    asking = {**made.asking, "text": form.text, "gaps": gaps_at(form.text, [1])}
    given = {"exhibits": [], "title": "", "clause": made.clause}
    change_asking(item=made, asking=asking, by=cast.educator.person, **given)
    publish_key(item=Item.objects.get(pk=made.pk), by=cast.educator.person)
    assert Item.objects.get(pk=made.pk).state == "in use"


def test_copies_go_forward_only_and_within_the_breed(cast, edition, items):
    later = newer(edition)
    assert newer_editions(items[0]) == [later]
    made = copy_to_edition(item=items[0], edition=later, by=cast.educator.person)
    for item, to, said in [
        (items[0], edition, "of that edition already"),
        (made, edition, "of a newer edition"),
        (items[0], makers.make_edition(cast.other_club), "another breed"),
    ]:
        with pytest.raises(Refused, match=said):
            copy_to_edition(item=item, edition=to, by=cast.educator.person)


def test_copies_are_taken_back_unless_somebody_worked_on_them(cast, edition, items):
    later = newer(edition)
    done = copy_items_to(items=items[:2], edition=later, by=cast.educator.person)
    assert done.said == "2 draft copies made for Edition of 2027."
    first = later.items.first()
    save_draft(key=first.keys.get(), sound=True, note="", entries=[], by=cast.educator.person)
    take_back(club=cast.club, back=done.back)
    assert list(later.items.all()) == [first]


def test_clauses_named_inside_what_is_asked_are_found_and_followed():
    kept = {"clause": 3, "gaps": [{"clause": 4, "text": "clause"}, {"clauses": [3, 5]}], "right": "c3"}
    assert list(named_in(kept)) == [3, 4, 3, 5]
    there = {3: 30, 5: 50}
    assert followed(kept, there.get) == {
        "clause": 30,
        "gaps": [{"clause": None, "text": "clause"}, {"clauses": [30, 50]}],
        "right": "c3",
    }
