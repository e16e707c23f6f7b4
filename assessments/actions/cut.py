"""A panel's estimates for a pass mark: asked, given each for themselves, and kept with what came of them."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.models import Candidate, CutEstimate, CutPanellist, CutStudy, Quiz
from assessments.queries.cut import table_of
from assessments.rules import Refused
from assessments.statistics.cut_score import modified_angoff
from shared.accounts.models import Membership, Person
from shared.web.limits import PANELLISTS_PER_CUT

# One estimate alone has no standard error.
FEWEST_PANELLISTS = 2


@transaction.atomic
def ask_for_cut(*, quiz: Quiz, members: Sequence[Membership], by: Person) -> CutStudy:
    """Ask these members to estimate the quiz's items as they are now."""
    quiz = Quiz.objects.select_for_update().get(pk=quiz.pk)
    items = list(quiz.quiz_items.order_by("position", "pk").values_list("item", flat=True))
    if not items:
        raise Refused(_("The quiz has no items to estimate."))
    if quiz.cut_studies.filter(closed_at=None).exists():
        raise Refused(_("A panel is at work on this quiz. Close or withdraw it first."))
    if not FEWEST_PANELLISTS <= len(members) <= PANELLISTS_PER_CUT:
        raise Refused(
            _("Ask from %(few)d to %(many)d members.")
            % {"few": FEWEST_PANELLISTS, "many": PANELLISTS_PER_CUT}
        )
    sitting = Candidate.objects.filter(paper__quiz=quiz, member__in=members).select_related("member__person")
    if sitting:
        names = ", ".join(str(candidate.member.person) for candidate in sitting)
        raise Refused(_("A candidate must not see the paper: %(names)s.") % {"names": names})
    study = CutStudy.objects.create(quiz=quiz, items=items, begun_by=by)
    CutPanellist.objects.bulk_create(CutPanellist(study=study, member=member) for member in members)
    return study


@transaction.atomic
def keep_estimates(*, panellist: CutPanellist, estimates: Mapping[int, int]) -> None:
    """Keep per cents by item, in the place of earlier ones; nobody else sees them before the study closes."""
    panellist = _still_open(panellist)
    panellist.estimates.all().delete()
    CutEstimate.objects.bulk_create(
        CutEstimate(panellist=panellist, item_id=item, per_cent=per_cent)
        for item, per_cent in estimates.items()
        if item in panellist.study.items
    )


@transaction.atomic
def give_estimates(*, panellist: CutPanellist) -> None:
    """From now on the panellist's estimates stand; every item needs one."""
    panellist = _still_open(panellist)
    if panellist.estimates.count() < len(panellist.study.items):
        raise Refused(_("Every item needs an estimate before they are given."))
    panellist.given_at = timezone.now()
    panellist.save(update_fields=["given_at"])


def _still_open(panellist: CutPanellist) -> CutPanellist:
    """The panellist's row, locked together with the study that it belongs to."""
    CutStudy.objects.select_for_update().get(pk=panellist.study_id)
    panellist = CutPanellist.objects.select_related("study").get(pk=panellist.pk)
    if panellist.study.closed_at or panellist.given_at:
        raise Refused(_("These estimates were given and stand."))
    return panellist


@transaction.atomic
def close_cut_study(*, study: CutStudy, by: Person) -> CutStudy:
    """Work out the cut from what was given, and keep it; who has not given does not count."""
    study = CutStudy.objects.select_for_update().get(pk=study.pk)
    if study.closed_at:
        return study
    given = study.panellists.exclude(given_at=None)
    if given.count() < FEWEST_PANELLISTS:
        raise Refused(_("At least two must have given their estimates."))
    found = modified_angoff(list(table_of(study).values()))
    study.cut, study.standard_error = found.cut, found.standard_error
    study.closed_at, study.closed_by = timezone.now(), by
    study.save()
    return study


@transaction.atomic
def withdraw_cut_study(*, study: CutStudy) -> None:
    """An open study goes with its estimates; a closed one stays on record."""
    study = CutStudy.objects.select_for_update().get(pk=study.pk)
    if study.closed_at:
        raise Refused(_("A closed round stays on record. Ask a panel anew instead."))
    study.delete()
