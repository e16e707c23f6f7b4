"""Counted rows of marks: written when something is marked, and what keeps them true afterwards."""

from __future__ import annotations

import datetime
import zoneinfo
from collections.abc import Iterable, Iterator, Sequence
from typing import Any

from django.db import transaction
from django.db.models import F, QuerySet

from assessments.actions.facility import count_item_change
from assessments.eye import sees
from assessments.models import Answer, EntryResult, FalseAlarm, Figures, Item, Mark
from shared.accounts.models import Club

Outcome = EntryResult.Outcome
ROWS_AT_ONCE = 500


@transaction.atomic(savepoint=False)
def keep_results(*, item: Item, marks: Sequence[Mark], again: bool) -> None:
    """Write the rows of an item's new marks; `again` says that the answers may have rows of older marks.

    Marks that tell nothing of seeing faults (virtues, a fault that was shown) have none.

    The marks have `answer.sitting` and `rules` at hand.
    """
    if again:
        for model in (EntryResult, FalseAlarm):
            model.objects.filter(answer__in=[mark.answer_id for mark in marks]).delete()
    club = item.edition.breed.club
    seen = [mark for mark in marks if sees(mark.detail)]
    entries = [row for mark in seen for row in _entry_results(mark, club)]
    alarms = [row for mark in seen for row in _false_alarms(mark, club)]
    EntryResult.objects.bulk_create(entries, ROWS_AT_ONCE)
    FalseAlarm.objects.bulk_create(alarms, ROWS_AT_ONCE)
    count_changes(quizzes={mark.answer.sitting.quiz_id for mark in marks})
    count_item_change(item=item, marks=len(marks))


@transaction.atomic(savepoint=False)
def count_changes(*, quizzes: Iterable[int]) -> None:
    """Say that the kept figures of these quizzes lag behind; to be called in what changes their marks."""
    wanted = set(quizzes)
    kept = Figures.objects.filter(quiz__in=wanted)
    if kept.update(changes=F("changes") + 1) < len(wanted):
        Figures.objects.bulk_create([Figures(quiz_id=quiz) for quiz in wanted], ignore_conflicts=True)
        kept.update(changes=F("changes") + 1)


@transaction.atomic
def date_results(*, answers: QuerySet[Answer]) -> None:
    """Take the days of handing in anew, for whoever moves answers in time."""
    for answer in answers.select_related("item__edition__breed__club").iterator(ROWS_AT_ONCE):
        day = _day(answer, answer.item.edition.breed.club)
        for model in (EntryResult, FalseAlarm):
            model.objects.filter(answer=answer).update(day=day)


def outcome_of(match: dict[str, Any] | None, weighs: bool = True) -> int:
    """In a word how one fault fared; `weighs` is false where the rules give nothing for the severity."""
    if match is None:
        return Outcome.MISSED
    off = weighs and match["weigh"] < 1
    if match["name"] == 0:
        return Outcome.OTHERWISE
    if match["name"] < 1:
        return Outcome.PARTLY_OFF if off else Outcome.PARTLY
    return Outcome.OFF if off else Outcome.AS_KEY


def _entry_results(mark: Mark, club: Club) -> Iterator[EntryResult]:
    matches = {match["entry"]: match for match in mark.detail.get("matches", [])}
    weighs = mark.rules.rules.get("weigh", 1) > 0
    for place, entry in enumerate(mark.detail.get("entries", [])):
        match = matches.get(place)
        pin = mark.detail["marks"][match["mark"]] if match else {}
        yield EntryResult(
            **_counted(mark, club),
            place=place,
            clause_id=entry["clause_id"],
            zone=entry["zone"],
            fault_id=entry["fault_id"],
            level=entry["level"],
            outcome=outcome_of(match, weighs),
            given_fault_id=pin.get("fault"),
            given_level=pin.get("level"),
            x=pin.get("x"),
            y=pin.get("y"),
        )


def _false_alarms(mark: Mark, club: Club) -> Iterator[FalseAlarm]:
    for number in mark.detail.get("false_alarms", []):
        pin = mark.detail["marks"][number]
        yield FalseAlarm(
            **_counted(mark, club),
            zone=pin["zone"] or "",
            fault_id=pin["fault"],
            level=pin["level"],
            x=pin["x"],
            y=pin["y"],
        )


def _counted(mark: Mark, club: Club) -> dict[str, Any]:
    sitting = mark.answer.sitting
    return {
        "answer_id": mark.answer_id,
        "club_id": club.pk,
        "quiz_id": sitting.quiz_id,
        "item_id": mark.answer.item_id,
        "trainee_id": sitting.trainee_id,
        "first": sitting.number == 1,
        "day": _day(mark.answer, club),
    }


def _day(answer: Answer, club: Club) -> datetime.date:
    return answer.handed_in_at.astimezone(zoneinfo.ZoneInfo(club.time_zone)).date()
