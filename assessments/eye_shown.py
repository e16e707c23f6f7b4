"""What somebody's eye can do so far, as pages and paper show it."""

from __future__ import annotations

from typing import Any

from assessments.calibration import calibration, calibration_plot
from assessments.eye import PARTS, eye_of
from assessments.queries.marks import marks_for_figures
from assessments.scales import faulting_scale, hatching, weighing_scale
from courses.queries.zone_map import zone_map
from shared.accounts.models import Membership


def eye_context(trainee: Membership) -> dict[str, Any]:
    """What the template of the figures needs."""
    marks = marks_for_figures(trainee)
    eye = eye_of(marks)
    compared = calibration(eye.pairs, eye.labels)
    figures = {part: {row.zone: hatching(getattr(row, part)) for row in eye.rows} for part in PARTS}
    return {
        "eye": eye,
        "since": marks[0].answer.handed_in_at if marks else None,
        "map": zone_map(),
        "dogs": [
            {
                "part": part,
                "hatchings": [(path, figures[part][zone]) for zone, path in zone_map().zones.items()],
            }
            for part in PARTS
        ],
        "faulting": faulting_scale(eye),
        "weighing": weighing_scale(eye),
        "calibration": compared,
        "calibration_plot": calibration_plot(compared) if eye.pairs else None,
    }
