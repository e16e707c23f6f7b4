"""Papers on the desk: plan and bank, draw, candidates by name on one page, results by number."""

from __future__ import annotations

import datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from assessments.actions.paper_results import release_results
from assessments.actions.papers import describe_paper, draw_paper, make_paper, plan_paper, set_paper
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.drawable import bank_of
from assessments.models import Candidate, Paper, PaperSitting, Regulations
from assessments.queries.paper_results import script_of
from assessments.rules import NotReady, PlanRow
from assessments.views.review import by_hand_form
from tests import makers
from tests.makers.papers import (
    HOUR,
    KIND,
    make_bank,
    make_candidate,
    make_drawn_paper,
    make_paper_sitting,
    make_regulations,
    make_set_paper,
)

CLUB = "/clubs/skerry-drover"


def cell(edition, number, sound=False):
    section = edition.sections.get(number=number).pk if number else 0
    return f"{section}-{KIND}-{'sound' if sound else 'faults'}"


def test_a_paper_goes_from_its_plan_to_being_set(cast, edition):
    make_bank(edition, cast.educator, 3, 2, 1)
    client = cast.client("educator")
    response = client.post(f"{CLUB}/papers/new/", {"edition": edition.pk, "title": "Paper of the spring"})
    paper = Paper.objects.get()
    assert response.url == f"{CLUB}/papers/{paper.pk}/plan/"
    page = client.get(response.url).content.decode()
    assert "of 3" in page
    assert "5 Part 5" in page
    plan = {cell(edition, "5"): 2, cell(edition, "6"): 1, cell(edition, None, True): 1, "draw": 1}
    page = client.post(response.url, plan, follow=True).content.decode()
    assert paper.quiz.quiz_items.count() == 4
    assert "4 items, seed" in page
    assert "Lay down the club’s regulations" not in page, "It is asked once the window is known."
    client.post(
        f"{CLUB}/papers/regulations/",
        {"effective_from": timezone.localdate().isoformat(), "pass_mark": "70", "wait_days": "0"},
    )
    assert Regulations.objects.get().attempts is None
    words = {"title": "Paper", "minutes": 16, "opens_at": "2030-05-01T10:00", "closes_at": "2030-05-01T09:00"}
    response = client.post(f"{CLUB}/papers/{paper.pk}/edit/", words)
    assert response.status_code == 422
    assert "This must be after it opens." in response.content.decode()
    client.post(f"{CLUB}/papers/{paper.pk}/edit/", words | {"closes_at": "2030-05-02T10:00"})
    page = client.post(f"{CLUB}/papers/{paper.pk}/set/", follow=True).content.decode()
    assert "Set. Candidates see it now" in page
    paper.refresh_from_db()
    assert timezone.localtime(paper.opens_at).strftime("%H:%M") == "10:00", "In the club’s time zone."


def test_the_bank_says_at_once_what_it_cannot_give(cast, edition):
    make_bank(edition, cast.educator, 2, 1, 0)
    paper = make_drawn_paper(edition, cast.educator, sound=0)
    client = cast.client("educator")
    response = client.post(
        f"{CLUB}/papers/{paper.pk}/plan/", {cell(edition, "5"): 4}, headers={"HX-Request": "true"}
    )
    said = " ".join(response.content.decode().split())
    assert "4 items, 0 of them sound. About 16 minutes" in said
    assert "5 Part 5, mark the faults: 4 asked for, 2 more are needed." in said
    assert paper.quiz.quiz_items.count() == 2, "Asking changes nothing."
    response = client.post(f"{CLUB}/papers/{paper.pk}/plan/", {cell(edition, "5"): 4, "draw": 1})
    assert response.status_code == 409
    response = client.post(f"{CLUB}/papers/{paper.pk}/plan/", {cell(edition, "5"): "many"})
    assert response.status_code == 422
    assert 'value="many"' in response.content.decode()


def test_an_item_is_swapped_and_its_practice_told(cast, edition):
    make_bank(edition, cast.educator, 2, 1, 1)
    paper = make_drawn_paper(edition, cast.educator)
    first = paper.quiz.items.filter(keys__entries__fault__name="Upright shoulder").get()
    quiz = make_quiz(edition=edition, title="Known from practice", by=cast.educator.person)
    add_item(quiz=quiz, item=first)
    open_quiz(quiz=quiz)
    client = cast.client("educator")
    assert "Known from practice" in client.get(f"{CLUB}/papers/{paper.pk}/edit/").content.decode()
    page = client.post(f"{CLUB}/papers/{paper.pk}/swap/{first.pk}/", follow=True).content.decode()
    assert "Known from practice" not in page
    assert client.post(f"{CLUB}/papers/{paper.pk}/swap/{first.pk}/").status_code == 404


