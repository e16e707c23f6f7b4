"""Breeds, editions and their clauses, as pages and actions read them."""

from __future__ import annotations

from dataclasses import dataclass

from django.db.models import Count, Prefetch, Q, QuerySet
from django.utils.functional import cached_property

from courses import numbering
from courses.measures.catalogue import MEASURES
from courses.models import Breed, Clause, Edition, EditionStep, Fault, Section, SeverityScale
from courses.queries.severity import Reading, Readings, ladder_of, reading_of, readings_of
from shared.accounts.models import Club

_OPEN = Count("clauses", filter=Q(clauses__severity_confirmed_at=None))


@dataclass(frozen=True)
class Entry:
    """A clause with what the club reads from its words, as the editor shows it."""

    clause: Clause
    reading: Reading | None
    faults: list[Fault]

    @property
    def key(self) -> str:
        """What tells its parts on the page from those of others."""
        return str(self.clause.pk)

    @property
    def spot(self) -> str:
        """Its id on the edition's page."""
        return f"clause-{self.clause.pk}"

    @property
    def settled(self) -> bool:
        """Whether its severity has been confirmed."""
        return self.clause.severity_confirmed_at is not None

    @property
    def differs(self) -> bool:
        """Whether the confirmed severity is not the one that the words suggest."""
        return self.settled and self.clause.severity != (self.reading.level if self.reading else None)


@dataclass(frozen=True)
class Part:
    """A section with its entries in order."""

    section: Section
    entries: list[Entry]

    @property
    def spot(self) -> str:
        """Its id on the edition's page."""
        return f"section-{self.section.pk}"

    @property
    def new_id(self) -> str:
        """The id that the form for a new clause of this section has on the page."""
        return f"new-{self.section.pk}"

    @cached_property
    def open(self) -> list[Entry]:
        """Entries whose severity is to be confirmed."""
        return [entry for entry in self.entries if not entry.settled]

    @cached_property
    def in_order(self) -> bool:
        """Whether the numbers of its clauses rise and begin with its own."""
        numbers = [entry.clause.number for entry in self.entries]
        return numbering.in_order(numbers) and all(
            number.startswith(f"{self.section.number}.") for number in numbers
        )


@dataclass(frozen=True)
class Standing:
    """How far an edition has got, and the change that can be undone next."""

    clauses: int
    open: int
    step: EditionStep | None


def breeds_of(club: Club) -> QuerySet[Breed]:
    """The club's breeds with their editions, newest first, each with `clause_count` and `open_count`."""
    editions = Edition.objects.annotate(clause_count=Count("clauses"), open_count=_OPEN)
    return club.breeds.prefetch_related(Prefetch("editions", editions))


def edition_in_force(breed: Breed) -> Edition | None:
    """The edition that is taught and judged by; None before the first release."""
    return breed.editions.filter(state=Edition.State.RELEASED).first()


def sections_to_read(edition: Edition) -> list[tuple[Section, list[Clause]]]:
    """The sections of an edition, each with its clauses in order. Two queries."""
    clauses = Prefetch("clauses", Clause.objects.order_by("position", "pk"))
    return [(section, list(section.clauses.all())) for section in edition.sections.prefetch_related(clauses)]


def parts_of(edition: Edition, sections: list[int] | None = None) -> list[Part]:
    """The sections of an edition, or some of them, as the editor shows them. Five queries, whatever the size.

    Expects `edition.breed.club` at hand.
    """
    scale, readings = ladder_of(edition.breed.club), readings_of(edition.breed)
    rows = edition.sections.all()
    if sections is not None:
        rows = rows.filter(pk__in=sections)
    clauses = Clause.objects.order_by("position", "pk").prefetch_related(
        "faults", Prefetch("follows", Clause.objects.prefetch_related("faults"))
    )
    return [
        Part(section, [_entry(clause, edition, scale, readings) for clause in section.clauses.all()])
        for section in rows.prefetch_related(Prefetch("clauses", clauses))
    ]


def entry_of(clause: Clause) -> Entry:
    """One clause as the editor shows it."""
    edition = clause.edition
    return _entry(clause, edition, ladder_of(edition.breed.club), readings_of(edition.breed))


def standing_of(edition: Edition) -> Standing:
    """Two queries."""
    counts = edition.clauses.order_by().aggregate(
        clauses=Count("pk"), open=Count("pk", filter=Q(severity_confirmed_at=None))
    )
    step = edition.steps.defer("before").select_related("made_by").first()
    return Standing(**counts, step=step)


def range_told(clause: Clause) -> str:
    """The measure of a clause with its range: "Layback of shoulder blade 30–40°"."""
    if not clause.measure:
        return ""
    known = MEASURES.get(clause.measure)
    label, unit = (known.label, known.unit) if known else (clause.measure, "")
    low, high = (f"{value:g}".replace("-", "−") for value in (clause.low, clause.high))
    return f"{label} {low}{' to ' if clause.low < 0 else '–'}{high}{unit}"


def _entry(clause: Clause, edition: Edition, scale: SeverityScale, readings: Readings) -> Entry:
    reading = reading_of(clause.text, readings, scale)
    origin = clause.follows if edition.draft else None
    faults = {fault.pk: fault for source in (clause, origin) if source for fault in source.faults.all()}
    return Entry(clause, reading, sorted(faults.values(), key=lambda fault: fault.name))
