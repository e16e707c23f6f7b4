"""One examination paper: planned and drawn from what the panel holds fit, sat by simulated eyes, released."""

from __future__ import annotations

import datetime as dt
import uuid
from collections.abc import Iterator, Sequence
from decimal import Decimal

from assessments.actions.candidates import grant_time, invite_candidates
from assessments.actions.paper_results import end_paper, mark_paper, release_results, settle_result
from assessments.actions.paper_sittings import begin_paper, hand_in_paper, save_paper_answer
from assessments.actions.papers import (
    describe_paper,
    draw_paper,
    lay_down_regulations,
    make_paper,
    plan_paper,
    set_paper,
)
from assessments.drawable import bank_of
from assessments.models import Candidate, Paper, PaperSitting
from assessments.queries.paper_results import Decision, outcomes_of
from assessments.rules import PlanRow
from courses.models import Edition
from media_demo.answers import Hall, luck, sent
from media_demo.dates.calendar import Calendar
from media_demo.dates.papers import date_paper, date_regulations
from media_demo.eyes import look
from media_demo.loading import Scenario
from media_demo.people import People
from shared.accounts.models import Person
from shared.accounts.roles import Role

Settled = PaperSitting.Settled
MINUTE = dt.timedelta(minutes=1)
SEED = 7


def hold_paper(scenario: Scenario, people: People, edition: Edition, hall: Hall, now: dt.datetime) -> int:
    """The whole of it; returns how many results were released, none where the panel holds too little fit."""
    calendar, educator = Calendar(people, now), people.first(Role.EDUCATOR).person
    said = dict(scenario.paper["regulations"])
    laid_down = lay_down_regulations(
        club=people.club,
        effective_from=now.date(),
        pass_mark=Decimal(said.pop("pass_mark")),
        by=educator,
        **said,
    )
    date_regulations(laid_down, calendar)
    paper = _made(scenario, edition, educator, calendar)
    if paper is None:
        return 0
    secretary = people.first(Role.SECRETARY).person
    members = [people.by_email[member.email] for member in _candidates(scenario)]
    invited = invite_candidates(paper=paper, members=members, by=secretary)
    grant_time(candidate=invited[-1], minutes=0, percent=scenario.paper["paper"]["extra_percent"])
    by_member = {each.member_id: each for each in Candidate.objects.filter(paper=paper)}
    eyes = {people.by_email[member.email].pk: member for member in _candidates(scenario)}
    for place, member in enumerate(members):
        _sit(scenario, hall, by_member[member.pk], eyes[member.pk], paper.opens_at + (2 + place) * MINUTE)
    end_paper(paper=paper, now=paper.closes_at)
    _settle(paper, scenario.paper["paper"]["settled"], educator)
    results = release_results(paper=paper, by=educator, now=paper.closes_at + 120 * MINUTE)
    date_paper(paper)
    return len(results)


def _candidates(scenario: Scenario) -> Sequence:
    everyone = [member for member in (*scenario.members, *scenario.trainees) if "trainee" in member.roles]
    return everyone[: scenario.paper["paper"]["candidates"]]


def _made(scenario: Scenario, edition: Edition, by: Person, calendar: Calendar) -> Paper | None:
    words = scenario.paper["paper"]
    plan = list(_plan(scenario, edition, calendar.now.date()))
    if not plan:
        return None
    paper = make_paper(edition=edition, title=words["title"], by=by)
    plan_paper(paper=paper, plan=plan)
    opens = calendar.day(1, 9.5)
    describe_paper(
        paper=paper,
        title=words["title"],
        introduction=words["introduction"],
        minutes=words["minutes"],
        opens_at=opens,
        closes_at=opens + 90 * MINUTE,
    )
    draw_paper(paper=paper, seed=SEED)
    set_paper(paper=paper, by=by, now=calendar.day(4))
    paper.refresh_from_db()
    return paper


def _plan(scenario: Scenario, edition: Edition, on: dt.date) -> Iterator[PlanRow]:
    """As the scenario asks, as far as the bank has it."""
    words = scenario.paper["paper"]
    held, kind = bank_of(edition, on).available(), words["kind"]
    for section in edition.sections.filter(number__in=words["sections"]):
        wanted = min(words["sections"][section.number], held[section.pk, kind, False])
        if wanted:
            yield PlanRow(section.pk, kind, False, wanted)
    if sound := min(words["sound"], held[None, kind, True]):
        yield PlanRow(None, kind, True, sound)


def _settle(paper: Paper, note: str, by: Person) -> None:
    """What is borderline goes by the mark after all: from the pass mark on it is a pass."""
    mark_paper(paper=paper)
    for each in outcomes_of(paper):
        if each.proposed == Decision.BORDERLINE:
            settled = Settled.PASS if (each.score or 0) >= each.pass_mark else Settled.REFER
            settle_result(sitting=each.sitting, settled=settled, note=note, by=by)


def _sit(scenario: Scenario, hall: Hall, candidate: Candidate, member: object, begun: dt.datetime) -> None:
    """Two minutes an item; what this eye sees is saved, and all of it handed in."""
    sitting = begin_paper(candidate=candidate, declaration="", now=begun)
    moment = begun
    for answer in sitting.sitting.answers.all():
        moment += 2 * MINUTE
        answer.item, scene = hall.item(answer.item_id)
        pins = look(scenario.eyes[member.eye], scene, luck(member, answer))
        save_paper_answer(answer=answer, sent=sent(pins), seen=0, identity=uuid.uuid4(), now=moment)
    hand_in_paper(sitting=sitting, now=moment + MINUTE)
