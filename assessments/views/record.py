"""A trainee's own record: what their eye can do so far, sittings, and what has been said of them."""

from __future__ import annotations

from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, render

from assessments.calibration import calibration, calibration_plot
from assessments.eye import eye_of
from assessments.queries.marks import marks_for_figures
from assessments.queries.sittings import own_sittings
from assessments.queries.trainees import trainees_of
from assessments.scales import faulting_scale, hatching, weighing_scale
from courses.queries.zone_map import zone_map
from shared.accounts.models import Membership
from shared.accounts.permissions import Ability, club_page

SITTINGS = 12  # on one page, below the figures
_PARTS = ("see", "name", "weigh")


@club_page(Ability.READ_OWN_RECORD)
def record(request: HttpRequest) -> HttpResponse:
    """The dog that fills in, the two scales, sittings newest first, and the latest notices."""
    page = Paginator(own_sittings(request.membership), SITTINGS).get_page(request.GET.get("page"))
    notices = request.membership.notices.select_related("answer__sitting__quiz")[:20]
    context = {"page": page, "notices": notices, **eye_context(request.membership)}
    return render(request, "assessments/record/record.html", context)


@club_page(Ability.REVIEW)
def trainee_eye(request: HttpRequest, pk: int) -> HttpResponse:
    """The same figures for one of the mentor's trainees."""
    found = get_object_or_404(trainees_of(request.membership), pk=pk)
    return render(request, "assessments/trainee/eye.html", {"trainee": found, **eye_context(found)})


@club_page(Ability.ENTER)
def record_method(request: HttpRequest) -> HttpResponse:
    """How the figures of a record are worked out, in words."""
    return render(request, "assessments/record/method.html", {})


def eye_context(trainee: Membership) -> dict[str, object]:
    """What the figures' template needs."""
    marks = marks_for_figures(trainee)
    eye = eye_of(marks)
    compared = calibration(eye.pairs, eye.labels)
    figures = {part: {row.zone: hatching(getattr(row, part)) for row in eye.rows} for part in _PARTS}
    return {
        "eye": eye,
        "since": marks[0].answer.handed_in_at if marks else None,
        "map": zone_map(),
        "dogs": [
            {
                "part": part,
                "hatchings": [(path, figures[part][zone]) for zone, path in zone_map().zones.items()],
            }
            for part in _PARTS
        ],
        "faulting": faulting_scale(eye),
        "weighing": weighing_scale(eye),
        "calibration": compared,
        "calibration_plot": calibration_plot(compared) if eye.pairs else None,
    }
