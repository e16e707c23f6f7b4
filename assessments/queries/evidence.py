"""Reads for the evidence: first sittings and the figures that are kept of them, counted rows."""

from __future__ import annotations

import datetime
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from django.db.models import Count, Exists, F, Max, OuterRef, Prefetch, Q, QuerySet, Subquery

from assessments.evidence.shares import Tally
from assessments.models import (
    Adjustment,
    Answer,
    EntryResult,
    FalseAlarm,
    Item,
    Key,
    KeyEntry,
    Mark,
    Mentorship,
    Query,
    Quiz,
    QuizItem,
    QuizRules,
    Review,
    Sitting,
)
from assessments.queries.quizzes import ENTRIES
from courses.models import Clause, Course, Exhibit, Plate, ShownFault
from shared.accounts.models import Club, Membership

# Counted rows of one item that a page reads, newest first.
ROWS_READ = 20_000
# Upheld queries that the page of a key shows, the oldest first.
UPHELD_SHOWN = 20


def quizzes_with_answers(club: Club) -> QuerySet[Quiz]:
    """What the club has opened to its trainees."""
    opened = Quiz.objects.filter(edition__breed__club=club).exclude(state=Quiz.State.DRAFT)
    return with_people(opened).order_by("title", "pk")


def with_people(quizzes: QuerySet[Quiz]) -> QuerySet[Quiz]:
    """Quizzes, figures at hand, with the `people` who finished a first sitting and when the last did.

    `items_count` and `newest_item` change whenever an item is put in or taken out.
    """
    first = Sitting.objects.filter(quiz=OuterRef("pk"), number=1).exclude(finished_at=None)
    items = QuizItem.objects.filter(quiz=OuterRef("pk"))
    return quizzes.select_related("edition__breed", "figures").annotate(
        people=_of(first, Count("pk")),
        last_at=_of(first, Max("finished_at")),
        items_count=_of(items, Count("pk")),
        newest_item=_of(items, Max("pk")),
    )


def _of(rows: QuerySet, aggregate: Count | Max) -> Subquery:
    return Subquery(rows.order_by().values("quiz").annotate(found=aggregate).values("found"))


def first_scores(quizzes: Iterable[int]) -> Iterator[tuple[int, int, int, float]]:
    """(quiz, trainee, item, score) of finished first sittings, of the items that the quiz holds now."""
    rows = (
        Mark.objects.filter(current=True, answer__sitting__quiz__in=list(quizzes), answer__sitting__number=1)
        .exclude(answer__sitting__finished_at=None)
        .filter(answer__item__quiz_items__quiz=F("answer__sitting__quiz"))
        .order_by()
        .values_list("answer__sitting__quiz", "answer__sitting__trainee", "answer__item", "score")
    )
    return rows.iterator(chunk_size=5_000)


@dataclass(frozen=True)
class Within:
    """Which results of a club are counted: of one quiz, of one mentor's trainees, of certain days."""

    quiz: Quiz | None = None
    mentor: Membership | None = None
    since: datetime.date | None = None
    until: datetime.date | None = None

    def __bool__(self) -> bool:
        return any((self.quiz, self.mentor, self.since, self.until))

    def of(self, model: type[EntryResult] | type[FalseAlarm], club: Club) -> QuerySet:
        """First results of the club within this."""
        rows = model.objects.filter(club=club, first=True)
        if self.quiz:
            rows = rows.filter(quiz=self.quiz)
        if self.mentor:
            # Few trainees, and a paper's results would have names again before they are released.
            rows = rows.exclude(quiz__paper__released_at=None, quiz__purpose=Quiz.Purpose.PAPER)
            running = Mentorship.objects.filter(mentor=self.mentor, ended_at=None, trainee__left_at=None)
            rows = rows.filter(trainee__in=running.values("trainee"))
        if self.since:
            rows = rows.filter(day__gte=self.since)
        if self.until:
            rows = rows.filter(day__lte=self.until)
        return rows


EVERYTHING = Within()


def tallies(club: Club, within: Within) -> list[Tally]:
    """How often each clause's faults, zone by zone, had each outcome."""
    rows = (
        within.of(EntryResult, club).order_by().values_list("clause", "zone", "outcome").annotate(Count("pk"))
    )
    return [Tally(*row) for row in rows]


