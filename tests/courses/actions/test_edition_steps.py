"""Whatever was done to an edition, undoing restores exactly what was there."""

import random

import pytest
from django.core.exceptions import ValidationError
from django.db import transaction
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from courses.actions import clause as clauses
from courses.actions import section as sections
from courses.actions.edition_steps import undo_step
from courses.models import Edition, EditionStep, Fault, PlateClause
from courses.refusals import Refused
from shared.web.limits import UNDO_STEPS
from tests import makers

pytestmark = pytest.mark.django_db

READ = clauses.Read(zone="body", settled=True, severity=1, measure="layback", low=30.5, high=40)


def some(chance, rows):
    rows = list(rows)
    return chance.choice(rows) if rows else None


OPERATIONS = {
    "change": lambda c, by, chance: clauses.change_clause(
        clause=c, by=by, number=f"{chance.randrange(99)}.x", text=f"Words {chance.random()}.", read=READ
    ),
    "up": lambda c, by, chance: clauses.move_clause(clause=c, by=by, direction="up"),
    "down": lambda c, by, chance: clauses.move_clause(clause=c, by=by, direction="down"),
    "place": lambda c, by, chance: clauses.place_clause(
        clause=c, section=some(chance, c.edition.sections.all()), by=by
    ),
    "split": lambda c, by, chance: clauses.split_clause(clause=c, by=by, texts=["One.", "Two.", "Three."]),
    "join": lambda c, by, chance: clauses.join_with_next(clause=c, by=by),
    "remove": lambda c, by, chance: clauses.remove_clause(clause=c, by=by),
    "confirm": lambda c, by, chance: clauses.confirm_severity(
        clause=c, by=by, severity=chance.choice([None, 2])
    ),
    "add": lambda c, by, chance: clauses.add_clause(
        section=c.section, by=by, number=f"n{chance.randrange(999)}", text="New.", read=READ, after=c
    ),
    "new section": lambda c, by, chance: sections.add_section(
        edition=c.edition, by=by, number=str(chance.randrange(10, 99)), title="New"
    ),
    "name section": lambda c, by, chance: sections.name_section(
        section=c.section, by=by, number=c.section.number, title=f"Part {chance.random()}"
    ),
    "section up": lambda c, by, chance: sections.move_section(section=c.section, by=by, direction="up"),
    "remove section": lambda c, by, chance: sections.remove_section(section=c.section, by=by),
    "renumber": lambda c, by, chance: sections.renumber_section(section=c.section, by=by),
    "confirm section": lambda c, by, chance: sections.confirm_section(section=c.section, by=by),
    "paste": lambda c, by, chance: sections.add_pasted(
        edition=c.edition,
        by=by,
        sections=[
            sections.NewSection(
                f"p{chance.randrange(999)}", "Pasted", [sections.NewClause("z1", "Z.", "coat")]
            )
        ],
    ),
}


def everything(edition):
    """Every column of the edition's sections and clauses, and of the faults of its breed."""
    rows = edition.sections, edition.clauses, edition.breed.faults
    return [list(each.order_by("pk").values()) for each in rows]


def undo_newest(edition):
    return undo_step(edition=edition, step=edition.steps.first().pk)


