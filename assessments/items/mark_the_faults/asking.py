"""What the browser is given to answer with: the club's faults and their clauses, never the key."""

from __future__ import annotations

from typing import Any

from assessments.items.keeping import kept_so_far
from assessments.items.mark_the_faults.vocabulary import as_listed, called, listed
from assessments.models import Answer, QuizRules
from assessments.snapshots import Sought
from courses.models.choices import Zone
from shared.prose.markdown import render_clause


def fault_choices(breed_id: int, sought: Sought = "fault") -> list[dict[str, Any]]:
    """The club's list of faults or virtues, each with its clause, set as everywhere."""
    zones = dict(Zone.choices)
    return [
        {
            "id": row.pk,
            "name": called(row, sought),
            "other_names": row.other_names if sought == "fault" else [],
            "zone": str(zones[row.zone]),
            "clause": row.clause.number if row.clause else "",
            "clause_id": row.clause_id,
            "text": render_clause(row.clause.text) if row.clause else "",
            "level": row.level,
        }
        for row in listed(breed_id, sought)
    ]


def asked(answer: Answer, rules: QuizRules, sought: Sought = "fault") -> dict[str, Any]:
    """All that the answer page's script needs. Virtues are not weighed, so they come without levels."""
    labels, weights = rules.ladder["labels"], rules.ladder["weights"]
    kept = kept_so_far(answer, {"marks": [], "nothing_found": False})
    marks = as_listed(kept["content"]["marks"], answer.item.edition.breed_id, sought)
    kept["content"] = kept["content"] | {"marks": marks}
    faults = [
        {key: value for key, value in fault.items() if key not in ("level", "clause_id")}
        for fault in fault_choices(answer.item.edition.breed_id, sought)
    ]
    return {
        "faults": faults,
        "levels": [
            {"label": label, "weight": weight}
            for label, weight in zip(labels, weights, strict=True)
            if sought == "fault"
        ],
        **kept,
    }
