"""The mentor's queue among 200,000 answers: queries and time of its pages.

Run with `python -m tests.load.bench_queue`. Builds a throw-away SQLite database: 500 trainees who answered 400
items each, ten mentors of fifty trainees, half of the answers not returned. Prints each page's queries and the
best of five times.
"""

import datetime
import os
import tempfile
from time import perf_counter

TRAINEES, QUIZZES, ITEMS, MENTORS = 500, 20, 20, 10


def main() -> None:
    """Build, then measure."""
    with tempfile.TemporaryDirectory() as folder:
        os.environ |= {"STANDPOINT_DATA": folder, "DJANGO_SETTINGS_MODULE": "shared.settings"}
        import django

        django.setup()
        from django.core.management import call_command

        call_command("migrate", verbosity=0)
        build()
        measure()


def build() -> None:
    """Rows written in bulk: what counts here is how many there are, not what they say."""
    from django.utils import timezone

    from assessments.models import (
        Answer,
        Item,
        Key,
        Mark,
        MentoringRules,
        Mentorship,
        Query,
        QuizRules,
        Review,
        Sitting,
    )
    from assessments.models import Quiz as QuizRow
    from courses.models import Breed, Edition, Exhibit
    from shared.accounts.models import Club, Membership, Person

    club = Club.objects.create(name="Load", slug="load")
    today = timezone.localdate()
    MentoringRules.objects.create(club=club, effective_from=today, club_mark=70)
    people = [Person(email=f"p{n}@club.example", name=f"P{n}") for n in range(TRAINEES + MENTORS)]
    people = Person.objects.bulk_create(people)
    members = Membership.objects.bulk_create(
        Membership(club=club, person=person, trainee=n >= MENTORS, mentor=n < MENTORS)
        for n, person in enumerate(people)
    )
    mentors, trainees = members[:MENTORS], members[MENTORS:]
    Mentorship.objects.bulk_create(
        Mentorship(mentor=mentors[n % MENTORS], trainee=trainee) for n, trainee in enumerate(trainees)
    )
    by = people[0]
    breed = Breed.objects.create(club=club, name="Drover", slug="drover")
    edition = Edition.objects.create(breed=breed, title="E", issuing_body="B", issued_on=today)
    now = timezone.now()
    for q in range(QUIZZES):
        quiz = QuizRow.objects.create(edition=edition, title=f"Quiz {q}", state="open")
        rules = QuizRules.objects.create(quiz=quiz, version=1, rules={}, ladder={}, made_by=by)
        items = Item.objects.bulk_create(
            Item(
                edition=edition,
                exhibit=Exhibit.objects.create(
                    club=club, breed=breed, number=q * ITEMS + n + 1, kind="drawn", made_by=by
                ),
                made_by=by,
            )
            for n in range(ITEMS)
        )
        keys = Key.objects.bulk_create(
            Key(item=item, version=1, published_at=now, made_by=by) for item in items
        )
        sittings = Sitting.objects.bulk_create(
            Sitting(quiz=quiz, trainee=trainee, number=1, finished_at=now) for trainee in trainees
        )
        answers = Answer.objects.bulk_create(
            [
                Answer(
                    sitting=sitting,
                    item=item,
                    position=n,
                    handed_in_at=now - datetime.timedelta(minutes=37 * (s + n)),
                )
                for s, sitting in enumerate(sittings)
                for n, item in enumerate(items)
            ],
            500,
        )
        Mark.objects.bulk_create(
            [
                Mark(
                    answer=answer,
                    key=keys[answer.position],
                    rules=rules,
                    score=(answer.pk * 37 % 100) / 100,
                    detail={},
                    disqualification="missed" if answer.pk % 23 == 0 else "",
                )
                for answer in answers
                if answer.pk % 41
            ],
            500,
        )
        Review.objects.bulk_create(
            [Review(answer=a, mentor=mentors[0], returned_at=now) for a in answers if a.pk % 2], 500
        )
        Query.objects.bulk_create([Query(answer=a, text="Why?") for a in answers if a.pk % 1000 == 0], 500)


def measure() -> None:
    """Open each page as its first mentor."""
    from django.conf import settings
    from django.db import connection
    from django.test import Client
    from django.test.utils import CaptureQueriesContext

    from assessments.models import Answer
    from shared.accounts.models import Membership

    settings.ALLOWED_HOSTS = ["*"]
    print(f"{Answer.objects.count():,} answers")
    mentor = Membership.objects.filter(mentor=True).earliest("pk")
    trainee = Membership.objects.filter(trainee=True).earliest("pk")
    client = Client()
    client.force_login(mentor.person, "django.contrib.auth.backends.ModelBackend")
    for page in ("", "?order=age", "?need=near", f"?trainee={trainee.pk}", "?page=80"):
        times = []
        for _ in range(5):
            begun = perf_counter()
            with CaptureQueriesContext(connection) as asked:
                response = client.get(f"/clubs/load/reviews/{page}", secure=True)
            times.append(perf_counter() - begun)
            assert response.status_code == 200
        print(f"{page or 'first page':14} {len(asked):2} queries {min(times) * 1000:6.0f} ms")
        for query in sorted(asked, key=lambda row: -float(row["time"]))[:3]:
            print(f"    {query['time']} s  {query['sql'][:90]}")


if __name__ == "__main__":
    main()
