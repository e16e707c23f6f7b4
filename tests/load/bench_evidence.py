"""The pages that count answers, at the size that they are asked to bear.

Fill a folder once, then measure as often as wanted:

    STANDPOINT_DATA=.load python manage.py seed_load --trainees 500 --items 300 --answers 200000
    STANDPOINT_DATA=.load python -m tests.load.bench_evidence

Prints for each page its queries, the time of its first turn and the median of five more, with the processor's
share; then what marking costs and how long the background works on the figures. Asserts that each page holds
what it should, and says which exceed 12 queries or 300 ms.
"""

# ruff: noqa: E402

from __future__ import annotations

import os
import statistics
from time import perf_counter, process_time

import django

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "shared.settings")
django.setup()

from django.db import connection, transaction
from django.http import HttpResponse
from django.test import Client
from django.test.utils import CaptureQueriesContext

from assessments.actions.figures import lags_behind, work_out
from assessments.actions.marking import _mark, key_in_use
from assessments.actions.results import keep_results
from assessments.models import Answer, EntryResult, FalseAlarm, Figures, Mark, Quiz
from assessments.queries.evidence import quizzes_with_answers
from shared.accounts.models import Club, Membership

TURNS = 5
QUERIES, MILLISECONDS = 12, 300
# The item bank offers every section, edition, quiz and copy to choose among, each by a query of its own.
QUERIES_OF_THE_BANK = 20
# A trainee's whole record takes eight queries for each twenty sittings.
QUERIES_OF_A_RECORD, MILLISECONDS_OF_A_RECORD = 40, 1000


def main() -> None:
    club = Club.objects.get(slug="large")
    print(
        f"{club.memberships.filter(trainee=True).count()} trainees, {Answer.objects.count():,} answers, "
        f"{EntryResult.objects.count():,} faults asked, {FalseAlarm.objects.count():,} false alarms; "
        f"{connection.vendor}"
    )
    figures(club)
    pages(club)
    marking()


def figures(club: Club) -> None:
    Figures.objects.update(counted=-1, asked_at=None)
    quizzes = list(quizzes_with_answers(club))
    assert all(map(lags_behind, quizzes))
    begun, worked = perf_counter(), process_time()
    for quiz in quizzes:
        work_out(quizzes=[quiz])
    spent, worked = perf_counter() - begun, process_time() - worked
    print(f"figures of {len(quizzes)} quizzes: {spent:.2f} s, {worked:.2f} s of processor")


def pages(club: Club) -> None:
    for member, address, words in pages_of(club):
        client = Client(headers={"host": "localhost"})
        client.force_login(member.person, "django.contrib.auth.backends.ModelBackend")
        page(client, address, words)


def pages_of(club: Club) -> list[tuple[Membership, str, str]]:
    """Who opens which page, and words that it holds once there are answers."""
    quiz = Quiz.objects.filter(edition__breed__club=club).earliest("pk")
    item = quiz.quiz_items.first().item_id
    educator = club.memberships.filter(educator=True).earliest("pk")
    mentor = club.memberships.filter(mentor=True).earliest("pk")
    trainee = Membership.objects.filter(mentors_of__mentor=mentor).earliest("pk")
    base = f"/clubs/{club.slug}"
    return [
        (member, f"{base}/{address}", words)
        for member, address, words in [
            (educator, "evidence/", quiz.title),
            (educator, f"evidence/quizzes/{quiz.pk}/", "Distribution of marks"),
            (educator, f"evidence/quizzes/{quiz.pk}/items/{item}/", "saw it"),
            (educator, "evidence/clauses/", "Zones"),
            (educator, f"evidence/clauses/?quiz={quiz.pk}", "Zones"),
            (educator, f"evidence/clauses/?group={mentor.pk}", "Zones"),
            (educator, "evidence/clauses/?since=2000-01-01&until=2100-01-01", "Zones"),
            (educator, "evidence/mentors/", "Mean change"),
            (educator, f"evidence/mentors/?quiz={quiz.pk}", "With the keys"),
            (educator, f"evidence/mentors/{mentor.pk}/", "Marked for a key"),
            (educator, "evidence/mix/", "Sound dog"),
            (educator, "evidence/method/", "alpha"),
            (educator, "evidence/quizzes.csv", "quiz"),
            (educator, f"evidence/quizzes/{quiz.pk}/items.csv", "facility"),
            (educator, f"evidence/quizzes/{quiz.pk}/report.pdf", "%PDF"),
            (educator, "evidence/clauses.csv", "clause"),
            (educator, "keeping/", "At the next run"),
            (educator, "items/?sort=hardest", "Item bank"),
            (educator, "items/?words=shoulder&difficulty=middling", "Item bank"),
            (mentor, f"evidence/answers/?quiz={quiz.pk}", "item"),
            (educator, "mentoring/", "How trainees stand"),
            (educator, "mentoring/marks/", "adjusted"),
            (educator, "panels/", "Panels of assessors"),
            (mentor, "reviews/", "wait"),
            (mentor, "reviews/?order=age", "wait"),
            (mentor, "trainees/", str(trainee.person)),
            (mentor, f"trainees/{trainee.pk}/", str(trainee.person)),
            (mentor, f"trainees/{trainee.pk}/eye/", "See"),
            (trainee, "record/", "Your eye so far"),
            (trainee, "record/record.pdf", "%PDF"),
            (trainee, "record/record.json", "standpoint-record"),
        ]
    ]


