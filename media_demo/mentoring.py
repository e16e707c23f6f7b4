"""Beside the answers: how the club mentors, sessions and sign-offs, marks given twice, a panel."""

from __future__ import annotations

import datetime as dt
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from decimal import Decimal
from random import Random
from typing import Any

from assessments.actions.mentoring import (
    End,
    hold_session,
    plan_session,
    say_own_word,
    set_mentoring_rules,
    sign_off,
    take_back_sign_off,
)
from assessments.actions.panels import Reason, ask_assessors, decide, tell_trainee
from assessments.actions.second import (
    ask_second_marking,
    give_second_mark,
    pin_second_comment,
    settle_second_marking,
)
from assessments.models import Answer, SecondMarking, Sitting
from assessments.queries.answers import reviewable_by
from assessments.rules import shown_points
from courses.models import Module
from media_demo.eyes import Eye
from media_demo.loading import Scenario
from media_demo.people import People
from shared.accounts.models import Membership
from shared.accounts.roles import Role

# House figures of the simulation, without a source: by how many points a mentor who weighs one level heavier marks
# lower, and how far two marks of one answer lie apart beside that.
POINTS_PER_LEVEL, POINTS_SD = 20, 3.5


@dataclass
class Mentoring:
    """Both mentors beside their trainees; who is not in a smaller club is left out."""

    scenario: Scenario
    people: People
    today: dt.date

    def all_of_it(self) -> str:
        """In words how much there is."""
        rules = self._said["rules"]
        educator = self.people.first(Role.EDUCATOR)
        begun = self._day(rules["days_ago"])
        fields = {name: value for name, value in rules.items() if name != "days_ago"}
        set_mentoring_rules(club=self.people.club, by=educator, effective_from=begun, **fields)
        sessions = sum(self._meet(row) for row in self._said["session"])
        signed = sum(self._sign(row) for row in self._said["sign_off"])
        twice = sum(self._mark_twice(row, educator) for row in self._said["second"])
        twice += self._mark_lot_twice(self._said["lot"], educator, Decimal(str(rules["near"])))
        self._ask_a_panel(self._said["panel"], educator)
        return f"{sessions} sessions, {signed} sign-offs, {twice} second markings"

    def _meet(self, row: Mapping[str, Any]) -> bool:
        mentor = self.people.by_email[row["mentor"]]
        trainees = list(self._present(row["ends"]))
        if not trainees:
            return False
        session = plan_session(
            mentor=mentor,
            trainees=trainees,
            subject=row["subject"],
            planned_for=self._day(row["days_ago"]),
            group=row.get("group", False),
        )
        if "minutes" not in row:
            return True
        rows = {each.pk: each for each in session.trainees.select_related("trainee__person")}
        ends = {pk: End(*row["ends"][each.trainee.person.email]) for pk, each in rows.items()}
        held_on = self._day(row["days_ago"])
        session = hold_session(session=session, held_on=held_on, minutes=row["minutes"], ends=ends)
        for each in rows.values():
            word = row.get("own_word", {}).get(each.trainee.person.email)
            if word:
                each.refresh_from_db()
                say_own_word(row=each, own_session=word[0], own_mentor=word[1])
        return True

    def _sign(self, row: Mapping[str, Any]) -> bool:
        edition = self.people.breed.editions.get(state="released")
        wanted = next((text for text in self.scenario.modules if text.key == row["module"]), None)
        trainee = self.people.by_email.get(row["trainee"])
        if trainee is None or wanted is None:
            return False
        module = Module.objects.get(course__edition=edition, title=wanted.title)
        mentor = self.people.by_email[row["mentor"]]
        on = self._day(row["days_ago"])
        signed = sign_off(trainee=trainee, mentor=mentor, of=module, on=on, words=row["words"])
        if "taken_back" in row:
            take_back_sign_off(signed=signed, by=mentor, reason=row["taken_back"])
        return True

    def _mark_twice(self, row: Mapping[str, Any], educator: Membership) -> bool:
        first, second = (self.people.by_email[row[name]] for name in ("first", "second"))
        found = self._returned(first, row["trainee"])
        if found is None:
            return False
        by = first if row.get("asked_by_first") else educator
        marking = ask_second_marking(answer=found, second=second, by=by, why=row["why"])
        if "less" in row:
            pin_second_comment(marking=marking, text=row["comment"])
            points = max(Decimal(0), shown_points(found.current_marks[0]) - Decimal(row["less"]))
            give_second_mark(marking=marking, points=points, words=row["words"])
        return True

    def _mark_lot_twice(self, row: Mapping[str, Any], educator: Membership, near: Decimal) -> int:
        """One answer of each trainee of the two mentors that no row of its own has; how many."""
        named = {each["trainee"] for each in self._said["second"]}
        eyes = {member.email: self.scenario.eyes[member.eye] for member in self.scenario.members}
        lot = [
            (one, other, email)
            for one, other in (row["mentors"], reversed(row["mentors"]))
            for email in next(each.mentors for each in self.scenario.members if each.email == one)
            if email not in named and email in self.people.by_email
        ]
        done = 0
        for one, other, email in lot:
            found = self._returned(self.people.by_email[one], email)
            if found is None:
                continue
            second = self.people.by_email[other]
            marking = ask_second_marking(answer=found, second=second, by=educator, why=row["why"])
            points = _own_mark(shown_points(found.current_marks[0]), eyes[other], Random(f"{other} {email}"))
            marking = give_second_mark(marking=marking, points=points, words=row["words"])
            if abs(marking.first_points - points) <= near:
                stands = SecondMarking.Stands.FIRST
                settle_second_marking(marking=marking, by=educator, stands=stands, reason=row["reason"])
            done += 1
        return done

    def _returned(self, mentor: Membership, email: str) -> Answer | None:
        """An answer that the mentor gave back without an adjustment, of middling marks."""
        found = reviewable_by(mentor).filter(sitting__trainee__person__email=email, marks__current=True)
        found = found.exclude(review__returned_at=None).filter(adjustments=None, item__kind="mark-the-faults")
        return found.filter(marks__score__range=(0.4, 0.95), query=None).order_by("pk").first()

    def _ask_a_panel(self, row: Mapping[str, Any], educator: Membership) -> None:
        sitting = (
            Sitting.objects.filter(trainee__person__email=row["trainee"], trainee__club=self.people.club)
            .exclude(finished_at=None)
            .select_related("quiz", "trainee")
            .order_by("pk")
            .first()
        )
        if sitting is None:
            return
        assessors = [self.people.by_email[email] for email in row["found"]]
        panel = ask_assessors(sitting=sitting, assessors=assessors, by=educator)
        answers = list(sitting.answers.order_by("position"))
        for seat in panel.seats.select_related("assessor__person"):
            passes, text, place = row["found"][seat.assessor.person.email]
            decide(seat=seat, passes=passes, reasons=[Reason(text, answer=answers[place])])
        words = [Reason(text, answer=answers[place]) for text, place in row["told"]]
        tell_trainee(panel=panel, words=words, by=educator)

    def _present(self, emails: Mapping[str, Any]) -> Iterator[Membership]:
        return (self.people.by_email[email] for email in emails if email in self.people.by_email)

    def _day(self, days_ago: int) -> dt.date:
        return self.today - dt.timedelta(days=days_ago)

    @property
    def _said(self) -> Mapping[str, Any]:
        return self.scenario.mentoring


def _own_mark(by_rules: Decimal, eye: Eye, chance: Random) -> Decimal:
    """What a mentor with this eye gives of their own, to half a point."""
    found = float(by_rules) - POINTS_PER_LEVEL * eye.severity_bias + chance.gauss(0, POINTS_SD)
    return Decimal(round(2 * min(100.0, max(0.0, found)))) / 2
