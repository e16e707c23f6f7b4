"""Clauses change their wording, place and shape."""

import pytest
from django.core.exceptions import ValidationError

from courses.actions.clause import (
    Read,
    add_clause,
    change_clause,
    confirm_severity,
    join_with_next,
    move_clause,
    place_clause,
    remove_clause,
    split_clause,
)
from courses.actions.section import (
    NewClause,
    NewSection,
    add_pasted,
    confirm_section,
    move_section,
    remove_section,
    renumber_section,
)
from courses.models import Clause, PlateClause
from courses.refusals import Refused
from shared.web import limits
from tests import makers

pytestmark = pytest.mark.django_db


@pytest.fixture
def by(cast):
    return cast.educator.person


@pytest.fixture
def edition(cast):
    return makers.make_draft(cast.club)


def numbered(edition, number):
    return edition.clauses.get(number=number)


def order(edition):
    return {
        section.number: [clause.number for clause in section.clauses.all()]
        for section in edition.sections.all()
    }


def test_a_change_is_kept_and_the_severity_is_confirmed_by_whom_and_when(edition, by):
    clause = numbered(edition, "5.1")
    read = Read(zone="forequarters", settled=True, severity=2, measure="layback", low=30, high=40)
    change_clause(clause=clause, by=by, number="5.1a", text="The blade *slopes*.", read=read)
    kept = numbered(edition, "5.1a")
    assert (kept.text, kept.zone, kept.severity) == ("The blade *slopes*.", "forequarters", 2)
    assert (kept.measure, kept.low, kept.high, kept.severity_confirmed_by) == ("layback", 30, 40, by)
    confirmed_at = kept.severity_confirmed_at
    change_clause(clause=kept, by=by, number="5.1a", text="The blade slopes well.", read=read)
    assert numbered(edition, "5.1a").severity_confirmed_at == confirmed_at


def test_a_number_is_borne_once(edition, by):
    with pytest.raises(ValidationError, match=r"bears 5\.2"):
        change_clause(clause=numbered(edition, "5.1"), by=by, number="5.2", text="X.", read=Read(zone="body"))
    with pytest.raises(ValidationError, match=r"bears 6\.1"):
        add_clause(section=edition.sections.first(), by=by, number="6.1", text="X.", read=Read(zone="body"))
    assert numbered(edition, "5.1").text.startswith("The blade")


def test_a_new_clause_stands_behind_another_one_or_last(edition, by):
    section = edition.sections.first()
    new = {"section": section, "by": by, "text": "New.", "read": Read(zone="body")}
    add_clause(number="5.1a", after=numbered(edition, "5.1"), **new)
    add_clause(number="5.4", **new)
    assert order(edition)["5"] == ["5.1", "5.1a", "5.2", "5.3", "5.4"]


def test_moving_within_a_section_and_across_its_ends(edition, by):
    first, second = edition.sections.all()
    assert move_clause(clause=numbered(edition, "5.3"), by=by, direction="up") == {first}
    assert order(edition)["5"] == ["5.1", "5.3", "5.2"]
    assert move_clause(clause=numbered(edition, "5.2"), by=by, direction="down") == {first, second}
    assert order(edition) == {"5": ["5.1", "5.3"], "6": ["5.2", "6.1", "6.2"]}
    move_clause(clause=numbered(edition, "5.2"), by=by, direction="up")
    assert order(edition) == {"5": ["5.1", "5.3", "5.2"], "6": ["6.1", "6.2"]}


@pytest.mark.parametrize(("number", "direction"), [("5.1", "up"), ("6.2", "down")])
def test_nothing_moves_past_the_ends_of_the_edition(edition, by, number, direction):
    with pytest.raises(Refused, match="any further"):
        move_clause(clause=numbered(edition, number), by=by, direction=direction)


def test_to_another_section(edition, by):
    place_clause(clause=numbered(edition, "5.1"), section=edition.sections.last(), by=by)
    assert order(edition) == {"5": ["5.2", "5.3"], "6": ["6.1", "6.2", "5.1"]}


def test_splitting_numbers_the_pieces_and_asks_for_their_severities_anew(edition, by):
    clause = confirm_severity(clause=numbered(edition, "5.1"), by=by, severity=2)
    makers.make_fault(edition, number="5.1")
    split_clause(clause=clause, by=by, texts=["The blade slopes.", "A steep blade is a serious fault."])
    assert order(edition)["5"] == ["5.1", "5.1a", "5.2", "5.3"]
    assert numbered(edition, "5.1").text == "The blade slopes."
    assert numbered(edition, "5.1").severity_confirmed_at is None
    assert numbered(edition, "5.1").faults.count() == 1
    assert numbered(edition, "5.1a").text == "A steep blade is a serious fault."
    with pytest.raises(Refused, match="empty line"):
        split_clause(clause=clause, by=by, texts=["Whole."])