def bars_of(address: str) -> tuple[int, int]:
    """How many queries and milliseconds are too many for a page, or for a file that is sent in batches."""
    if address.endswith(".json"):
        return QUERIES_OF_A_RECORD, MILLISECONDS_OF_A_RECORD
    return QUERIES_OF_THE_BANK if "/items/?" in address else QUERIES, MILLISECONDS


def whole(answer: HttpResponse) -> str:
    """All that it sends, also what comes piece by piece."""
    sent = b"".join(answer.streaming_content) if answer.streaming else answer.content
    return sent.decode(errors="replace")


def page(client: Client, address: str, words: str) -> None:
    """The first time and the median of the others; with that the processor's share, for a machine that is busy."""
    begun = perf_counter()
    with CaptureQueriesContext(connection) as captured:
        answer = client.get(address)
        sent = whole(answer)
        queries = len(captured)
    cold = 1000 * (perf_counter() - begun)
    assert answer.status_code == 200, address
    assert words in sent, address
    turns = []
    for _ in range(TURNS):
        begun, worked = perf_counter(), process_time()
        whole(client.get(address))
        turns.append((1000 * (perf_counter() - begun), 1000 * (process_time() - worked)))
    spent, worked = (statistics.median(column) for column in zip(*turns, strict=True))
    most, longest = bars_of(address)
    beyond = [
        words for words, too_much in (("queries", queries >= most), ("time", spent > longest)) if too_much
    ]
    print(
        f"{address:66} {queries:3} queries {spent:6.0f} ms (first {cold:.0f}), "
        f"processor {worked:.0f} ms {' '.join(['  BEYOND:', *beyond]) if beyond else ''}"
    )


def marking() -> None:
    """What the counted rows add to the marking of 200 answers to one item; nothing of it is kept."""
    item = Answer.objects.first().item
    answers = list(Answer.objects.filter(item=item).select_related("sitting")[:200])
    key = key_in_use(item)
    rules = answers[0].sitting.quiz.rules_versions.first()
    whole, rows = [], []
    for _ in range(TURNS):
        with transaction.atomic():
            begun = perf_counter()
            marks = _mark(item, key, rules, answers)
            whole.append(perf_counter() - begun)
            begun = perf_counter()
            keep_results(item=item, marks=marks, again=True)
            rows.append(perf_counter() - begun)
            transaction.set_rollback(True)
    assert Mark.objects.filter(answer__in=answers, current=True).count() == len(answers)
    each, part = (1e6 * statistics.median(times) / len(answers) for times in (whole, rows))
    print(f"marking anew: {each:.0f} µs an answer, of which the counted rows {part:.0f} µs")


if __name__ == "__main__":
    main()
