"""What the browser is given to answer with: the club's faults and their clauses, never the key."""

from __future__ import annotations

from typing import Any

from assessments.items.keeping import kept_so_far
from assessments.models import Answer, QuizRules
from courses.models import Fault
from courses.models.choices import Zone
from shared.prose.markdown import render_clause


def fault_choices(breed_id: int) -> list[dict[str, Any]]:
    """The club's list of faults, each with the clause that it breaks, set as everywhere."""
    zones = dict(Zone.choices)
    rows = Fault.objects.filter(breed_id=breed_id).select_related("clause").order_by("name")
    return [
        {
            "id": row.pk,
            "name": row.name,
            "other_names": row.other_names,
            "zone": str(zones[row.zone]),
            "clause": row.clause.number if row.clause else "",
            "clause_id": row.clause_id,
            "text": render_clause(row.clause.text) if row.clause else "",
            "level": row.level,
        }
        for row in rows
    ]


def asked(answer: Answer, rules: QuizRules) -> dict[str, Any]:
    """All that the answer page's script needs."""
    faults = [
        {key: value for key, value in fault.items() if key not in ("level", "clause_id")}
        for fault in fault_choices(answer.item.edition.breed_id)
    ]
    return {
        "faults": faults,
        "levels": [
            {"label": label, "weight": weight}
            for label, weight in zip(rules.ladder["labels"], rules.ladder["weights"], strict=True)
        ],
        **kept_so_far(answer, {"marks": [], "nothing_found": False}),
    }
