"""The one place where the demo's times are set: what was built in a minute is spread over the past months.

Actions take the time at which they happen from the clock. Here, and only here, times are rewritten afterwards,
and nothing but times: every row keeps what an action made of it.
"""

from __future__ import annotations

import datetime as dt
import zoneinfo
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from random import Random

from django.db import connection
from django.db.models import Model, QuerySet

from assessments.actions.results import date_results
from assessments.models import (
    Adjustment,
    Answer,
    AssessorPanel,
    Comment,
    Item,
    Key,
    KeyPanel,
    KeyPanelEvent,
    Mark,
    MarkChange,
    MentoringRules,
    MentoringSession,
    Mentorship,
    Notice,
    Panellist,
    Paper,
    Query,
    Quiz,
    QuizRules,
    Regulations,
    Review,
    SavedStep,
    SecondMarking,
    SignOff,
    Sitting,
)
from courses.models import Course, Edition, Exhibit, Module, Placement, Plate, Progress
from courses.models.choices import State
from media_demo.loading import Scenario
from media_demo.people import People
from shared.accounts.models import Invitation, Person

DAY = dt.timedelta(days=1)
MINUTE = dt.timedelta(minutes=1)
FIRST = dt.datetime.min.replace(tzinfo=dt.UTC)
# Days before today.
FOUNDED = 300
DRAWN, DRAWN_UNTIL = 275, 205
TAUGHT_FROM = 185
DRAFT_LEFT = 3
REVISED = 2
ASKED_TWICE = 4  # a second marking, a session to come
PANEL_ASKED = 20
PANEL_DAYS = 9  # from the invitation to the key
# Of the evening two days ago it is certain, at any hour, that a mentor has had time since.
NEWEST = 2
FIRST_ANSWERS = 170
# What is older has been seen by whom it was for.
NEWS_DAYS = 10


@dataclass
class Calendar:
    """Times of day in the club's own zone, on days counted back from today."""

    people: People
    now: dt.datetime
    chance: Random = field(default_factory=lambda: Random("calendar"))

    def day(self, before: float, hour: float = 10.0) -> dt.datetime:
        """So many days ago, at an hour of the club's day."""
        zone = zoneinfo.ZoneInfo(self.people.club.time_zone)
        local = (self.now - before * DAY).astimezone(zone)
        start = local.replace(hour=0, minute=0, second=0, microsecond=0)
        return start + dt.timedelta(hours=hour)

    def evening(self, before: float) -> dt.datetime:
        """Some time after supper."""
        return self.day(before, self.chance.uniform(18.5, 20.5))

    def not_later(self, moment: dt.datetime, minutes_ago: float) -> dt.datetime:
        """The moment, or a while before now if that is earlier."""
        return min(moment, self.now - minutes_ago * MINUTE)


def spread_out(scenario: Scenario, people: People, now: dt.datetime) -> int:
    """Give every row of the demo a believable time; returns how many rows were given one."""
    calendar = Calendar(people, now)
    return (
        _members(scenario, calendar)
        + _teaching(calendar)
        + _panels(calendar)
        + _sittings(calendar)
        + _reviews(calendar)
        + _reading(calendar)
        + _mentoring(calendar)
    )


def date_regulations(regulations: Regulations, calendar: Calendar) -> int:
    """In force since soon after the club was founded."""
    regulations.made_at = calendar.evening(FOUNDED - 20)
    regulations.effective_from = regulations.made_at.date()
    return _write([regulations], "made_at", "effective_from")


def date_paper(paper: Paper) -> int:
    """What the actions dated by the clock: saves and marks of a paper, invitations, and news of its results."""
    answers = list(Answer.objects.filter(sitting__quiz=paper.quiz_id).select_related("sitting"))
    for answer in answers:
        answer.saved_at = answer.sitting.begun_at + 2 * (answer.position + 1) * MINUTE
    at = {answer.pk: (answer.saved_at, answer.handed_in_at) for answer in answers}
    steps = list(SavedStep.objects.filter(answer__in=at))
    marks = list(Mark.objects.filter(answer__in=at).only("answer_id", "marked_at"))
    changes = list(MarkChange.objects.filter(answer__in=at).only("answer_id", "at"))
    candidates = list(paper.candidates.all())
    paper.refresh_from_db()
    members = [candidate.member_id for candidate in candidates]
    newest = Notice.objects.filter(member__in=members, answer=None, made_at__gt=paper.released_at)
    return (
        _write(answers, "saved_at")
        + _set(steps, [at[step.answer_id][0] for step in steps], "saved_at")
        + _set(marks, [at[mark.answer_id][1] for mark in marks], "marked_at")
        + _set(changes, [at[change.answer_id][1] for change in changes], "at")
        + _set(candidates, [paper.set_at + 10 * MINUTE for _ in candidates], "invited_at")
        + newest.update(made_at=paper.released_at)
        + Paper.objects.filter(pk=paper.pk).update(drawn_at=paper.set_at - 30 * MINUTE)
    )


