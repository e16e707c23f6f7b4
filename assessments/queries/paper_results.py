"""What came of a paper, by candidates' numbers: scores, their standard error, and what each means."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import dataclass

from django.db.models import OuterRef, QuerySet, Subquery

from assessments.evidence.paper import paper_figures
from assessments.models import Adjustment, Answer, Mark, Paper, PaperResult, PaperSitting
from assessments.queries.answers import answers_with_marks
from assessments.queries.papers import sittings_of
from assessments.rules import pass_fraction, points_of
from assessments.statistics.cut_score import decide

Decision = PaperResult.Decision


@dataclass(frozen=True)
class Outcome:
    """One candidate's result as it stands: `score` is None while something is not marked, and where nothing counts.

    `proposed` rests on pass mark and standard error alone, `decision` also on a person's word about a
    borderline result. `released` is what the candidate was told last.
    """

    sitting: PaperSitting
    score: float | None
    sem: float | None
    pass_mark: float
    proposed: str
    released: PaperResult | None

    @property
    def number(self) -> int:
        """The candidate's."""
        return self.sitting.candidate.number

    @property
    def percent(self) -> float | None:
        """The score out of 100."""
        return None if self.score is None else self.score * 100

    @property
    def settled(self) -> bool:
        """Whether a person's word decides."""
        return self.proposed == Decision.BORDERLINE and bool(self.sitting.settled)

    @property
    def decision(self) -> str:
        """Pass, refer or borderline; empty while something is not marked."""
        return self.sitting.settled if self.settled else self.proposed

    @property
    def decision_words(self) -> str:
        """The same for people."""
        return str(Decision(self.decision).label) if self.decision else ""

    @property
    def void(self) -> bool:
        """Whether every item was passed over, its picture withdrawn: there is no result to give."""
        return not self.sitting.answers_count

    @property
    def changed(self) -> bool:
        """Whether it is no longer what was released."""
        return self.released is not None and (
            self.released.decision != self.decision
            or points_of(self.released.score) != points_of(self.score or 0)
        )


def outcomes_of(paper: Paper) -> list[Outcome]:
    """Of every sitting that is handed in, by numbers."""
    sittings = list(
        sittings_of(paper).exclude(sitting__finished_at=None).prefetch_related("results", "typed_by__person")
    )
    scores = _scores(paper)
    sem = paper_figures(
        (sitting, item, score) for sitting, given in scores.items() for item, score in given.items()
    ).sem
    return [_outcome(sitting, scores.get(sitting.sitting_id, {}), sem) for sitting in sittings]


def _outcome(sitting: PaperSitting, given: dict[int, float], sem: float | None) -> Outcome:
    pass_mark = pass_fraction(sitting.regulations)
    whole = len(given) == sitting.answers_count and bool(given)
    score = sum(given.values()) / len(given) if whole else None
    return Outcome(
        sitting=sitting,
        score=score,
        sem=sem,
        pass_mark=pass_mark,
        proposed="" if score is None else decide(score, pass_mark, sem),
        released=next(iter(sitting.results.all()), None),
    )


def _scores(paper: Paper) -> dict[int, dict[int, float]]:
    """{sitting: {item: fraction}} of marks that count: as shown, with a standing adjustment."""
    adjusted = Adjustment.objects.filter(answer=OuterRef("answer"), taken_back_at=None).values("points")[:1]
    rows: QuerySet = (
        Mark.objects.filter(current=True, answer__sitting__quiz=paper.quiz_id)
        .exclude(answer__handed_in_at=None)
        .order_by()
        .values_list("answer__sitting", "answer__item", "score", Subquery(adjusted))
    )
    found: dict[int, dict[int, float]] = defaultdict(dict)
    for sitting, item, score, points in rows:
        shown = float(points_of(score)) + float(points) if points is not None else score * 100
        found[sitting][item] = min(1.0, max(0.0, shown / 100))
    return found


def unmarked_in(paper: Paper) -> QuerySet[Answer]:
    """Handed-in answers that have no mark yet: kinds that a person marks, or work still in the background."""
    return (
        Answer.objects.filter(sitting__quiz=paper.quiz_id)
        .exclude(handed_in_at=None)
        .exclude(marks__current=True)
        .select_related("item", "sitting__of_paper__candidate")
        .order_by("item", "pk")
    )


def script_of(paper: Paper, number: int) -> QuerySet[Answer]:
    """A candidate's handed-in answers by the number, with all that a review shows."""
    return (
        answers_with_marks()
        .filter(sitting__of_paper__candidate__paper=paper, sitting__of_paper__candidate__number=number)
        .exclude(handed_in_at=None)
        .select_related("sitting__of_paper__candidate__paper__quiz", "late")
    )
