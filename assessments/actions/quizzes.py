"""Quizzes: making, ordering, opening, and new versions of their rules."""

from __future__ import annotations

from dataclasses import asdict

from django.db import transaction
from django.db.models import Max
from django.utils import timezone
from django.utils.translation import gettext as _

from assessments import snapshots
from assessments.items import kind_of
from assessments.models import Item, Quiz, QuizItem, QuizRules
from assessments.queries.quizzes import published_key
from assessments.rules import NotReady
from assessments.scoring import MarkingRules
from assessments.tasks import remark_quiz
from courses.models import Edition, Place
from courses.queries.severity import ladder_of
from shared.accounts.models import Person

DEFAULT_RULES = asdict(MarkingRules()) | {"reach_in_heights": True}


@transaction.atomic
def make_quiz(
    *, edition: Edition, title: str, by: Person, introduction: str = "", place: Place | None = None
) -> Quiz:
    """A draft with the usual rules and the club's present ladder as version 1."""
    quiz = Quiz.objects.create(edition=edition, title=title, introduction=introduction, place=place)
    scale = ladder_of(edition.breed.club)
    ladder = {
        "labels": list(scale.labels),
        "weights": list(scale.weights),
        "disqualifying": scale.disqualifying,
    }
    QuizRules.objects.create(quiz=quiz, version=1, rules=DEFAULT_RULES, ladder=ladder, made_by=by)
    return quiz


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
def add_item(*, quiz: Quiz, item: Item) -> QuizItem:
    """Put an item at the end of a quiz, once. Open sittings keep the items that they began with."""
    last = quiz.quiz_items.aggregate(last=Max("position"))["last"]
    found, _made = QuizItem.objects.get_or_create(
        quiz=quiz, item=item, defaults={"position": 0 if last is None else last + 1}
    )
    return found


@transaction.atomic
def move_item(*, quiz_item: QuizItem, by: int) -> None:
    """Move an item one place up (-1) or down (+1); at either end nothing changes."""
    rows = list(quiz_item.quiz.quiz_items.select_for_update())
    at = [row.pk for row in rows].index(quiz_item.pk)
    rows.insert(max(0, min(len(rows) - 1, at + by)), rows.pop(at))
    for position, row in enumerate(rows):
        row.position = position
    QuizItem.objects.bulk_update(rows, ["position"])


@transaction.atomic
def remove_item(*, quiz_item: QuizItem) -> None:
    """Take an item out of a quiz; answers given stay on record."""
    quiz_item.delete()


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


def lacking(quiz: Quiz) -> list[str]:
    """What a quiz needs before it can be opened, in words."""
    rows = quiz.quiz_items.select_related("item__exhibit").prefetch_related("item__keys__entries")
    if not rows:
        return [_("Add at least one item.")]
    levels = len(quiz.rules_versions.first().ladder["labels"])
    return [words for row in rows for words in _item_lacks(row.item, levels)]


def _item_lacks(item: Item, levels: int) -> list[str]:
    number = item.exhibit.number
    key = published_key(item)
    if key is None:
        return [_("Exhibit %(n)d: publish its key.") % {"n": number}]
    found = [
        _("Exhibit %(n)d: %(what)s") % {"n": number, "what": words} for words in kind_of(item).lacks(key)
    ]
    if any(entry.level is not None and entry.level >= levels for entry in key.entries.all()):
        found.append(_("Exhibit %(n)d: its key uses a level that this quiz’s ladder lacks.") % {"n": number})
    if item.exhibit.state != "published":
        found.append(_("Exhibit %(n)d: publish the exhibit.") % {"n": number})
    return found