@settings(max_examples=20, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(names=st.lists(st.sampled_from(sorted(OPERATIONS)), max_size=UNDO_STEPS), seed=st.integers(0, 2**32))
def test_undoing_any_sequence_goes_back_through_the_same_states(cast, names, seed):
    chance, by = random.Random(seed), cast.educator.person
    with transaction.atomic():
        edition = makers.make_draft(cast.club)
        makers.make_fault(edition, number="5.1")
        makers.make_fault(edition, "Loose elbow", number="5.3")
        states = [everything(edition)]
        for name in names:
            clause = some(chance, edition.clauses.all())
            if clause is None:
                break
            try:
                with transaction.atomic():
                    OPERATIONS[name](clause, by, chance)
            except (Refused, ValidationError):
                assert everything(edition) == states[-1]
            if everything(edition) != states[-1]:
                states.append(everything(edition))
        assert edition.steps.count() == len(states) - 1
        for state in reversed(states[:-1]):
            undo_newest(edition)
            assert everything(edition) == state
        assert not edition.steps.exists()
        transaction.set_rollback(True)


@pytest.fixture
def edition(cast):
    return makers.make_draft(cast.club)


def test_a_change_that_changes_nothing_is_no_step(cast, edition):
    clause = edition.clauses.get(number="5.1")
    read = clauses.Read(zone=clause.zone)
    clauses.change_clause(
        clause=clause, by=cast.educator.person, number=clause.number, text=clause.text, read=read
    )
    assert not edition.steps.exists()


def test_the_last_twenty_are_kept(cast, edition):
    for n in range(UNDO_STEPS + 3):
        sections.name_section(
            section=edition.sections.first(), by=cast.educator.person, number="5", title=f"Heading {n}"
        )
    assert edition.steps.count() == UNDO_STEPS
    for _ in range(UNDO_STEPS):
        undo_newest(edition)
    assert edition.sections.first().title == "Heading 2"


def test_undo_says_what_it_undid_and_where(cast, edition):
    clauses.move_clause(clause=edition.clauses.get(number="5.3"), by=cast.educator.person, direction="down")
    undone = undo_newest(edition)
    assert undone.label == "moving 5.3 down"
    assert undone.sections == set(edition.sections.values_list("pk", flat=True))
    assert not undone.reshaped


def test_undo_of_a_step_that_is_no_longer_the_newest_is_refused(cast, edition):
    clause = edition.clauses.get(number="5.1")
    clauses.confirm_severity(clause=clause, by=cast.educator.person, severity=2)
    seen = edition.steps.first().pk
    clauses.confirm_severity(clause=clause, by=cast.educator.person, severity=1)
    with pytest.raises(Refused, match="Something else"):
        undo_step(edition=edition, step=seen)
    assert edition.clauses.get(number="5.1").severity == 1


def test_undo_does_not_take_a_clause_from_a_plate(cast, edition):
    added = clauses.add_clause(
        section=edition.sections.first(), by=cast.educator.person, number="5.4", text="New.", read=READ
    )
    plate = edition.plates.create(number=7, title="Elbows")
    PlateClause.objects.create(plate=plate, clause=added)
    with pytest.raises(Refused, match=r"5\.4: plate 7"):
        undo_newest(edition)
    assert edition.clauses.filter(number="5.4").exists()


def test_a_removed_clause_comes_back_with_its_faults(cast, edition):
    fault = makers.make_fault(edition, number="5.1")
    clauses.remove_clause(clause=fault.clause, by=cast.educator.person)
    assert Fault.objects.get().clause is None
    undo_newest(edition)
    assert Fault.objects.get().clause.number == "5.1"


def test_the_wording_of_a_released_edition_is_fixed_but_not_what_the_club_reads(cast, edition):
    Edition.objects.update(state="released")
    clause = edition.clauses.get(number="5.1")
    with pytest.raises(Refused, match="fixed"):
        clauses.change_clause(clause=clause, by=cast.educator.person, number="5.1", text="Other.", read=READ)
    clause.refresh_from_db()
    clauses.change_clause(clause=clause, by=cast.educator.person, number="5.1", text=clause.text, read=READ)
    clause.refresh_from_db()
    assert (clause.zone, clause.severity, clause.measure) == ("body", 1, "layback")
    undo_newest(edition)
    clause.refresh_from_db()
    assert (clause.zone, clause.severity, clause.measure) == ("whole", None, "")


def test_a_step_keeps_only_what_it_altered(cast, edition):
    clauses.confirm_severity(clause=edition.clauses.get(number="5.2"), by=cast.educator.person, severity=None)
    kept = EditionStep.objects.get().before
    assert [row["number"] for row in kept["clauses"]] == ["5.2"]
    assert not kept["sections"]