def _write(rows: Sequence[Model], *names: str) -> int:
    """One statement, sent with the times of all rows: `bulk_update` puts together a CASE for each of them."""
    if rows:
        fields = [rows[0]._meta.get_field(name) for name in names]
        table, quoted = rows[0]._meta.db_table, connection.ops.quote_name
        places = ", ".join(f"{quoted(field.column)} = %s" for field in fields)
        statement = f"UPDATE {quoted(table)} SET {places} WHERE {quoted(rows[0]._meta.pk.column)} = %s"  # noqa: S608
        with connection.cursor() as cursor:
            cursor.executemany(
                statement,
                [
                    [
                        *(
                            field.get_db_prep_save(getattr(row, field.attname), connection)
                            for field in fields
                        ),
                        row.pk,
                    ]
                    for row in rows
                ],
            )
    return len(rows)


def _set(rows: Iterable[Model], moments: Iterable[dt.datetime], *names: str) -> int:
    changed = []
    for row, moment in zip(rows, moments, strict=False):
        for name in names:
            if getattr(row, name) is not None:
                setattr(row, name, moment)
        changed.append(row)
    return _write(changed, *names)


def _members(scenario: Scenario, calendar: Calendar) -> int:
    club = calendar.people.club
    club.created_at = calendar.day(FOUNDED)
    club.save(update_fields=["created_at"])
    members = list(calendar.people.by_email.values())
    officers = len(scenario.members)
    days = [FOUNDED - place for place in range(officers)]
    days += [FIRST_ANSWERS + 14 - place * 0.4 for place in range(len(members) - officers)]
    moments = [calendar.evening(day) for day in days]
    joined = {member.person_id: moment for member, moment in zip(members, moments, strict=True)}
    changed = _set(members, moments, "joined_at")
    changed += _set(
        Person.objects.filter(pk__in=joined), [joined[pk] for pk in sorted(joined)], "date_joined"
    )
    for invitation in Invitation.objects.filter(club=club, accepted_at=None):
        left = next(row["days_left"] for row in scenario.club["invited"] if row["email"] == invitation.email)
        lasts = invitation.expires_at - invitation.created_at
        invitation.expires_at = calendar.now + left * DAY + 2 * MINUTE
        invitation.created_at = invitation.expires_at - lasts
        changed += _write([invitation], "expires_at", "created_at")
    taken = list(Invitation.objects.filter(club=club).exclude(accepted_at=None))
    for invitation in taken:
        invitation.accepted_at = joined[invitation.accepted_by_id]
        invitation.created_at = invitation.accepted_at - 2 * DAY
        invitation.expires_at = invitation.created_at + 14 * DAY
    changed += _write(taken, "accepted_at", "created_at", "expires_at")
    mentorships = Mentorship.objects.filter(mentor__club=club).select_related("trainee")
    begun = [joined[row.trainee.person_id] + DAY for row in mentorships]
    return changed + _set(mentorships, begun, "begun_at")


