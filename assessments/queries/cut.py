"""Reads about estimates for a pass mark."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import Prefetch, QuerySet

from assessments.evidence.cut import CutFigures, cut_figures
from assessments.models import CutEstimate, CutPanellist, CutStudy, Item, Quiz, Regulations
from assessments.queries.evidence import keys_in_use
from assessments.rules import pass_fraction, points_of
from shared.accounts.models import Club, Membership


def studies_of(club: Club) -> QuerySet[CutStudy]:
    """The club's studies, newest first, with their panellists by name."""
    seats = CutPanellist.objects.select_related("member__person").order_by("member__person__name", "pk")
    return (
        CutStudy.objects.filter(quiz__edition__breed__club=club)
        .select_related("quiz__edition__breed", "begun_by", "closed_by")
        .prefetch_related(Prefetch("panellists", seats))
    )


def cut_in_force(quiz: Quiz) -> CutStudy | None:
    """The newest closed study."""
    return quiz.cut_studies.exclude(closed_at=None).order_by("-closed_at", "-pk").first()


def rounds_of(study: CutStudy) -> tuple[int, int]:
    """How many panellists gave their estimates in a study, and the how-manieth closed round of its quiz it is."""
    given = study.panellists.exclude(given_at=None).count()
    until = CutStudy.objects.filter(quiz=study.quiz_id, closed_at__lte=study.closed_at)
    return given, until.count()


@dataclass(frozen=True)
class PassLine:
    """Where marks are divided: by a panel's study, else by the pass mark of a paper's regulations."""

    study: CutStudy | None
    regulations: Regulations | None

    @property
    def at(self) -> float | None:
        """As a fraction; None where nothing says it."""
        if self.study is not None:
            return self.study.cut
        return pass_fraction(self.regulations) if self.regulations else None

    @property
    def elsewhere(self) -> bool:
        """Whether the regulations put it elsewhere than the study, by as much as can be seen."""
        if self.study is None or self.study.cut is None or self.regulations is None:
            return False
        return points_of(self.study.cut) != points_of(pass_fraction(self.regulations))


def pass_line(quiz: Quiz) -> PassLine:
    """Of a quiz or paper. A paper's regulations are the newest by which one of its candidates sat."""
    sat_by = Regulations.objects.filter(sittings__sitting__quiz=quiz).order_by("-effective_from", "-pk")
    return PassLine(cut_in_force(quiz), sat_by.first() if quiz.purpose == Quiz.Purpose.PAPER else None)


def own_seats(member: Membership) -> QuerySet[CutPanellist]:
    """Studies in which the member is asked and that are still open."""
    seats = CutPanellist.objects.filter(member=member, study__closed_at=None, given_at=None)
    return seats.select_related("study__quiz").order_by("study__begun_at", "pk")


def table_of(study: CutStudy) -> dict[int, list[float]]:
    """By panellist who has given, in the order of their names, the estimates as fractions in the items' order."""
    place = {item: number for number, item in enumerate(study.items)}
    rows = (
        CutEstimate.objects.filter(panellist__study=study)
        .exclude(panellist__given_at=None)
        .order_by("panellist__member__person__name", "panellist")
        .values_list("panellist", "item", "per_cent")
    )
    table: dict[int, list[float]] = {}
    for panellist, item, per_cent in rows:
        table.setdefault(panellist, [0.0] * len(place))[place[item]] = per_cent / 100
    return table


def items_of(study: CutStudy) -> list[Item]:
    """The study's items in its order, each with picture and `in_use`, a list of the one key in use."""
    keys = Prefetch("keys", keys_in_use(), to_attr="in_use")
    return _in_order(study, keys, "exhibit__renditions", "exhibit__permissions")


def _in_order(study: CutStudy, *more: str | Prefetch) -> list[Item]:
    items = Item.objects.filter(pk__in=study.items).select_related("exhibit", "clause")
    found = {item.pk: item for item in items.prefetch_related(*more)}
    return [found[pk] for pk in study.items if pk in found]


@dataclass(frozen=True)
class Compared:
    """A closed study set out: its figures, and the panellists' names in the order of the columns."""

    study: CutStudy
    names: Sequence[str]
    items: Sequence[Item]
    figures: CutFigures


def compared(study: CutStudy) -> Compared:
    """What each panellist estimated, beside the others."""
    table = table_of(study)
    names = {seat.pk: str(seat.member.person) for seat in study.panellists.all()}
    return Compared(
        study, [names[seat] for seat in table], _in_order(study), cut_figures(list(table.values()))
    )