def people_by_clause(club: Club, within: Within) -> dict[int, int]:
    """How many people's results each clause has."""
    rows = within.of(EntryResult, club).order_by().values_list("clause")
    return dict(rows.annotate(Count("trainee", distinct=True)))


def called_most(club: Club, within: Within, most: int) -> list[tuple[str, str, int, int]]:
    """(fault, zone, times, people) of what is most often called where there is nothing; "" is unnamed."""
    rows = (
        within.of(FalseAlarm, club)
        .order_by()
        .values_list("fault__name", "zone")
        .annotate(times=Count("pk"), people=Count("trainee", distinct=True))
        .order_by("-times", "fault__name")[:most]
    )
    return [(name or "", zone, times, people) for name, zone, times, people in rows]


def clauses_with_plates(club: Club, clauses: Iterable[int]) -> dict[int, Clause]:
    """These clauses by id, each with the published plates that show it."""
    plates = Prefetch("plates", Plate.objects.filter(state="published").order_by("number"))
    found = Clause.objects.filter(edition__breed__club=club, pk__in=list(clauses))
    return {clause.pk: clause for clause in found.select_related("edition__breed").prefetch_related(plates)}


def keys_in_use() -> QuerySet[Key]:
    """The newest published key of each item, with its entries."""
    newer = Key.objects.filter(item=OuterRef("item"), version__gt=OuterRef("version"))
    return (
        Key.objects.exclude(published_at=None)
        .exclude(Exists(newer.exclude(published_at=None)))
        .prefetch_related(ENTRIES)
    )


def items_in_quiz(quiz: Quiz) -> QuerySet[QuizItem]:
    """The quiz's items in order, each with `item.in_use`, a list of the one key in use."""
    keys = Prefetch("item__keys", keys_in_use(), to_attr="in_use")
    return quiz.quiz_items.select_related("item__exhibit", "item__clause").prefetch_related(keys)


def item_of_club(club: Club) -> QuerySet[QuizItem]:
    """An item in a quiz with all that its evidence shows but the rows: picture, `number` in the quiz,
    `people` who handed it in at their first sitting, the `ladder` of the newest rules, whether a query was
    `upheld` since its key was published."""
    before = QuizItem.objects.filter(quiz=OuterRef("quiz"), position__lte=OuterRef("position"))
    answers = Answer.objects.filter(
        item=OuterRef("item"), sitting__quiz=OuterRef("quiz"), sitting__number=1, marks__current=True
    )
    rules = QuizRules.objects.filter(quiz=OuterRef("quiz")).order_by("-version")
    return (
        QuizItem.objects.filter(quiz__edition__breed__club=club)
        .exclude(quiz__state=Quiz.State.DRAFT)
        .select_related(
            "item__exhibit", "item__clause__edition__breed", "quiz__edition__breed", "quiz__figures"
        )
        .prefetch_related("item__exhibit__renditions", "item__exhibit__permissions")
        .annotate(
            number=_of(before, Count("pk")),
            people=Subquery(answers.order_by().values("item").annotate(n=Count("pk")).values("n")),
            ladder=Subquery(rules.values("ladder")[:1]),
            upheld=Exists(upheld_queries(club).filter(answer__item=OuterRef("item"))),
        )
    )


def entries_in_use(item: Item) -> list[KeyEntry]:
    """The faults of the item's key in use, in order."""
    key = item.keys.exclude(published_at=None).order_by("-version").values("pk")[:1]
    return list(KeyEntry.objects.filter(key=Subquery(key)).select_related("fault", "clause"))


def results_of(quiz_item: QuizItem) -> list[dict[str, Any]]:
    """Counted rows of the faults of one item's key, of first sittings of the quiz, the newest."""
    rows = EntryResult.objects.filter(item=quiz_item.item_id, quiz=quiz_item.quiz_id, first=True)
    return list(
        rows.order_by("-pk").values(
            "place", "fault_id", "outcome", "given_fault__name", "given_level", "x", "y"
        )[:ROWS_READ]
    )


def details_in_room(quiz_item: QuizItem) -> list[dict[str, Any]]:
    """What the current marks of one item keep, of first sittings of the quiz, the newest."""
    marks = Mark.objects.filter(
        current=True,
        answer__item=quiz_item.item_id,
        answer__sitting__quiz=quiz_item.quiz_id,
        answer__sitting__number=1,
    )
    return list(marks.order_by("-pk").values_list("detail", flat=True)[:ROWS_READ])