def _teaching(calendar: Calendar) -> int:
    club, breed = calendar.people.club, calendar.people.breed
    changed = 0
    for edition in Edition.objects.filter(breed=breed):
        noon = dt.datetime.combine(edition.issued_on, dt.time(12), calendar.now.tzinfo)
        edition.created_at = edition.released_at = calendar.not_later(noon, 60)
        changed += _write([edition], "created_at", "released_at")
    exhibits = Exhibit.objects.filter(club=club).order_by("pk")
    changed += _set(
        exhibits, _steps(calendar, DRAWN, DRAWN_UNTIL, exhibits.count()), "created_at", "published_at"
    )
    made = dict(Exhibit.objects.filter(club=club).values_list("pk", "created_at"))
    placements = list(Placement.objects.filter(exhibit__club=club))
    changed += _set(placements, [made[row.exhibit_id] for row in placements], "placed_at")
    ready = {
        Plate.objects.filter(edition__breed=breed, state=State.PUBLISHED): ("published_at", "changed_at"),
        Module.objects.filter(course__edition__breed=breed): ("published_at", "changed_at"),
        Course.objects.filter(edition__breed=breed): ("published_at",),
        Item.objects.filter(edition__breed=breed): ("created_at",),
        Key.objects.filter(item__edition__breed=breed, version=1): ("published_at", "saved_at"),
        QuizRules.objects.filter(quiz__edition__breed=breed): ("made_at",),
        Quiz.objects.filter(edition__breed=breed): ("opened_at",),
    }
    later = list(Key.objects.filter(item__edition__breed=breed, version__gt=1))
    changed += _set(later, [calendar.evening(REVISED) for _ in later], "published_at", "saved_at")
    drafts = list(Plate.objects.filter(edition__breed=breed, state=State.DRAFT))
    changed += _set(drafts, [calendar.evening(DRAFT_LEFT) for _ in drafts], "changed_at")
    for rows, names in ready.items():
        ordered: QuerySet = rows.order_by("pk")
        steps = _steps(calendar, DRAWN_UNTIL - 1, TAUGHT_FROM, ordered.count())
        changed += _set(ordered, steps, *names)
    return changed


def _steps(calendar: Calendar, first: float, last: float, count: int) -> list[dt.datetime]:
    """So many working hours between two days, in order."""
    days = [first + (last - first) * place / max(1, count) for place in range(count)]
    return [calendar.day(day, 9 + 8 * (place % 9) / 9) for place, day in enumerate(days)]


def _panels(calendar: Calendar) -> int:
    """A panel is asked a good week before its key is published; an open one a few days ago."""
    club, chance = calendar.people.club, calendar.chance
    panels = list(KeyPanel.objects.filter(item__edition__breed__club=club).prefetch_related("panellists"))
    keys = Key.objects.filter(panel__in=panels, version=1).values_list("panel", "published_at")
    published = dict(keys)
    seats: list[Panellist] = []
    opened: dict[int, dt.datetime] = {}
    closed: dict[int, dt.datetime] = {}
    for panel in panels:
        until = published.get(panel.pk, calendar.evening(NEWEST))
        panel.opened_at = opened[panel.pk] = until - PANEL_DAYS * DAY
        if panel.closed_at:
            panel.closed_at = closed[panel.pk] = until - 2 * dt.timedelta(hours=1)
        for seat in panel.panellists.all():
            seat.invited_at = panel.opened_at
            if seat.handed_in_at:
                seat.handed_in_at = panel.opened_at + chance.uniform(0.2, 0.8) * PANEL_DAYS * DAY
                seat.saved_at = seat.handed_in_at - MINUTE
            seats.append(seat)
    handed_in = {(seat.panel_id, seat.member_id): seat.handed_in_at for seat in seats}
    events = list(KeyPanelEvent.objects.filter(panel__in=panels).order_by("pk"))
    for event in events:
        if event.what == KeyPanelEvent.What.INVITED:
            event.at = opened[event.panel_id]
        elif event.what == KeyPanelEvent.What.HANDED_IN:
            event.at = handed_in[event.panel_id, event.by_id]
        else:
            event.at = closed[event.panel_id]
    return (
        _write(panels, "opened_at", "closed_at")
        + _write(seats, "invited_at", "saved_at", "handed_in_at")
        + _write(events, "at")
    )