def test_regulations_propose_no_number_and_are_never_edited(cast):
    client = cast.client("educator")
    page = client.get(f"{CLUB}/papers/regulations/").content.decode()
    assert 'name="pass_mark" step="0.1"' in page.replace('value="" ', "")
    assert "Registries ask for 70, 75, 80" in page
    made = make_regulations(cast.club, basis="Minute of the committee")
    yesterday = timezone.localdate() - datetime.timedelta(days=1)
    response = client.post(
        f"{CLUB}/papers/regulations/", {"effective_from": yesterday, "pass_mark": "80", "wait_days": "0"}
    )
    assert response.status_code == 422
    assert list(Regulations.objects.all()) == [made]
    assert "In force today" in client.get(f"{CLUB}/papers/regulations/").content.decode()


def test_names_stand_against_numbers_on_the_stewards_page_alone(cast, edition):
    paper = make_set_paper(edition, cast.educator)
    candidate = make_candidate(paper, cast.trainee, cast.educator)
    make_paper_sitting(candidate, right_ones=2)
    client = cast.client("educator")
    for who in ("educator", "secretary"):
        page = cast.client(who).get(f"{CLUB}/papers/{paper.pk}/candidates/").content.decode()
        assert "Una Halcro" in page
        assert f"number {candidate.number}" in page
    for address in (
        f"{CLUB}/",
        f"{CLUB}/papers/",
        f"{CLUB}/papers/{paper.pk}/edit/",
        f"{CLUB}/papers/{paper.pk}/results/",
        f"{CLUB}/evidence/",
        f"{CLUB}/evidence/quizzes/{paper.quiz_id}/",
        f"{CLUB}/evidence/quizzes/{paper.quiz_id}/items.csv",
    ):
        page = client.get(address)
        assert page.status_code == 200, address
        assert "Halcro" not in page.content.decode(), address
    assert str(candidate.number) in client.get(f"{CLUB}/papers/{paper.pk}/results/").content.decode()
    assert cast.client("secretary").get(f"{CLUB}/papers/{paper.pk}/results/").status_code == 403


def test_a_mentor_learns_nothing_of_a_paper_from_their_trainees(cast, edition):
    makers.make_mentorship(cast.mentor, cast.trainee)
    paper = make_set_paper(edition, cast.educator)
    sitting = make_paper_sitting(make_candidate(paper, cast.trainee, cast.educator), right_ones=2)
    client = cast.client("mentor")
    answer = sitting.sitting.answers.first()
    assert client.get(f"{CLUB}/reviews/{answer.pk}/").status_code == 404
    for address in (
        f"{CLUB}/",
        f"{CLUB}/reviews/",
        f"{CLUB}/trainees/",
        f"{CLUB}/trainees/{cast.trainee.pk}/",
    ):
        page = client.get(address).content.decode()
        assert "Paper of the spring" not in page
        assert "66.7" not in page


def test_candidates_are_invited_granted_time_and_withdrawn(cast, edition):
    paper = make_set_paper(edition, cast.educator)
    client, address = cast.client("secretary"), f"{CLUB}/papers/{paper.pk}/candidates/"
    assert client.post(address).status_code == 422
    assert client.post(address, {"members": [cast.mentor.pk]}).status_code == 422, "No trainee."
    client.post(address, {"members": [cast.trainee.pk]})
    candidate = Candidate.objects.get()
    assert (candidate.member, candidate.invited_by) == (cast.trainee, cast.secretary.person)
    time = f"{address}{candidate.number}/time/"
    assert client.post(time, {"extra_minutes": "-5", "extra_percent": "0"}).status_code == 422
    client.post(time, {"extra_minutes": "5", "extra_percent": "25"})
    page = client.get(address).content.decode()
    assert "25 % and 5 minutes" in " ".join(page.split())
    client.post(f"{address}{candidate.number}/withdraw/")
    assert not Candidate.objects.exists()


