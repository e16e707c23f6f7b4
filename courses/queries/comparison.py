"""Two editions side by side: what was added, removed, reworded, renumbered, and read differently."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from dataclasses import dataclass, field

from django.utils.translation import gettext as _

from courses.models import Clause, Edition, SeverityScale
from courses.queries.standard import range_told
from courses.queries.uses import uses_of_clauses
from shared.prose.comparing import Change, Worded, match_clauses, word_changes

STATES = ("added", "removed", "reworded", "renumbered", "read anew", "same")


@dataclass(frozen=True)
class Compared:
    """A clause of the old edition, of the new one, or of both; `state` says in a word what became of it."""

    state: str
    old: Clause | None
    new: Clause | None
    changes: list[Change] = field(default_factory=list)
    read: list[str] = field(default_factory=list)
    uses: list[str] = field(default_factory=list)

    @property
    def shown(self) -> Clause:
        """The clause that stands in the list."""
        found = self.new or self.old
        if found is None:
            raise ValueError("A comparison holds a clause of one edition at least.")
        return found


def compare_editions(old: Edition, new: Edition, scale: SeverityScale) -> list[Compared]:
    """Every clause of both, in the order of the new edition. Queries do not grow with the editions."""
    before, after = _clauses(old), _clauses(new)
    pairs = match_clauses(_worded(before), _worded(after))
    there = {clause.pk: clause for clause in [*before, *after]}
    uses = uses_of_clauses([clause.pk for clause in before])
    return [
        _compared(there.get(was.id) if was else None, there.get(now.id) if now else None, scale, uses)
        for was, now in pairs
    ]


def counts_of(rows: Iterable[Compared]) -> dict[str, int]:
    """How many clauses of each state there are, the weightiest changes first; states without any left out."""
    found = Counter(row.state for row in rows)
    return {state: found[state] for state in STATES if found[state]}


def successors(old: Edition, new: Edition) -> dict[int, int]:
    """Each old clause that lives on in the new edition, with the clause that it became."""
    pairs = match_clauses(_worded(_clauses(old)), _worded(_clauses(new)))
    return {was.id: now.id for was, now in pairs if was and now}


def _clauses(edition: Edition) -> list[Clause]:
    return list(edition.clauses.select_related("section"))


def _worded(clauses: Iterable[Clause]) -> list[Worded]:
    return [Worded(clause.pk, clause.number, clause.text, clause.follows_id) for clause in clauses]


def _compared(
    old: Clause | None, new: Clause | None, scale: SeverityScale, uses: dict[int, list[str]]
) -> Compared:
    if new is None or old is None:
        state = "removed" if new is None else "added"
        return Compared(state, old, new, uses=uses.get(old.pk, []) if old else [])
    read = _read_differently(old, new, scale)
    if old.text != new.text:
        state = "reworded"
    elif old.number != new.number:
        state = "renumbered"
    else:
        state = "read anew" if read else "same"
    changes = word_changes(old.text, new.text)
    return Compared(state, old, new, changes, read, [] if state == "same" else uses.get(old.pk, []))


def _read_differently(old: Clause, new: Clause, scale: SeverityScale) -> list[str]:
    said = []
    if old.zone != new.zone:
        said.append(
            _("Zone: %(was)s, now %(now)s.") % _was_now(old.get_zone_display(), new.get_zone_display())
        )
    if new.severity_confirmed_at and old.severity != new.severity:
        said.append(_("Severity: %(was)s, now %(now)s.") % _was_now(_level(old, scale), _level(new, scale)))
    if (old.measure, old.low, old.high) != (new.measure, new.low, new.high):
        said.append(
            _("Measure: %(was)s, now %(now)s.")
            % _was_now(range_told(old) or _("none"), range_told(new) or _("none"))
        )
    return said


def _was_now(was: str, now: str) -> dict[str, str]:
    return {"was": was, "now": now}


def _level(clause: Clause, scale: SeverityScale) -> str:
    return _("none by itself") if clause.severity is None else scale.label(clause.severity)