def alarms_of(quiz_item: QuizItem) -> list[dict[str, Any]]:
    """The same of what was called where the key has nothing."""
    rows = FalseAlarm.objects.filter(item=quiz_item.item_id, quiz=quiz_item.quiz_id, first=True)
    return list(
        rows.order_by("-pk").values("answer_id", "fault__name", "zone", "level", "x", "y")[:ROWS_READ]
    )


def upheld_queries(club: Club) -> QuerySet[Query]:
    """Queries that a mentor upheld and that no newer key has taken up yet."""
    later = Key.objects.filter(item=OuterRef("answer__item"), published_at__gt=OuterRef("settled_at"))
    return (
        Query.objects.filter(upheld=True, answer__item__edition__breed__club=club)
        .exclude(settled_at=None)
        .exclude(Exists(later))
        .order_by("settled_at", "pk")
    )


def upheld_of(item: Item) -> QuerySet[Query]:
    """Upheld queries on one item's key that no newer version has taken up, with who upheld them."""
    queries = upheld_queries(item.edition.breed.club).filter(answer__item=item)
    return queries.select_related("answer__sitting__quiz", "settled_by__person")[:UPHELD_SHOWN]


def _within_reviews(within: Within, answer: str, returned: str) -> Q:
    """Reviews of one quiz, returned on certain days; `answer` and `returned` lead there."""
    found = Q()
    if within.quiz:
        found &= Q(**{f"{answer}sitting__quiz": within.quiz})
    if within.since:
        found &= Q(**{f"{returned}__date__gte": within.since})
    if within.until:
        found &= Q(**{f"{returned}__date__lte": within.until})
    return found


def returned_by_mentor(club: Club, within: Within = EVERYTHING) -> dict[int, tuple[str, int]]:
    """Each mentor's name and how many answers they returned last."""
    rows = (
        Review.objects.filter(_within_reviews(within, "answer__", "returned_at"), mentor__club=club)
        .exclude(returned_at=None)
        .order_by()
        .values_list("mentor", "mentor__person__name")
        .annotate(n=Count("pk"))
    )
    return {mentor: (name, n) for mentor, name, n in rows}


def standing_adjustments(club: Club, within: Within = EVERYTHING) -> list[tuple[int, float]]:
    """(mentor, points) of the adjustments that stand, in answers that the same mentor returned."""
    reviewed = _within_reviews(within, "answer__", "answer__review__returned_at")
    rows = (
        Adjustment.objects.filter(
            reviewed, made_by__club=club, taken_back_at=None, answer__review__mentor=F("made_by")
        )
        .exclude(answer__review__returned_at=None)
        .order_by()
        .values_list("made_by", "points")
    )
    return [(mentor, float(points)) for mentor, points in rows]


def keys_of(quizzes: QuerySet[Quiz]) -> dict[int, Key]:
    """The keys in use of these quizzes' items, by exhibit."""
    keys = keys_in_use().filter(item__quizzes__in=quizzes).select_related("item").distinct()
    return {key.item.exhibit_id: key for key in keys}


def plate_exhibits_of(course: Course) -> dict[int, Exhibit]:
    """The exhibits on the course's plates, with the faults they are said to show."""
    faults = Prefetch("shown_faults", ShownFault.objects.select_related("fault"))
    found = Exhibit.objects.filter(plates__places__module__course=course).distinct()
    return {exhibit.pk: exhibit for exhibit in found.prefetch_related(faults)}


def answers_behind(
    answers: QuerySet[Answer],
    quiz: Quiz | None = None,
    item: int | None = None,
    clause: Clause | None = None,
    missed: bool = False,
) -> QuerySet[Answer]:
    """Of these answers those at a first sitting to one quiz or item, or to a fault of one clause."""
    found = answers.filter(sitting__number=1)
    if quiz:
        found = found.filter(sitting__quiz=quiz)
    if item:
        found = found.filter(item=item)
    if clause:
        rows = EntryResult.objects.filter(answer=OuterRef("pk"), clause=clause)
        found = found.filter(Exists(rows.filter(outcome=EntryResult.Outcome.MISSED) if missed else rows))
    return found