def test_joining_takes_words_faults_and_range_along(edition, by):
    Clause.objects.filter(number="5.2").update(measure="upper_arm_to_blade", low=0.9, high=1.05)
    fault = makers.make_fault(edition, "Short upper arm", "5.2")
    join_with_next(clause=numbered(edition, "5.1"), by=by)
    joined = numbered(edition, "5.1")
    assert joined.text.endswith("a serious fault. The arm is as long as the blade.")
    assert (joined.measure, joined.low) == ("upper_arm_to_blade", 0.9)
    fault.refresh_from_db()
    assert fault.clause == joined
    assert order(edition)["5"] == ["5.1", "5.3"]
    with pytest.raises(Refused, match="No clause follows"):
        join_with_next(clause=numbered(edition, "5.3"), by=by)


def test_a_joined_clause_is_no_longer_than_a_clause_may_be(edition, by):
    Clause.objects.filter(number__in=["5.1", "5.2"]).update(text="x" * 2000)
    with pytest.raises(Refused, match="too long"):
        join_with_next(clause=numbered(edition, "5.1"), by=by)


def test_what_is_on_a_plate_or_an_exhibit_is_not_removed(cast, edition, by):
    plate = edition.plates.create(number=7, title="Shoulder")
    PlateClause.objects.create(plate=plate, clause=numbered(edition, "5.1"))
    fault = makers.make_fault(edition, "Loose elbow", "5.3")
    exhibit = makers.make_exhibit(cast.club, cast.educator)
    exhibit.shown_faults.create(fault=fault, clause=fault.clause, level=0)
    with pytest.raises(Refused, match=r"5\.1: plate 7"):
        remove_clause(clause=numbered(edition, "5.1"), by=by)
    with pytest.raises(Refused, match=rf"5\.3: exhibit {exhibit.number}"):
        join_with_next(clause=numbered(edition, "5.2"), by=by)
    with pytest.raises(Refused, match=r"5\.1: plate 7; 5\.3: exhibit"):
        remove_section(section=edition.sections.first(), by=by)
    assert edition.clauses.count() == 5


def test_what_someone_else_removed_is_said_to_be_gone(edition, by):
    stale = numbered(edition, "5.1")
    remove_clause(clause=numbered(edition, "5.1"), by=by)
    with pytest.raises(Refused, match="removed meanwhile"):
        confirm_severity(clause=stale, by=by, severity=1)


def test_renumbering_follows_the_order(edition, by):
    move_clause(clause=numbered(edition, "5.3"), by=by, direction="up")
    text = numbered(edition, "5.3").text
    renumber_section(section=edition.sections.first(), by=by)
    assert order(edition)["5"] == ["5.1", "5.2", "5.3"]
    assert numbered(edition, "5.2").text == text


def test_renumbering_takes_no_number_from_another_section(edition, by):
    place_clause(clause=numbered(edition, "5.1"), section=edition.sections.last(), by=by)
    with pytest.raises(Refused, match=r"5\.1 stands in section 6"):
        renumber_section(section=edition.sections.first(), by=by)


def test_confirming_a_section_takes_every_suggestion_and_leaves_what_was_confirmed(edition, by):
    confirm_severity(clause=numbered(edition, "5.1"), by=by, severity=3)
    assert confirm_section(section=edition.sections.first(), by=by) == 2
    assert list(edition.clauses.values_list("number", "severity", "severity_confirmed_by")) == [
        ("5.1", 3, by.pk),
        ("5.2", None, by.pk),
        ("5.3", 0, by.pk),
        ("6.1", None, None),
        ("6.2", None, None),
    ]


def test_sections_move_and_go(edition, by):
    with pytest.raises(Refused, match="any further"):
        move_section(section=edition.sections.first(), by=by, direction="up")
    move_section(section=edition.sections.first(), by=by, direction="down")
    assert list(order(edition)) == ["6", "5"]
    remove_section(section=edition.sections.first(), by=by)
    assert order(edition) == {"5": ["5.1", "5.2", "5.3"]}


def test_pasted_sections_come_last_and_bear_free_numbers(edition, by):
    add_pasted(
        edition=edition,
        by=by,
        sections=[NewSection("7", "Tail", [NewClause("7.1", "Low.", "tail")]), NewSection("8", "Coat")],
    )
    assert order(edition) == {"5": ["5.1", "5.2", "5.3"], "6": ["6.1", "6.2"], "7": ["7.1"], "8": []}
    assert edition.steps.first().label == "adding 1 pasted clause"
    with pytest.raises(ValidationError, match=r"bears 7\.1"):
        add_pasted(edition=edition, by=by, sections=[NewSection("9", "X", [NewClause("7.1", "A.", "tail")])])
    with pytest.raises(ValidationError, match="section bears 8"):
        add_pasted(edition=edition, by=by, sections=[NewSection("8", "X")])


def test_an_edition_has_its_limits(edition, by, monkeypatch):
    assert limits.CLAUSES_PER_EDITION == 600
    many = [NewClause(f"9.{n}", "X.", "body") for n in range(1, 597)]
    with pytest.raises(Refused, match="at most 600 clauses"):
        add_pasted(edition=edition, by=by, sections=[NewSection("9", "Much", many)])
    with pytest.raises(Refused, match="at most 80 sections"):
        add_pasted(edition=edition, by=by, sections=[NewSection(str(n), "Part") for n in range(100, 179)])
