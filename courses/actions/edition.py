"""Editions: begun, described, copied, released and, while they are drafts, thrown away."""

from __future__ import annotations

import datetime
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from courses.actions.edition_steps import check_unused
from courses.models import Breed, Clause, Edition, Fault, Section
from courses.queries.comparison import successors
from courses.queries.release import missing_for_release
from courses.queries.standard import edition_in_force
from courses.queries.uses import uses_of_edition
from courses.refusals import NotReady, Refused
from shared.web.limits import EDITIONS_PER_BREED


@dataclass(frozen=True)
class Described:
    """Who issued an edition, when, where it is found, and under which permission it is reproduced."""

    title: str
    issuing_body: str
    issued_on: datetime.date
    source: str = ""
    reproduced_by: str = ""


@transaction.atomic
def begin_edition(*, breed: Breed, described: Described) -> Edition:
    """A draft without clauses."""
    if breed.editions.count() >= EDITIONS_PER_BREED:
        raise Refused(_("A breed keeps at most %(n)d editions.") % {"n": EDITIONS_PER_BREED})
    return Edition.objects.create(breed=breed, **vars(described))


def describe_edition(*, edition: Edition, described: Described) -> Edition:
    """Correct what is said about an edition, its wording aside."""
    for name, value in vars(described).items():
        setattr(edition, name, value)
    edition.save(update_fields=list(vars(described)))
    return edition


@transaction.atomic
def copy_edition(*, edition: Edition, described: Described) -> Edition:
    """A draft that begins with the sections, clauses and readings of a released edition."""
    if edition.draft:
        raise Refused(_("A draft is not copied: go on with it, or release it first."))
    draft = begin_edition(breed=edition.breed, described=described)
    draft.follows = edition
    draft.save(update_fields=["follows"])
    there = list(edition.sections.all())
    here = Section.objects.bulk_create(
        Section(edition=draft, position=row.position, number=row.number, title=row.title) for row in there
    )
    sections = {row.pk: copy for row, copy in zip(there, here, strict=True)}
    clauses = list(edition.clauses.all())
    for clause in clauses:
        clause.follows_id, clause.pk = clause.pk, None
        clause.edition, clause.section = draft, sections[clause.section_id]
    Clause.objects.bulk_create(clauses)
    return draft


@transaction.atomic
def release_edition(*, edition: Edition) -> Edition:
    """Fix the wording and put the edition in force; the one before retires, and its faults move here.

    A fault goes to the clause that its own became; where that clause is gone, it stays with the old one.
    Raises NotReady with what is missing.
    """
    held = Edition.objects.select_for_update().select_related("breed__club").get(pk=edition.pk)
    if not held.draft:
        raise Refused(_("This edition has been released already."))
    if missing := missing_for_release(held):
        raise NotReady([lack.text for lack in missing])
    before = edition_in_force(held.breed)
    if before:
        _move_faults(before, held)
        before.state = Edition.State.RETIRED
        before.save(update_fields=["state"])
    held.state, held.released_at = Edition.State.RELEASED, timezone.now()
    held.follows = held.follows or before
    held.save(update_fields=["state", "released_at", "follows"])
    held.steps.all().delete()
    return held


@transaction.atomic
def remove_draft(*, edition: Edition) -> None:
    """Throw a draft away with its clauses; anything built on it keeps it from going."""
    if not edition.draft:
        raise Refused(_("A released edition is kept: marks and plates refer to its clauses."))
    if uses := uses_of_edition(edition):
        raise Refused(_("Not removed, since it has %(what)s.") % {"what": ", ".join(uses)})
    check_unused(edition.clauses.all())
    edition.delete()


def _move_faults(before: Edition, now: Edition) -> None:
    lives_on = successors(before, now)
    faults = [fault for fault in Fault.objects.filter(clause__edition=before) if fault.clause_id in lives_on]
    for fault in faults:
        fault.clause_id = lives_on[fault.clause_id]
    Fault.objects.bulk_update(faults, ["clause"])
