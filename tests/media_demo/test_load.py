"""The large club, made small: its answers are marked as anyone's, and its pages ask the database little."""

import pytest
from django.conf import settings
from django.core.management import CommandError, call_command
from django.db import connection, transaction
from django.db.models import Value
from django.db.models.functions import Concat
from django.test import Client
from django.test.utils import CaptureQueriesContext

from assessments.items import kind_of
from assessments.models import Answer, EntryResult, FalseAlarm, Figures, Key, Mark, MarkChange
from media_demo.load import Load
from shared.accounts.models import Club, Person
from tests.load.bench_evidence import bars_of, pages_of, whole

pytestmark = pytest.mark.django_db
TRAINEES, ITEMS, ANSWERS = 6, 16, 120


def made():
    return Load(TRAINEES, ITEMS, ANSWERS, tell=lambda words: None).make()


def told(club):
    """Every answer by whose it is and to what, and where its pins are."""
    rows = Answer.objects.filter(sitting__trainee__club=club).values_list(
        "sitting__trainee__person__name", "sitting__number", "item__exhibit__number", "content"
    )
    return {row[:3]: [(pin["x"], pin["y"], pin["level"]) for pin in row[3]["marks"]] for row in rows}


@pytest.fixture(scope="module")
def club(django_db_setup, django_db_blocker):
    """Built once for this module, and rolled back behind it."""
    with django_db_blocker.unblock(), transaction.atomic():
        yield made()
        transaction.set_rollback(True)


def test_there_are_as_many_people_items_and_answers_as_asked_for(club):
    assert club.memberships.filter(trainee=True).count() == TRAINEES
    assert len({answer.item_id for answer in Answer.objects.all()}) == ITEMS
    firsts = Answer.objects.filter(sitting__number=1)
    assert firsts.count() == TRAINEES * ITEMS
    assert ANSWERS - ITEMS < Answer.objects.count() <= ANSWERS


def test_every_answer_has_the_mark_that_the_rules_give_and_its_counted_rows(club):
    marks = list(Mark.objects.filter(current=True).select_related("answer__item__edition", "rules"))
    assert len(marks) == Answer.objects.count() == MarkChange.objects.filter(kind="marked").count()
    asked = alarms = 0
    for mark in marks:
        key = Key.objects.prefetch_related("entries__fault", "entries__clause").get(pk=mark.key_id)
        (again,) = kind_of(mark.answer.item).mark(key, mark.rules, [mark.answer.content])
        assert (mark.score, mark.detail["lines"]) == (again.score, again.detail["lines"])
        asked += len(mark.detail["entries"])
        alarms += len(mark.detail["false_alarms"])
    assert (EntryResult.objects.count(), FalseAlarm.objects.count()) == (asked, alarms)
    assert not any(figures.fresh for figures in Figures.objects.all())


def test_the_same_seed_gives_the_same_answers(club):
    before = told(club)
    with transaction.atomic():
        Club.objects.update(slug="older")
        Person.objects.update(email=Concat(Value("older."), "email"))
        again = told(made())
        transaction.set_rollback(True)
    assert len(again) == len(before) > 90
    assert again == before


def test_every_page_of_the_evidence_asks_the_database_fewer_than_twelve_times(club):
    for member, address, words in pages_of(club):
        client = Client()
        client.force_login(member.person, settings.AUTHENTICATION_BACKENDS[0])
        client.get(address)
        with CaptureQueriesContext(connection) as captured:
            page = whole(client.get(address))
        assert words in page, address
        assert len(captured) < bars_of(address)[0], (address, [query["sql"][:120] for query in captured])


def test_it_never_fills_a_site_that_holds_a_club(club):
    with pytest.raises(CommandError, match="holds a club already"):
        call_command("seed_load")