def _sittings(calendar: Calendar) -> int:
    """Each trainee sits in the evening, every week or two; the newest sittings are of the last days."""
    club, chance = calendar.people.club, calendar.chance
    by_trainee: dict[int, list[Sitting]] = defaultdict(list)
    for sitting in Sitting.objects.filter(trainee__club=club).order_by("pk").prefetch_related("answers"):
        by_trainee[sitting.trainee_id].append(sitting)
    answers: list[Answer] = []
    for sittings in by_trainee.values():
        first, last = chance.uniform(FIRST_ANSWERS - 40, FIRST_ANSWERS), chance.uniform(NEWEST, 12)
        for place, sitting in enumerate(sittings):
            share = place / (len(sittings) - 1) if len(sittings) > 1 else 1
            before = first + (last - first) * share if sitting.finished_at else NEWEST
            answers += _sit(sitting, calendar.evening(before), chance)
    handed_in = {answer.pk: answer.handed_in_at for answer in answers}
    saved = {answer.pk: answer.saved_at for answer in answers}
    revised = dict(Key.objects.filter(version__gt=1).values_list("pk", "published_at"))
    marks = list(Mark.objects.filter(answer__in=answers).only("answer_id", "marked_at", "key_id"))
    marked = [max(handed_in[mark.answer_id], revised.get(mark.key_id, FIRST)) for mark in marks]
    steps = list(SavedStep.objects.filter(answer__in=answers))
    changed = (
        _write([sitting for rows in by_trainee.values() for sitting in rows], "begun_at", "finished_at")
        + _write(answers, "saved_at", "handed_in_at")
        + _set(marks, marked, "marked_at")
        + _set(steps, [saved[step.answer_id] for step in steps], "saved_at")
    )
    date_results(answers=Answer.objects.filter(sitting__trainee__club=club).exclude(handed_in_at=None))
    return changed


def _sit(sitting: Sitting, begun: dt.datetime, chance: Random) -> list[Answer]:
    """One answer after the other, each between one and four minutes."""
    sitting.begun_at = moment = begun
    given = [answer for answer in sitting.answers.all() if answer.saved_at]
    for answer in given:
        moment += chance.uniform(1, 4) * MINUTE
        answer.saved_at = moment
        if answer.handed_in_at:
            answer.handed_in_at = moment = moment + 5 * dt.timedelta(seconds=1)
    if sitting.finished_at:
        sitting.finished_at = moment
    return given


def _reviews(calendar: Calendar) -> int:
    """A mentor looks at a sitting's answers in one go, a few days later; queries take another day or two."""
    club, chance = calendar.people.club, calendar.chance
    reviews = list(
        Review.objects.filter(answer__sitting__trainee__club=club)
        .select_related("answer__sitting")
        .order_by("answer__sitting__begun_at", "answer__position")
    )
    wait: dict[int, float] = defaultdict(lambda: chance.uniform(0.7, 3.5))
    opened: dict[int, dt.datetime] = {}
    for review in reviews:
        answer = review.answer
        looked_at = answer.handed_in_at + wait[answer.sitting_id] * DAY
        review.opened_at = opened[answer.pk] = calendar.not_later(looked_at, 600 - 5 * answer.position)
        if review.returned_at:
            review.returned_at = review.opened_at + 4 * MINUTE
    changed = _write(reviews, "opened_at", "returned_at")
    by_hand = list(Mark.objects.filter(answer__in=opened, detail__has_key="given"))
    changed += _set(by_hand, [opened[mark.answer_id] + 3 * MINUTE for mark in by_hand], "marked_at")
    queries = list(Query.objects.filter(answer__in=opened))
    asked = {row.answer_id: calendar.not_later(opened[row.answer_id] + DAY, 300) for row in queries}
    for query in queries:
        query.asked_at = asked[query.answer_id]
        query.settled_at = query.settled_at and calendar.not_later(query.asked_at + DAY, 120)
    changed += _write(queries, "asked_at", "settled_at")
    settled = {query.answer_id: query.settled_at for query in queries if query.settled_at}
    late = [review for review in reviews if review.answer_id in settled and review.returned_at]
    changed += _set(late, [settled[review.answer_id] for review in late], "returned_at")
    return changed + _said(opened, settled) + _news(calendar)


def _said(opened: Mapping[int, dt.datetime], settled: Mapping[int, dt.datetime]) -> int:
    """What a mentor said while looking at an answer; the last of it where a query was answered."""
    changed = 0
    for model in (Comment, Adjustment, Notice):
        rows = list(model.objects.filter(answer__in=opened).order_by("pk"))
        last = {row.answer_id: row.pk for row in rows}
        moments = [
            settled[row.answer_id]
            if row.answer_id in settled and last[row.answer_id] == row.pk
            else opened[row.answer_id] + 3 * MINUTE
            for row in rows
        ]
        changed += _set(rows, moments, "made_at")
    return changed


