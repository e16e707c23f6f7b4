"""The key: {"exhibit": id, "clause": id, "also": [{"clause": id, "credit": 0…1}, …]}; a draft may lack parts."""

from __future__ import annotations

from typing import Any

from django.utils.translation import gettext as _

from assessments.items.keeping import drafted_so_far, drafting_words
from assessments.items.reading import credit_of, id_of, key_parts, note_of, refused, rows_of, unreadable
from assessments.items.shuffling import shown_exhibits
from assessments.models import Item, Key
from courses.models import Clause
from courses.models.choices import Verdict
from shared.prose.markdown import render_clause
from shared.web.limits import NAMES_ACCEPTED

EMPTY: dict[str, Any] = {"exhibit": None, "clause": None, "also": []}


def clause_choices(item: Item) -> list[dict[str, Any]]:
    """The edition's clauses as they are searched and shown."""
    return [
        {"id": row.pk, "clause": row.number, "name": row.text, "text": render_clause(row.text)}
        for row in item.edition.clauses.all()
    ]


def propose(key: Key) -> None:
    """The exhibit that is said to be correct, and the clause that the item is about, else that of the fault."""
    pair = [row.exhibit for row in key.item.item_exhibits.select_related("exhibit")]
    correct = [exhibit for exhibit in pair if exhibit.verdict == Verdict.CORRECT]
    clause = key.item.clause_id
    for exhibit in pair if clause is None else []:
        shown = exhibit.shown_faults.select_related("fault").first()
        clause = clause or (shown and (shown.clause_id or shown.fault.clause_id))
    if clause and not key.item.edition.clauses.filter(pk=clause).exists():
        clause = None
    key.content = {**EMPTY, "exhibit": correct[0].pk if len(correct) == 1 else None, "clause": clause}
    key.save(update_fields=["content"])


def read_key(sent: object, item: Item) -> dict[str, Any]:
    """What `save_draft` takes; KeyRefused for exhibits that are not shown and clauses of elsewhere."""
    parts = key_parts(sent)
    content = {
        "exhibit": id_of(parts.get("exhibit")),
        "clause": id_of(parts.get("clause")),
        "also": [_accepted(row) for row in rows_of(parts.get("also"), NAMES_ACCEPTED)],
    }
    _check(content, item)
    return {"sound": False, "note": note_of(parts), "content": content}


def _accepted(row: dict[str, Any]) -> dict[str, Any]:
    clause, credit = id_of(row.get("clause")), credit_of(row.get("credit"))
    if clause is None or credit is None:
        raise refused(_("A clause also accepted needs a credit from 0 to 1."))
    return {"clause": clause, "credit": credit}


def _check(content: dict[str, Any], item: Item) -> None:
    shown = {row.exhibit_id for row in item.item_exhibits.all()}
    named = [content["clause"], *(row["clause"] for row in content["also"])]
    clauses = {clause for clause in named if clause is not None}
    if content["exhibit"] is not None and content["exhibit"] not in shown:
        raise unreadable()
    if Clause.objects.filter(edition=item.edition_id, pk__in=clauses).count() < len(clauses):
        raise refused(_("A clause of another edition was named."))
    if len(clauses) < len([clause for clause in named if clause is not None]):
        raise refused(_("Each clause is named once."))


def drawn_up(key: Key) -> dict[str, Any]:
    """The edition's clauses, and the key so far."""
    shown_exhibits(key.item)
    return {
        "clauses": clause_choices(key.item),
        "most": NAMES_ACCEPTED,
        **drafted_so_far(key, {**EMPTY, **key.content, "note": key.note}),
    }


def lacks(content: dict[str, Any]) -> list[str]:
    """In words: the exhibit and the clause."""
    words = key_words()
    return [words[f"no_{part}"] for part in ("exhibit", "clause") if content.get(part) is None]


def shown(key: Key) -> dict[str, Any]:
    """The right exhibit's id, and the clauses with their credits."""
    shown_exhibits(key.item)
    named = [key.content["clause"], *(row["clause"] for row in key.content["also"])]
    clauses = Clause.objects.select_related("edition__breed").in_bulk(named)
    also = [
        (clauses[row["clause"]], row["credit"]) for row in key.content["also"] if row["clause"] in clauses
    ]
    return {"exhibit": key.content["exhibit"], "clause": clauses.get(key.content["clause"]), "also": also}


def key_words() -> dict[str, str]:
    """What the key page's script says; {name} is filled in by it."""
    return drafting_words() | {
        "no_exhibit": _("Say which of the two is the better."),
        "no_clause": _("Say by which clause."),
        "credit": _("Credit for clause {name}, from 0 to 1"),
        "unaccept": _("Remove clause {name}"),
    }
