"""A paper from its plan to its results, with thirty candidates, through the pages that people use."""

from __future__ import annotations

import json
import random
import re
import uuid

import pytest
from django.test import Client
from django.utils import timezone

from assessments.actions.papers import lay_down_regulations
from assessments.models import Candidate, Mark, Paper, PaperResult, PaperSitting
from assessments.statistics.cut_score import decide
from assessments.statistics.item_analysis import analyse
from tests import makers
from tests.makers.papers import KIND, make_bank, right, wrong

CLUB = "/clubs/skerry-drover"
CANDIDATES = 30
ABILITY = [0.35 + 0.6 * n / (CANDIDATES - 1) for n in range(CANDIDATES)]  # chance to answer an item right


def browser(member) -> Client:
    client = Client()
    client.force_login(member.person, "django.contrib.auth.backends.ModelBackend")
    return client


def sit(member, paper: Paper, chance: random.Random, ability: float, hands_in: bool = True) -> None:
    """One candidate's way: declaration, each item right or wrong or left alone, the overview, handing in."""
    client, front = browser(member), f"{CLUB}/papers/{paper.pk}/"
    assert "approves nobody" in client.get(front).content.decode()
    client.post(f"{front}begin/", {"accept": "on"})
    answers = list(PaperSitting.objects.get(candidate__member=member).sitting.answers.all())
    for answer in answers:
        if chance.random() < 0.05:
            continue
        content = right(answer) if chance.random() < ability else wrong(answer)
        body = {"content": content, "seen": 0, "identity": str(uuid.UUID(int=chance.getrandbits(128)))}
        sent = json.dumps(body)
        for _twice in range(2 if chance.random() < 0.1 else 1):
            address = f"{front}{answer.position + 1}/save/"
            assert client.post(address, sent, content_type="application/json").json()["revision"] == 1
    if hands_in:
        client.post(f"{front}hand-in/")
        assert "stay sealed" in client.get(front).content.decode()


@pytest.fixture
def trainees(cast):
    return [makers.make_trainee(cast.club, f"Trainee {n}") for n in range(CANDIDATES)]


def test_a_paper_from_plan_to_result(cast, trainees):
    edition, chance = makers.make_edition(cast.club), random.Random(6)
    make_bank(edition, cast.educator, 3, 3, 3)
    lay_down_regulations(
        club=cast.club,
        effective_from=timezone.localdate(),
        pass_mark=70,
        attempts=2,
        wait_days=30,
        discloses_mark=True,
        basis="Minute 4",
        by=cast.educator.person,
    )
    educator, secretary = cast.client("educator"), cast.client("secretary")

    # The plan, the draw, a swap, the times, set.
    educator.post(f"{CLUB}/papers/new/", {"edition": edition.pk, "title": "Paper of the spring"})
    paper = Paper.objects.get()
    at = f"{CLUB}/papers/{paper.pk}/"
    five, six = (edition.sections.get(number=number).pk for number in "56")
    plan = {f"{five}-{KIND}-faults": 2, f"{six}-{KIND}-faults": 2, f"0-{KIND}-sound": 2}
    educator.post(f"{at}plan/", plan | {"draw": "1"})
    first = paper.quiz.items.first()
    educator.post(f"{at}swap/{first.pk}/")
    assert not paper.quiz.items.filter(pk=first.pk).exists()
    now = timezone.localtime()
    window = {
        "opens_at": f"{now - timezone.timedelta(hours=1):%Y-%m-%dT%H:%M}",
        "closes_at": f"{now + timezone.timedelta(hours=2):%Y-%m-%dT%H:%M}",
    }
    educator.post(f"{at}edit/", {"title": "Paper of the spring", "minutes": 25, **window})
    assert "Set. Candidates see it now" in educator.post(f"{at}set/", follow=True).content.decode()

    # Thirty are invited by the secretary, one is granted more time, one writes on paper.
    secretary.post(f"{at}candidates/", {"members": [member.pk for member in trainees]})
    by_member = {candidate.member_id: candidate for candidate in Candidate.objects.all()}
    assert len(by_member) == CANDIDATES
    slow, on_paper, away = trainees[0], trainees[1], trainees[2]
    number = by_member[slow.pk].number
    secretary.post(f"{at}candidates/{number}/time/", {"extra_minutes": "0", "extra_percent": "20"})

    # They sit; one goes away and is timed out; one is typed in by the secretary.
    for member, ability in zip(trainees, ABILITY, strict=True):
        if member is not on_paper:
            sit(member, paper, chance, ability, hands_in=member is not away)
    sitting = PaperSitting.objects.get(candidate__member=slow)
    assert sitting.ends_at - sitting.sitting.begun_at == timezone.timedelta(minutes=30)
    typed = f"{at}typed/{by_member[on_paper.pk].number}/"
    secretary.post(f"{at}candidates/{by_member[on_paper.pk].number}/type/")
    for answer in PaperSitting.objects.get(candidate__member=on_paper).sitting.answers.all():
        body = {"content": right(answer), "seen": 0, "identity": str(uuid.uuid4())}
        secretary.post(
            f"{typed}{answer.position + 1}/save/", json.dumps(body), content_type="application/json"
        )
    secretary.post(f"{typed}hand-in/")

    # Nothing leaves before the release, which waits for the one who is still sitting.
    page = educator.post(f"{at}results/release/", follow=True).content.decode()
    assert "One candidate is still sitting." in page
    PaperSitting.objects.filter(candidate__member=away).update(
        ends_at=timezone.now() - timezone.timedelta(minutes=2)
    )
    page = educator.get(f"{at}results/").content.decode()
    assert "when the time was over" in page.lower()
    assert "Trainee" not in re.sub(r"<script.*?</script>", "", page, flags=re.S)
    assert not any(member.notices.exists() for member in trainees)

    # What is proposed rests on the scores alone: worked out anew from the marks.
    items = list(paper.quiz.items.values_list("pk", flat=True))
    rows = Mark.objects.filter(current=True).values_list("answer__sitting__trainee", "answer__item", "score")
    scores = {(member, item): score for member, item, score in rows}
    table = [[scores[member.pk, item] for item in items] for member in trainees]
    sem = analyse(table).sem
    expected = {
        member.pk: decide(sum(row) / len(row), 0.7, sem) for member, row in zip(trainees, table, strict=True)
    }
    assert {"pass", "refer", "borderline"} == set(expected.values())

    # Borderline results are settled by number, then all are released.
    for member, decision in expected.items():
        if decision == "borderline":
            settled = {"settled": "refer", "note": "Sit another paper."}
            educator.post(f"{at}results/{by_member[member].number}/", settled)
    page = educator.post(f"{at}results/release/", follow=True).content.decode()
    assert f"{CANDIDATES} results released." in page
    told = {result.sitting.candidate.member_id: result.decision for result in PaperResult.objects.all()}
    assert told == {
        member: "refer" if decision == "borderline" else decision for member, decision in expected.items()
    }

    # Each reads their own result, and that it approves nobody.
    for member, row in list(zip(trainees, table, strict=True))[::10]:
        page = browser(member).get(at).content.decode()
        assert f"<strong>{told[member.pk].capitalize()}</strong>" in page
        assert f"{sum(row) / len(row) * 100:.1f} of 100, pass mark 70" in page
        assert "approves nobody" in page
    assert PaperSitting.objects.get(candidate__member=away).handed_in == "time"
    assert PaperSitting.objects.get(candidate__member=on_paper).typed_by.get() == cast.secretary
