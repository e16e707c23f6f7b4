"""What marking anew will set in motion, how far it has got, and what it changed."""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass
from datetime import datetime, timedelta
from decimal import Decimal

from django.db.models import Count, Exists, OuterRef, Q, QuerySet, Subquery
from django.utils import timezone

from assessments.models import Answer, Item, Key, Mark, Quiz, QuizRules
from assessments.queries.quizzes import published_key
from assessments.rules import VISIBLE, points_of

# Changes that are listed one by one; the rest is counted.
CHANGES_SHOWN = 12
# A worker takes up its work within seconds; after this it is said that it has not.
PATIENCE = timedelta(minutes=2)


@dataclass(frozen=True)
class Consequences:
    """What a new key or new rules would set in motion."""

    answers: int
    people: int
    adjustments: int


@dataclass(frozen=True)
class Change:
    """So many answers whose mark went from one to another, out of 100 as shown."""

    before: Decimal
    after: Decimal
    answers: int

    @property
    def by(self) -> Decimal:
        """Points won or lost."""
        return self.after - self.before


@dataclass(frozen=True)
class Remarking:
    """How far marking anew has got since `since`, and what it changed so far."""

    done: int
    of: int
    since: datetime
    changes: list[Change]

    @property
    def finished(self) -> bool:
        """Whether every answer has its mark."""
        return self.done >= self.of

    @property
    def stuck(self) -> bool:
        """Whether it has not finished although a worker should have."""
        return not self.finished and timezone.now() - self.since > PATIENCE

    @property
    def changed(self) -> int:
        """Answers whose shown mark is another."""
        return sum(change.answers for change in self.changes)

    @property
    def higher(self) -> int:
        """Answers whose mark rose."""
        return sum(change.answers for change in self.changes if change.by > 0)

    @property
    def lower(self) -> int:
        """Answers whose mark fell."""
        return sum(change.answers for change in self.changes if change.by < 0)

    @property
    def mean_size(self) -> Decimal:
        """Points by which those marks moved, either way, on average."""
        moved = sum(abs(change.by) * change.answers for change in self.changes)
        return round(Decimal(moved) / self.changed, 1) if self.changed else Decimal(0)

    @property
    def largest(self) -> list[Change]:
        """The largest changes."""
        return self.changes[:CHANGES_SHOWN]

    @property
    def not_listed(self) -> int:
        """Answers whose change is smaller than those."""
        return sum(change.answers for change in self.changes[CHANGES_SHOWN:])


def consequences_of_key(item: Item) -> Consequences:
    """Of publishing a new version of an item's key."""
    return _consequences(item.answers.all())


def consequences_of_rules(quiz: Quiz) -> Consequences:
    """Of new rules for a quiz."""
    return _consequences(Answer.objects.filter(sitting__quiz=quiz))


def remarking_of_item(item: Item) -> Remarking | None:
    """After the newest version of an item's key; None if it has but one or nothing was answered."""
    key = published_key(item)
    if key is None or not item.answers.exclude(handed_in_at=None).exists():
        return None
    if not item.keys.filter(version__lt=key.version).exclude(published_at=None).exists():
        return None
    return _remarking(item.answers.all(), Q(marks__key=key), key.published_at, key=key)


def remarking_of_quiz(quiz: Quiz) -> Remarking | None:
    """After the newest version of a quiz's rules; None if it has but one or nothing was answered."""
    rules = quiz.rules_versions.first()
    answers = Answer.objects.filter(sitting__quiz=quiz)
    if rules is None or rules.version == 1 or not answers.exclude(handed_in_at=None).exists():
        return None
    return _remarking(answers, Q(marks__rules=rules), rules.made_at, rules=rules)


def _consequences(answers: QuerySet[Answer]) -> Consequences:
    counts = _marked(answers).aggregate(
        answers=Count("pk", distinct=True),
        people=Count("sitting__trainee", distinct=True),
        adjustments=Count("adjustments", filter=Q(adjustments__taken_back_at=None), distinct=True),
    )
    return Consequences(**counts)


def _marked(answers: QuerySet[Answer]) -> QuerySet[Answer]:
    """Handed in and marked: what waits for a person's mark is not marked anew."""
    marks = Mark.objects.filter(answer=OuterRef("pk"), current=True)
    return answers.exclude(handed_in_at=None).filter(Exists(marks))


def _remarking(
    answers: QuerySet[Answer],
    by_newest: Q,
    since: datetime,
    key: Key | None = None,
    rules: QuizRules | None = None,
) -> Remarking:
    handed_in = _marked(answers)
    if key is not None:
        newest = QuizRules.objects.filter(quiz=OuterRef("sitting__quiz")).order_by("-version").values("pk")
        by_newest &= Q(marks__rules=Subquery(newest[:1]))
    counts = handed_in.aggregate(
        of=Count("pk", distinct=True),
        done=Count("pk", filter=by_newest & Q(marks__current=True), distinct=True),
    )
    return Remarking(**counts, since=since, changes=_changes(handed_in, key, rules))


def _changes(answers: QuerySet[Answer], key: Key | None, rules: QuizRules | None) -> list[Change]:
    """Marks by the new key or rules beside the mark that stood before, alike ones together, largest first."""
    field, version = ("key_id", key) if key is not None else ("rules_id", rules)
    before = Mark.objects.filter(answer=OuterRef("answer"), pk__lt=OuterRef("pk")).order_by("-pk")
    rows = (
        Mark.objects.filter(answer__in=answers.values("pk"), **{field: version.pk})
        .annotate(
            score_before=Subquery(before.values("score")[:1]),
            version_before=Subquery(before.values(field)[:1]),
        )
        .filter(version_before__isnull=False)
        .exclude(version_before=version.pk)
        .values_list("score_before", "score")
    )
    moved = Counter(
        (points_of(old), points_of(new)) for old, new in rows.iterator() if abs(old - new) >= VISIBLE
    )
    changes = [Change(old, new, count) for (old, new), count in moved.items()]
    return sorted(changes, key=lambda change: (-abs(change.by), change.before, change.after))