def _news(calendar: Calendar) -> int:
    """Notices of marks that changed are as new as the key that changed them; older ones have been seen."""
    notices = Notice.objects.filter(member__club=calendar.people.club)
    revised = list(notices.filter(by=None))
    changed = _set(revised, [calendar.evening(REVISED) for _ in revised], "made_at")
    seen = list(notices.filter(made_at__lt=calendar.day(NEWS_DAYS)))
    for notice in seen:
        notice.seen_at = notice.made_at + DAY
    return changed + _write(seen, "seen_at")


def _mentoring(calendar: Calendar) -> int:
    """Sessions and sign-offs are recorded on their evening; what is marked twice or by a panel, of late."""
    club = calendar.people.club
    rules = list(MentoringRules.objects.filter(club=club))
    changed = _set(rules, [calendar.evening(FOUNDED - 5) for _ in rules], "made_at")
    for session in MentoringSession.objects.filter(mentor__club=club):
        evening = calendar.evening(0 if session.held_on is None else _days_ago(calendar, session.held_on))
        session.made_at = session.recorded_at = evening
        if session.held_on is None:
            session.made_at, session.recorded_at = calendar.evening(ASKED_TWICE), None
        changed += _write([session], "made_at", "recorded_at")
        rows = list(session.trainees.exclude(own_at=None))
        changed += _set(rows, [evening + DAY for _ in rows], "own_at")
    for signed in SignOff.objects.filter(trainee__club=club):
        signed.made_at = calendar.evening(_days_ago(calendar, signed.on))
        signed.taken_back_at = signed.taken_back_at and signed.made_at + 3 * DAY
        changed += _write([signed], "made_at", "taken_back_at")
    for marking in SecondMarking.objects.filter(answer__sitting__trainee__club=club):
        marking.asked_at = calendar.evening(ASKED_TWICE)
        marking.first_at = marking.first_at and marking.asked_at
        marking.second_at = marking.second_at and marking.asked_at + DAY
        changed += _write([marking], "asked_at", "first_at", "second_at")
    for panel in AssessorPanel.objects.filter(sitting__trainee__club=club):
        panel.asked_at = calendar.evening(PANEL_ASKED)
        panel.decided_at, panel.told_at = panel.asked_at + 4 * DAY, panel.asked_at + 6 * DAY
        changed += _write([panel], "asked_at", "decided_at", "told_at")
    told = list(Notice.objects.filter(member__club=club, answer=None).exclude(by=None))
    changed += _set(told, [calendar.evening(ASKED_TWICE) for _ in told], "made_at")
    return changed + _mark_changes(calendar)


def _mark_changes(calendar: Calendar) -> int:
    """The record of marks has the times of what it tells of."""
    rows = list(
        MarkChange.objects.filter(answer__sitting__trainee__club=calendar.people.club).select_related(
            "answer__review"
        )
    )
    revised, asked = calendar.evening(REVISED), calendar.evening(ASKED_TWICE)
    kind = MarkChange.Kind

    def moment(row: MarkChange) -> dt.datetime:
        if row.kind == kind.MARKED:
            return row.answer.handed_in_at
        if row.kind == kind.MARKED_ANEW:
            return max(row.answer.handed_in_at, revised)
        if row.kind in (kind.ADJUSTED, kind.TAKEN_BACK, kind.BY_HAND) and hasattr(row.answer, "review"):
            return row.answer.review.returned_at or row.answer.review.opened_at
        return asked

    return _set(rows, [moment(row) for row in rows], "at")


def _days_ago(calendar: Calendar, day: dt.date) -> int:
    return (calendar.day(0).date() - day).days


def _reading(calendar: Calendar) -> int:
    """A module is read in the days before its quiz is answered."""
    club = calendar.people.club
    sat = {
        (sitting.trainee.person_id, sitting.quiz.place.module_id): sitting.begun_at
        for sitting in Sitting.objects.filter(trainee__club=club, quiz__place__isnull=False)
        .select_related("trainee", "quiz__place")
        .order_by("-begun_at")
    }
    rows = list(Progress.objects.filter(module__course__edition__breed__club=club))
    for row in rows:
        read = sat.get((row.person_id, row.module_id), calendar.evening(2)) - 30 * MINUTE
        row.begun_at, row.last_at = read - 20 * MINUTE, read
        row.finished_at = row.finished_at and read
    return _write(rows, "begun_at", "last_at", "finished_at")
