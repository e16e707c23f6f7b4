"""The standard: the older edition is pasted and released, then revised clause by clause; the list of faults."""

from __future__ import annotations

from collections.abc import Sequence

from courses.actions.clause import Read, add_clause, change_clause, remove_clause
from courses.actions.edition import Described, begin_edition, copy_edition, release_edition
from courses.actions.fault import Named, add_fault
from courses.actions.section import NewClause, NewSection, add_pasted, add_section, confirm_section
from courses.models import Breed, Clause, Edition, Fault, Section
from courses.queries.severity import ladder_of, level_of, reading_of, readings_of
from media_demo.loading import EditionText, Scenario
from shared.accounts.models import Person
from shared.prose.comparing import Worded, match_clauses
from shared.prose.splitting import SplitSection, read_standard
from shared.prose.zones import suggest_zone


def write_editions(scenario: Scenario, breed: Breed, by: Person) -> Edition:
    """All editions in their order, each released; the newest is returned and in force."""
    first, *later = scenario.editions
    edition = release_edition(edition=_paste(scenario, first, breed, by))
    for text in later:
        edition = release_edition(edition=_revise(scenario, edition, text, by))
    return edition


def list_faults(scenario: Scenario, edition: Edition) -> list[Fault]:
    """The club's list, each fault on its clause."""
    clauses = {clause.number: clause for clause in edition.clauses.all()}
    scale = ladder_of(edition.breed.club)
    return [
        add_fault(
            breed=edition.breed,
            named=Named(
                name=row.name,
                zone=row.zone,
                level=level_of(row.level, scale),
                virtue=row.virtue,
                clause=clauses[row.clause],
                other_names=row.other_names,
                figure=row.figure,
            ),
        )
        for row in scenario.faults
    ]


def _described(scenario: Scenario, text: EditionText) -> Described:
    return Described(
        title=text.title,
        issuing_body=scenario.club["issuing_body"],
        issued_on=text.issued_on,
        reproduced_by=scenario.club["permission"],
    )


def _paste(scenario: Scenario, text: EditionText, breed: Breed, by: Person) -> Edition:
    edition = begin_edition(breed=breed, described=_described(scenario, text))
    add_pasted(
        edition=edition, by=by, sections=[_section(part) for part in read_standard(text.text).sections]
    )
    for section in edition.sections.all():
        confirm_section(section=section, by=by)
    return edition


def _section(part: SplitSection) -> NewSection:
    clauses = [
        NewClause(clause.number, clause.text, suggest_zone(part.title, clause.text))
        for clause in part.clauses
    ]
    return NewSection(part.number, part.title, clauses)


def _revise(scenario: Scenario, before: Edition, text: EditionText, by: Person) -> Edition:
    """Copy the edition in force and change what the new wording changes, as an educator does."""
    draft = copy_edition(edition=before, described=_described(scenario, text))
    parts = read_standard(text.text).sections
    sections = {section.number: section for section in draft.sections.all()}
    for part in parts:
        if part.number not in sections:
            sections[part.number] = add_section(edition=draft, by=by, number=part.number, title=part.title)
    for part in parts:
        _revise_section(sections[part.number], part, by)
    _set_measures(scenario, draft, by)
    for section in draft.sections.all():
        confirm_section(section=section, by=by)
    return draft


def _revise_section(section: Section, part: SplitSection, by: Person) -> None:
    there = list(section.clauses.all())
    pairs = match_clauses(
        [Worded(place, clause.number, clause.text) for place, clause in enumerate(there)],
        [Worded(place, clause.number, clause.text) for place, clause in enumerate(part.clauses)],
    )
    for was, now in pairs:
        if was and not now:
            remove_clause(clause=there[was.id], by=by)
    kept = {now.number: there[was.id] for was, now in pairs if was and now}
    # From the last to the first, so that a clause that moves down a number finds it free.
    for clause in reversed(part.clauses):
        if clause.number in kept:
            _reword(kept[clause.number], section, clause.number, clause.text, by)
    _add_new(section, part, kept, by)


def _reword(clause: Clause, section: Section, number: str, text: str, by: Person) -> None:
    if (clause.number, clause.text) != (number, text):
        read = _reading(section, text)
        change_clause(clause=clause, by=by, number=number, text=text, read=read)


def _add_new(section: Section, part: SplitSection, kept: dict[str, Clause], by: Person) -> None:
    last: Clause | None = None
    for clause in part.clauses:
        if clause.number in kept:
            last = kept[clause.number]
        else:
            read = _reading(section, clause.text)
            last = add_clause(
                section=section, by=by, number=clause.number, text=clause.text, read=read, after=last
            )


def _reading(section: Section, text: str) -> Read:
    """Zone and severity as the words suggest them, confirmed."""
    breed = section.edition.breed
    reading = reading_of(text, readings_of(breed), ladder_of(breed.club))
    return Read(suggest_zone(section.title, text), settled=True, severity=reading.level if reading else None)


def _set_measures(scenario: Scenario, edition: Edition, by: Person) -> None:
    first_of = {row["clause"]: row for row in reversed(scenario.measures)}
    clauses: Sequence[Clause] = edition.clauses.filter(number__in=first_of)
    for clause in clauses:
        row = first_of[clause.number]
        read = Read(
            clause.zone,
            settled=True,
            severity=clause.severity,
            measure=row["measure"],
            low=row["low"],
            high=row["high"],
        )
        change_clause(clause=clause, by=by, number=clause.number, text=clause.text, read=read)
