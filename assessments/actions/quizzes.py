"""Quizzes: making, ordering, opening, and new versions of their rules."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import asdict

from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import snapshots
from assessments.actions.items import make_item
from assessments.actions.ladder import kept_ladder
from assessments.models import Item, Quiz, QuizItem, QuizRules
from assessments.queries.readiness import lacking
from assessments.rules import NotReady, Refused
from assessments.scoring import MarkingRules
from assessments.tasks import remark_quiz
from courses.models import Edition, Exhibit, Place
from courses.queries.severity import ladder_of
from shared.accounts.models import Person
from shared.web.limits import ITEMS_PER_QUIZ

DEFAULT_RULES = asdict(MarkingRules()) | {"reach_in_heights": True}


@transaction.atomic
def make_quiz(
    *, edition: Edition, title: str, by: Person, introduction: str = "", place: Place | None = None
) -> Quiz:
    """A draft with the usual rules and the club's present ladder as version 1."""
    if place is not None:
        _check_place(place, edition)
    quiz = Quiz.objects.create(edition=edition, title=title, introduction=introduction, place=place)
    ladder = kept_ladder(ladder_of(edition.breed.club))
    QuizRules.objects.create(quiz=quiz, version=1, rules=DEFAULT_RULES, ladder=ladder, made_by=by)
    return quiz


@transaction.atomic
def mark_the_rest(*, quiz: Quiz) -> None:
    """Set the marking anew going again where it stood still; what is done already is passed over."""
    remark_quiz.enqueue(quiz.pk)


def _check_place(place: Place, edition: Edition) -> None:
    if place.kind != Place.Kind.QUIZ:
        raise Refused(_("This place of the module is not one for a quiz."))
    if place.module.course.edition_id != edition.pk:
        raise Refused(_("The module is of another edition than the quiz."))


@transaction.atomic
def change_rules(*, quiz: Quiz, rules: MarkingRules, reach_in_heights: bool, by: Person) -> QuizRules:
    """A new version of the rules; answers already marked are marked anew in the background."""
    latest = quiz.rules_versions.select_for_update().first()
    rules.check(snapshots.ladder(latest))
    version = QuizRules.objects.create(
        quiz=quiz,
        version=latest.version + 1,
        rules=asdict(rules) | {"reach_in_heights": reach_in_heights},
        ladder=latest.ladder,
        made_by=by,
    )
    remark_quiz.enqueue(quiz.pk)
    return version


@transaction.atomic
def describe_quiz(*, quiz: Quiz, title: str, introduction: str) -> None:
    """Change what a quiz is called and how it introduces itself."""
    quiz.title, quiz.introduction = title, introduction
    quiz.save(update_fields=["title", "introduction"])


@transaction.atomic
def give_place(*, quiz: Quiz, place: Place | None) -> None:
    """Let a quiz stand at a module's place for one, or at none."""
    if place is not None:
        _check_place(place, quiz.edition)
        if Quiz.objects.filter(place=place).exclude(pk=quiz.pk).exists():
            raise Refused(_("Another quiz stands at this place already."))
    quiz.place = place
    quiz.save(update_fields=["place"])


@transaction.atomic
def add_item(*, quiz: Quiz, item: Item, at: int | None = None) -> QuizItem:
    """Put an item into a quiz, once: at the end or at a position. Open sittings keep what they began with."""
    if item.edition_id != quiz.edition_id:
        raise Refused(_("The item is of another edition than the quiz."))
    rows = list(quiz.quiz_items.select_for_update())
    known = next((row for row in rows if row.item_id == item.pk), None)
    if known is not None:
        return known
    if len(rows) >= ITEMS_PER_QUIZ:
        raise Refused(_("A quiz holds at most %(n)d items.") % {"n": ITEMS_PER_QUIZ})
    made = QuizItem.objects.create(quiz=quiz, item=item, position=len(rows))
    rows.insert(len(rows) if at is None else max(0, min(at, len(rows))), made)
    _number(rows)
    return made


@transaction.atomic
def add_exhibits(*, quiz: Quiz, exhibits: Iterable[Exhibit], by: Person) -> list[QuizItem]:
    """An item for each exhibit at the end of a quiz: the one it has in this edition, else a new one."""
    return [add_item(quiz=quiz, item=_item_for(quiz.edition, exhibit, by)) for exhibit in exhibits]


def _item_for(edition: Edition, exhibit: Exhibit, by: Person) -> Item:
    usable = Item.objects.filter(edition=edition, exhibit=exhibit, kind="mark-the-faults")
    usable = usable.exclude(state=Item.State.RETIRED)
    return usable.order_by("-pk").first() or make_item(edition=edition, exhibit=exhibit, by=by)


@transaction.atomic
def move_item(*, quiz_item: QuizItem, by: int) -> None:
    """Move an item up (-1) or down (+1), or further; at either end nothing changes."""
    rows = list(quiz_item.quiz.quiz_items.select_for_update())
    at = [row.pk for row in rows].index(quiz_item.pk)
    rows.insert(max(0, min(len(rows) - 1, at + by)), rows.pop(at))
    _number(rows)


def _number(rows: list[QuizItem]) -> None:
    for position, row in enumerate(rows):
        row.position = position
    QuizItem.objects.bulk_update(rows, ["position"])


@transaction.atomic
def remove_item(*, quiz_item: QuizItem) -> None:
    """Take an item out of a quiz; answers given stay on record."""
    quiz_item.delete()


@transaction.atomic
def remove_quiz(*, quiz: Quiz) -> None:
    """Remove a quiz that nobody has begun; its items and their keys stay."""
    if quiz.sittings.exists():
        raise Refused(_("This quiz has been answered: close it instead. The answers stay on record."))
    quiz.delete()


@transaction.atomic
def open_quiz(*, quiz: Quiz) -> None:
    """Let trainees answer. NotReady says what is missing."""
    missing = lacking(quiz)
    if missing:
        raise NotReady(missing)
    quiz.state = Quiz.State.OPEN
    quiz.opened_at = quiz.opened_at or timezone.now()
    quiz.save(update_fields=["state", "opened_at"])


@transaction.atomic
def close_quiz(*, quiz: Quiz) -> None:
    """No new sittings; begun ones may be finished."""
    quiz.state = Quiz.State.CLOSED
    quiz.save(update_fields=["state"])
