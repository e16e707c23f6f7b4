"""How a person leaves the rows of courses."""

from __future__ import annotations

from courses.models import EditionStep
from shared.accounts.erasure import Way, Words, first, points, words
from shared.accounts.models import Membership

points(
    {
        "courses.Clause.severity_confirmed_by": Way.STAYS,
        "courses.EditionStep.made_by": Way.STAYS,
        "courses.Exhibit.made_by": Way.STAYS,
        "courses.PicturePermission.recorded_by": Way.STAYS,
        "courses.Placement.placed_by": Way.STAYS,
        "courses.Progress.person": Way.GOES,
    }
)
MAY_NAME = [
    "Edition.reproduced_by",
    "EditionStep.label",
    "Exhibit.caption",
    "Exhibit.description",
    "Exhibit.original_name",
    "PicturePermission.note",
    "Plate.note",
    "PlateExhibit.caption",
    "Course.summary",
    "Module.summary",
    "Place.text",
]
# An owner's permission is a record of its own, with a name of its own: it ends where the owner ends it.
NAME_NO_MEMBER = ["PicturePermission.given_by"]
NAME_NOBODY = [
    "SeverityScale.labels",
    "SeverityScale.weights",
    "Breed.name",
    "Breed.readings",
    "Edition.title",
    "Edition.issuing_body",
    "Edition.source",
    "Section.title",
    "EditionStep.before",
    "Clause.text",
    "Fault.name",
    "Fault.virtue",
    "Fault.other_names",
    "Exhibit.drawing",
    "Exhibit.blanked",
    "Rendition.name",
    "Rendition.file",
    "Placement.points",
    "ShownFault.regions",
    "Plate.title",
    "Course.title",
    "Module.title",
    "Place.title",
]
words({f"courses.{name}": Words.MAY_NAME for name in MAY_NAME})
words({f"courses.{name}": Words.NAME_NOBODY for name in [*NAME_NO_MEMBER, *NAME_NOBODY]})


@first
def undo_confirms_for_nobody(membership: Membership) -> None:
    """Steps that can be undone keep who had confirmed a severity: undone later, nobody has."""
    steps = EditionStep.objects.filter(edition__breed__club=membership.club_id)
    changed = []
    for step in steps.only("pk", "before"):
        confirmed = [
            row
            for row in step.before.get("clauses", [])
            if row.get("severity_confirmed_by_id") == membership.person_id
        ]
        for row in confirmed:
            row["severity_confirmed_by_id"] = None
        if confirmed:
            changed.append(step)
    EditionStep.objects.bulk_update(changed, ["before"], 100)