def test_a_steward_types_in_from_paper_on_the_same_pages(cast, edition):
    paper = make_set_paper(edition, cast.educator)
    candidate = make_candidate(paper, cast.trainee, cast.educator)
    client = cast.client("secretary")
    typed = f"{CLUB}/papers/{paper.pk}/typed/{candidate.number}/"
    assert client.get(f"{typed}1/").status_code == 404
    start = client.post(f"{CLUB}/papers/{paper.pk}/candidates/{candidate.number}/type/", follow=True)
    assert f"You type in what candidate {candidate.number} wrote" in start.content.decode()
    page = client.get(f"{typed}1/").content.decode()
    assert "Mark the faults" in page
    assert f"{typed}1/save/" in page
    assert "left" not in page.split("data-state")[0].split('class="heading-side"')[1], "No clock runs."
    own = cast.client("trainee")
    assert "You gave your answers on paper." in own.get(f"{CLUB}/papers/{paper.pk}/").content.decode()
    for address in ("1/", "overview/", "clock/"):
        assert own.get(f"{CLUB}/papers/{paper.pk}/{address}").status_code == 404, "Not theirs to change."
    assert own.post(f"{CLUB}/papers/{paper.pk}/hand-in/").status_code == 404
    response = client.post(f"{typed}hand-in/", follow=True)
    assert "typed in by" in response.content.decode()
    assert "Bruce Isbister" in response.content.decode()
    sitting = PaperSitting.objects.get()
    assert (sitting.handed_in, list(sitting.typed_by.all())) == ("steward", [cast.secretary])
    assert client.get(f"{typed}overview/", follow=True).redirect_chain[-1][0].endswith("/candidates/")


def test_results_are_settled_and_released_by_number(cast, edition):
    paper = make_set_paper(edition, cast.educator)
    candidate = make_candidate(paper, cast.trainee, cast.educator)
    make_paper_sitting(candidate, right_ones=2)
    client, address = cast.client("educator"), f"{CLUB}/papers/{paper.pk}/results/"
    page = client.get(address).content.decode()
    assert "66.7" in page
    assert "every result is borderline" in page
    assert client.post(f"{address}{candidate.number}/", {"settled": "pass"}).status_code == 422
    client.post(f"{address}{candidate.number}/", {"settled": "pass", "note": "By the panel."})
    page = client.post(f"{address}release/", follow=True).content.decode()
    assert "One result released." in page
    trainee = cast.client("trainee").get(f"{CLUB}/papers/{paper.pk}/").content.decode()
    assert "<strong>Pass</strong>" in trainee
    assert "66.7" not in trainee, "The regulations do not disclose the mark."
    assert "approves nobody" in trainee


def test_a_mentor_marks_by_number_what_no_rule_marks(cast, edition):
    critique = makers.make_critique(edition, cast.educator)
    paper = make_paper(edition=edition, title="With a critique", by=cast.educator.person)
    make_regulations(cast.club)
    row = next(each for each in bank_of(edition, timezone.localdate()).items if each.item == critique)
    section = next(iter(row.sections), None)
    plan_paper(paper=paper, plan=[PlanRow(section, critique.kind, row.sound, 1)])
    now = timezone.now()
    words = {"title": "With a critique", "introduction": "", "minutes": 30}
    describe_paper(paper=paper, opens_at=now - HOUR, closes_at=now + HOUR, **words)
    draw_paper(paper=paper)
    set_paper(paper=paper, by=cast.educator.person)
    candidate = make_candidate(paper, cast.trainee, cast.educator)
    make_paper_sitting(candidate, right_ones=0)
    client = cast.client("mentor")
    home = client.get(f"{CLUB}/").content.decode()
    assert "Answers to “With a critique” wait for a person’s mark." in home
    scripts = f"{CLUB}/papers/{paper.pk}/scripts/"
    page = client.get(scripts).content.decode()
    assert f"Candidate {candidate.number}" in page
    script = f"{scripts}{candidate.number}/1/"
    page = client.get(script).content.decode()
    assert "Give this mark" in page
    assert "Halcro" not in page
    assert cast.client("trainee").get(script).status_code == 403
    assert client.post(f"{script}mark/").status_code == 422
    with pytest.raises(NotReady, match="One answer is not marked yet"):
        release_results(paper=paper, by=cast.educator.person)
    form = by_hand_form(script_of(paper, candidate.number).get())
    given = {name: _chosen(field) for name, field in form.fields.items()}
    assert client.post(f"{script}mark/", given).status_code == 302
    assert not cast.trainee.notices.exists(), "The candidate is told nothing of it."
    assert len(release_results(paper=paper, by=cast.educator.person)) == 1


def _chosen(field):
    choices = [value for value, _label in getattr(field, "choices", []) if value not in ("", None)]
    return choices[-1] if choices else "Well seen."


@pytest.mark.parametrize("page", ["candidates", "results", "edit"])
def test_the_lists_cost_the_same_for_few_and_for_many(cast, edition, page):
    paper = make_set_paper(edition, cast.educator)
    client, address = cast.client("educator"), f"{CLUB}/papers/{paper.pk}/{page}/"
    counts = []
    for more in (1, 3):
        for n in range(more):
            trainee = makers.make_trainee(cast.club, f"Trainee {more} {n}")
            make_paper_sitting(make_candidate(paper, trainee, cast.educator), right_ones=1)
        with CaptureQueriesContext(
            connection,
        ) as queries:
            client.get(address)
        counts.append(len(queries))
    assert counts[0] == counts[1]
