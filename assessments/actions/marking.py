"""Marks by the rules: of a new answer, and of old ones when a key or the rules change."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass

from django.db import transaction
from django.db.models import Exists, OuterRef, QuerySet
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments.actions.changes import marked, marked_anew
from assessments.actions.results import keep_results
from assessments.items import Marked, kind_of
from assessments.models import Adjustment, Answer, Item, Key, Mark, Notice, Quiz, QuizRules, Review
from assessments.queries.quizzes import ENTRIES
from assessments.rules import VISIBLE

# Answers that one transaction marks anew: short enough not to keep other writers waiting.
CHUNK = 200


@dataclass(frozen=True)
class Remarked:
    """How much a marking anew did."""

    answers: int
    changed: int


@transaction.atomic(savepoint=False)
def mark_answer(*, answer: Answer) -> Mark:
    """Mark one handed-in answer by the key in use and the quiz's newest rules."""
    key = key_in_use(answer.item)
    rules = answer.sitting.quiz.rules_versions.first()
    mark = _mark(answer.item, key, rules, [answer])[0]
    marked(marks=[mark])
    return mark


def key_in_use(item: Item) -> Key:
    """The newest published key with its entries."""
    published = Key.objects.filter(item=item).exclude(published_at=None).prefetch_related(ENTRIES)
    key = published.order_by("-version")[:1].get()
    key.item = item
    return key


def remark(
    *, item: Item, quiz_id: int | None = None, progress: Callable[[int], None] | None = None
) -> Remarked:
    """Mark all handed-in answers of an item anew (of one quiz, or of all), in chunks that each stand alone.

    Old marks stay on record. Whoever's shown mark changes is told. Interrupted, it can be run again: answers
    that already have a mark by the newest key and rules are passed over. Of what is marked by hand, the marks
    given are worked out by the new key; what waits for a person goes on waiting.
    """
    key = key_in_use(item)
    done = changed = 0
    for rules in _rules_with_answers(item, quiz_id):
        while chunk := list(_not_yet_marked_by(item, key, rules)[:CHUNK]):
            changed += _remark_chunk(item, key, rules, chunk)
            done += len(chunk)
            if progress:
                progress(done)
    return Remarked(done, changed)


def _rules_with_answers(item: Item, quiz_id: int | None) -> Iterator[QuizRules]:
    quizzes = item.answers.exclude(handed_in_at=None).values_list("sitting__quiz", flat=True).distinct()
    for quiz in sorted(set(quizzes)):
        if quiz_id in (None, quiz):
            yield QuizRules.objects.filter(quiz=quiz).order_by("-version")[:1].get()


def _not_yet_marked_by(item: Item, key: Key, rules: QuizRules) -> QuerySet[Answer]:
    answers = Answer.objects.filter(item=item, sitting__quiz_id=rules.quiz_id)
    if kind_of(item).by_hand:
        answers = answers.filter(Exists(Mark.objects.filter(answer=OuterRef("pk"), current=True)))
    return (
        answers.exclude(handed_in_at=None)
        .exclude(Exists(Mark.objects.filter(answer=OuterRef("pk"), current=True, key=key, rules=rules)))
        .select_related("sitting__quiz")
        .order_by("pk")
    )


@transaction.atomic
def _remark_chunk(item: Item, key: Key, rules: QuizRules, chunk: list[Answer]) -> int:
    changed = 0
    before = {mark.answer_id: mark for mark in Mark.objects.filter(answer__in=chunk, current=True)}
    marks = _mark(item, key, rules, chunk)
    marked(marks=[mark for mark in marks if mark.answer_id not in before])
    for mark in marks:
        old = before.get(mark.answer_id)
        if old is not None and abs(old.score - mark.score) >= VISIBLE:
            changed += 1
            _tell(mark.answer, old.score, mark.score)
            marked_anew(old=old, new=mark, adjustment=_ask_the_mentor_again(mark.answer))
    return changed


def _mark(item: Item, key: Key, rules: QuizRules, answers: Sequence[Answer]) -> list[Mark]:
    """Marks by this key and these rules."""
    kind = kind_of(item)
    if kind.by_hand:
        kept = dict(
            Mark.objects.filter(answer__in=answers, current=True).values_list("answer", "detail__given")
        )
        results = iter([kind.mark_given(key, kept[answer.pk]) for answer in answers])
    else:
        results = kind.mark(key, rules, [answer.content for answer in answers])
    return keep_marks(item=item, key=key, rules=rules, answers=answers, results=results)


@transaction.atomic(savepoint=False)
def keep_marks(
    *, item: Item, key: Key, rules: QuizRules, answers: Sequence[Answer], results: Iterable[Marked]
) -> list[Mark]:
    """New current marks of these answers with their counted rows, in as many writes as for one."""
    marks = [_as_mark(answer, key, rules, each) for answer, each in zip(answers, results, strict=True)]
    again = Mark.objects.filter(answer__in=answers, current=True).update(current=False)
    Mark.objects.bulk_create(marks)
    keep_results(item=item, marks=marks, again=again > 0)
    return marks


def _as_mark(answer: Answer, key: Key, rules: QuizRules, result: Marked) -> Mark:
    return Mark(
        answer=answer,
        key=key,
        rules=rules,
        score=min(1.0, max(0.0, result.score)),
        seeing=result.seeing,
        naming=result.naming,
        weighing=result.weighing,
        detail=result.detail,
        disqualification=result.detail.get("cap_reason") or "",
    )


def _ask_the_mentor_again(answer: Answer) -> Adjustment | None:
    """An adjustment was made to the mark that it stood beside: it does not carry over to another."""
    standing = answer.adjustments.filter(taken_back_at=None).first()
    if standing is not None:
        answer.adjustments.filter(pk=standing.pk).update(taken_back_at=timezone.now())
        Review.objects.filter(answer=answer).update(returned_at=None)
    return standing


def _tell(answer: Answer, old: float, new: float) -> None:
    if answer.sitting.quiz.purpose == Quiz.Purpose.PAPER:
        return  # A paper's marks are released by its educator.
    words = _("A key or the rules changed: your mark was %(old).1f and is now %(new).1f of 100.")
    Notice.objects.create(
        member_id=answer.sitting.trainee_id, answer=answer, text=words % {"old": old * 100, "new": new * 100}
    )
