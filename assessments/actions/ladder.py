"""Moving a quiz to the severity ladder that its club has now: what it would mean, and the move itself.

A key and an answer keep a level by its place on the ladder, counted from the lightest. A quiz can therefore
move only where every level that its keys use still means the same: it stands at the same place, under its old
name or under one that the educator says is another name for it.
"""

from __future__ import annotations

from collections import Counter
from dataclasses import dataclass

from django.db import transaction
from django.db.models import Q
from django.utils.translation import gettext as _
from django.utils.translation import ngettext

from assessments import snapshots
from assessments.items import kind_of
from assessments.models import Item, Quiz, QuizRules
from assessments.queries.evidence import keys_in_use
from assessments.rules import NotReady, Refused
from assessments.scoring import SeverityLadder
from assessments.tasks import remark_quiz
from courses.models import SeverityScale
from courses.queries.severity import ladder_of
from shared.accounts.models import Person


@dataclass(frozen=True)
class Rung:
    """One place of the two ladders: a name and a weight on each (None beyond its end), items that use it."""

    before: str | None
    before_weight: float | None
    after: str | None
    after_weight: float | None
    items: int

    @property
    def renamed(self) -> bool:
        """Whether a level in use goes by another name."""
        return bool(self.items) and self.after is not None and self.before != self.after


@dataclass(frozen=True)
class LadderMove:
    """What moving would do. `hinders` says in words why it cannot be done; empty when it can."""

    rules: QuizRules
    scale: SeverityScale
    rungs: list[Rung]
    hinders: list[str]

    @property
    def needed(self) -> bool:
        """Whether the two ladders differ at all."""
        return self.rules.ladder != kept_ladder(self.scale)

    @property
    def renamed(self) -> list[Rung]:
        """Levels in use of which the educator has to say that they are the same under another name."""
        return [rung for rung in self.rungs if rung.renamed]


def kept_ladder(scale: SeverityScale) -> dict[str, object]:
    """A club's ladder as it is kept with a quiz."""
    return {
        "labels": list(scale.labels),
        "weights": list(scale.weights),
        "disqualifying": scale.disqualifying,
    }


def planned_move(quiz: Quiz) -> LadderMove:
    """Where the quiz stands and where it would stand; `quiz.edition.breed.club` at hand."""
    rules = quiz.rules_versions.order_by("-version").first()
    scale = ladder_of(quiz.edition.breed.club)
    used = _levels_used(quiz)
    before, after = snapshots.ladder(rules), snapshots.ladder(QuizRules(ladder=kept_ladder(scale)))
    rungs = [
        Rung(*_at(before, place), *_at(after, place), used[place])
        for place in range(max(len(before), len(after)))
    ]
    return LadderMove(rules, scale, rungs, _hinders(quiz, rules, before, after, used))


@transaction.atomic
def take_ladder(*, quiz: Quiz, by: Person, renamed: bool = False) -> QuizRules:
    """A new version of the rules with the club's ladder; its answers are marked anew in the background.

    `renamed` says that levels in use which go by another name are the same ones. NotReady says what hinders.
    """
    Quiz.objects.select_for_update().get(pk=quiz.pk)
    move = planned_move(quiz)
    if not move.needed:
        raise Refused(_("The quiz has the club’s ladder already."))
    if move.hinders:
        raise NotReady(move.hinders)
    if move.renamed and not renamed:
        raise Refused(_("Say first that the levels with another name are the same ones."))
    made = QuizRules.objects.create(
        quiz=quiz,
        version=move.rules.version + 1,
        rules=move.rules.rules,
        ladder=kept_ladder(move.scale),
        made_by=by,
    )
    remark_quiz.enqueue(quiz.pk)
    return made


def _levels_used(quiz: Quiz) -> Counter[int]:
    """How many items use each level: of those it holds, and of those it held when they were answered."""
    items = Item.objects.filter(Q(quizzes=quiz) | Q(answers__sitting__quiz=quiz))
    keys = keys_in_use().filter(item__in=items.values("pk")).select_related("item")
    return Counter(level for key in keys for level in kind_of(key.item).levels_of(key))


def _at(ladder: SeverityLadder, place: int) -> tuple[str, float] | tuple[None, None]:
    return (ladder.labels[place], ladder.weights[place]) if place < len(ladder) else (None, None)


def _hinders(
    quiz: Quiz, rules: QuizRules, before: SeverityLadder, after: SeverityLadder, used: Counter[int]
) -> list[str]:
    words = [found for place in sorted(used) if (found := _hinders_at(place, before, after))]
    begun = quiz.sittings.count()
    if begun and len(after) < len(before):
        said = ngettext(
            "The new ladder has fewer levels, and a sitting was begun with the old one: its answers may use "
            "a level that is gone. Make a new quiz of the same items instead.",
            "The new ladder has fewer levels, and %(n)d sittings were begun with the old one: their answers "
            "may use a level that is gone. Make a new quiz of the same items instead.",
            begun,
        )
        words.append(said % {"n": begun})
    try:
        snapshots.marking_rules(rules, None).check(after)
    except ValueError:
        words.append(
            _(
                "On the new ladder the level as which an unweighed fault counts is missing or disqualifies. "
                "Change that rule first."
            )
        )
    return words


def _hinders_at(place: int, before: SeverityLadder, after: SeverityLadder) -> str | None:
    """Why a level that keys use cannot move, if it cannot."""
    name = before.labels[place] if place < len(before) else str(place + 1)
    if place >= len(after):
        return _("Keys use “%(name)s”, which the new ladder does not have.") % {"name": name}
    if name in after.labels and after.labels.index(name) != place:
        return _("Keys use “%(name)s”, which stands at another place of the new ladder.") % {"name": name}
    if before.disqualifies(place) != after.disqualifies(place):
        return _("Keys use “%(name)s”, and only one of the two ladders disqualifies there.") % {"name": name}
    return None
