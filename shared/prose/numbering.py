"""Which number each section and clause of a standard bears."""

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise


@dataclass(frozen=True)
class SplitClause:
    """One clause: its number ("5.1"), its text in one line of Markdown, and what a person should look at."""

    number: str
    text: str
    warnings: tuple[str, ...] = ()


@dataclass(frozen=True)
class SplitSection:
    """A section: its number ("5"), its title and its clauses, which may be none."""

    number: str
    title: str
    clauses: tuple[SplitClause, ...] = ()
    warnings: tuple[str, ...] = ()


@dataclass
class ReadClause:
    """A clause as it was read, with the number or the place in a list that the text gives it, if any."""

    lines: list[str]
    kind: int = -1
    mark: str = ""
    number: tuple[int, ...] = ()
    places: tuple[int, ...] = ()
    lead: str = ""
    text: str = ""
    warnings: list[str] = field(default_factory=list)


@dataclass
class ReadSection:
    number: tuple[int, ...]
    title: str
    clauses: list[ReadClause] = field(default_factory=list)
    warnings: list[str] = field(default_factory=list)


def number_sections(sections: Sequence[ReadSection]) -> list[SplitSection]:
    """`sections` with the numbers that the text gives them where these rise, else counted from 1."""
    given = [section.number or _common_prefix(section) for section in sections]
    numbers = _filled(given)
    if numbers is None:
        numbers = list(range(1, len(sections) + 1))
        for section, was, now in zip(sections, given, numbers, strict=True):
            if was and was != (now,):
                section.warnings.append(f"Numbered {_dotted(was)} in the text; it is now {now}.")
    return [_numbered(section, number) for section, number in zip(sections, numbers, strict=True)]


def _common_prefix(section: ReadSection) -> tuple[int, ...]:
    """The section number that all its clauses' numbers begin with, if they do."""
    prefixes = {clause.number[:1] for clause in section.clauses}
    return prefixes.pop() if len(prefixes) == 1 else ()


def _filled(given: Sequence[tuple[int, ...]]) -> list[int] | None:
    """Whole rising numbers, those missing counted on from the one before; None where they do not rise."""
    numbers: list[int] = []
    for number in given:
        before = numbers[-1] if numbers else 0
        if len(number) > 1 or (number and number[0] <= before):
            return None
        numbers.append(number[0] if number else before + 1)
    return numbers


def _numbered(section: ReadSection, number: int) -> SplitSection:
    given = [clause.number for clause in section.clauses]
    rising = all(earlier < later for earlier, later in pairwise(given))
    if rising and all(own[:1] == (number,) and min(own) > 0 for own in given):
        clauses = [
            SplitClause(_dotted(clause.number), clause.text, tuple(clause.warnings))
            for clause in section.clauses
        ]
    else:
        clauses = [_counted(clause, number, place) for place, clause in enumerate(section.clauses, 1)]
        if any(_moved(clause, number, place) for place, clause in enumerate(section.clauses, 1)):
            section.warnings.append("The numbers in the text do not agree; the clauses were numbered anew.")
    return SplitSection(str(number), section.title, tuple(clauses), tuple(section.warnings))


def _counted(clause: ReadClause, section: int, place: int) -> SplitClause:
    warnings = clause.warnings
    if _moved(clause, section, place):
        warnings = [*warnings, f"Numbered {clause.mark} in the text; it is now {section}.{place}."]
    return SplitClause(f"{section}.{place}", clause.text, tuple(warnings))


def _moved(clause: ReadClause, section: int, place: int) -> bool:
    if clause.number:
        return clause.number != (section, place)
    return bool(clause.places) and place not in clause.places


def _dotted(number: Sequence[int]) -> str:
    return ".".join(map(str, number))
