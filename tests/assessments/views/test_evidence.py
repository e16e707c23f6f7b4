"""What educators see of the answers, and what nobody sees."""

import csv
import datetime
import io
import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from assessments.actions.keys import publish_key, start_draft
from assessments.actions.quizzes import add_item, make_quiz, open_quiz, remove_item
from assessments.actions.reviews import adjust_mark, ask_query, return_answer
from assessments.models import Answer, Figures
from courses.models import PlateClause
from tests import makers
from tests.published.test_item_analysis_examples import WUENSCH

CLUB = "/clubs/skerry-drover"
WRONG, NOTHING = makers.said(makers.pin(0.5, 0.5, None, 2)), makers.said(nothing_found=True)


@pytest.fixture
def quiz(cast, edition):
    return makers.make_open_quiz(edition, cast.educator, items=3)


@pytest.fixture
def shoulder(quiz):
    return quiz.edition.breed.faults.get(name="Upright shoulder")


@pytest.fixture
def back(quiz):
    return quiz.edition.breed.faults.get(name="Roached back")


@pytest.fixture
def answered(quiz, shoulder, back):
    """Six people: all see the shoulder, four name it, two of these weigh it too light; nobody marks the back."""
    named = makers.said(makers.pin(0.35, 0.5, shoulder, 2))
    light = makers.said(makers.pin(0.36, 0.5, shoulder, 1), makers.pin(0.9, 0.2, back, 0))
    other = makers.said(makers.pin(0.34, 0.5, back, 1))
    contents = [named, named, light, light, other, other]
    return makers.make_sittings(quiz, [[content] * 3 for content in contents])


def words(response):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode()))


def rows(response):
    return list(csv.reader(io.StringIO(response.content.decode("utf-8-sig"), newline="")))


def item_page(quiz, number=0):
    item = quiz.items.order_by("quiz_items__position")[number]
    return f"{CLUB}/evidence/quizzes/{quiz.pk}/items/{item.pk}/"


def test_the_published_reliability_comes_out_of_ten_peoples_answers(cast, edition):
    # T5-D-01 and T5-D-02 of tests/published: ten students, ten items, each right or wrong. On a sound exhibit
    # finding nothing scores 1, and one fault called Serious scores 0.
    quiz = make_quiz(edition=edition, title="Sound or not", by=cast.educator.person)
    for _ in range(10):
        add_item(quiz=quiz, item=makers.make_keyed_item(edition, cast.educator, []))
    open_quiz(quiz=quiz)
    makers.make_sittings(quiz, [[NOTHING if right else WRONG for right in person] for person in WUENSCH])
    page = words(cast.client("educator").get(f"{CLUB}/evidence/quizzes/{quiz.pk}/"))
    assert "reliability 0.70" in page  # 0.696347032
    assert "points either way 14.0" in page  # 1.4036988 points of ten
    assert "mean mark 66.0" in page  # the facilities printed there, 6.6 of ten
    assert "Few yet:" in page
    table = rows(cast.client("educator").get(f"{CLUB}/evidence/quizzes/{quiz.pk}/items.csv"))
    assert [float(row[4]) for row in table[1:]] == [0.7, 0.7, 0.6, 0.7, 0.6, 0.8, 0.7, 0.7, 0.5, 0.6]
    assert [float(row[5]) for row in table[1:]] == pytest.approx(
        [0.705889, 0.705889, 0, 0.473589, 0.583874, 0.286147, -0.027445, 0.705889, -0.123613, 0.475867],
        abs=1e-4,
    )
    assert [row[8] for row in table[1:] if row[8]] == ["weak", "good judges miss it", "good judges miss it"]


def test_a_quiz_shows_its_items_with_flags_in_words_and_the_way_to_each(cast, quiz, answered):
    response = cast.client("educator").get(f"{CLUB}/evidence/quizzes/{quiz.pk}/")
    page = words(response)
    assert "6 first sittings, 3 items" in page
    for number in range(3):
        assert item_page(quiz, number) in response.content.decode()
    # Shoulder alone and right: 4/6. A level light of three, and a false alarm of a quarter of 1: 3.667 − 0.25.
    # Named otherwise, by a fault of another clause: seen only, 1.6. Means 66.7, 56.9 and 26.7.
    assert "mean mark 50.1" in page
    table = rows(cast.client("educator").get(f"{CLUB}/evidence/quizzes/{quiz.pk}/marks.csv"))
    assert [row[2] for row in table[1:]] == ["0", "0", "2", "0", "0", "2", "2", "0", "0", "0"]


def test_second_sittings_and_unfinished_ones_do_not_count(cast, quiz, answered, shoulder):
    again = [[makers.said(makers.pin(0.35, 0.5, shoulder, 2))] * 3] * 6
    makers.make_sittings(quiz, again, trainees=answered, number=2)
    makers.make_sittings(quiz, again[:1], finished_at=None)
    page = words(cast.client("educator").get(f"{CLUB}/evidence/quizzes/{quiz.pk}/"))
    assert "6 first sittings" in page
    assert "mean mark 50.1" in page


def test_figures_are_kept_until_something_is_marked(cast, quiz, answered, shoulder):
    client, address = cast.client("educator"), f"{CLUB}/evidence/quizzes/{quiz.pk}/"
    client.get(address)
    before = Figures.objects.get(quiz=quiz).computed_at
    client.get(address)
    assert Figures.objects.get(quiz=quiz).computed_at == before
    makers.make_sittings(quiz, [[makers.said(makers.pin(0.35, 0.5, shoulder, 2))] * 3])
    assert "7 first sittings" in words(client.get(address))


def test_an_item_taken_out_no_longer_counts(cast, quiz, answered):
    client, address = cast.client("educator"), f"{CLUB}/evidence/quizzes/{quiz.pk}/"
    client.get(address)
    gone = quiz.quiz_items.first()
    remove_item(quiz_item=gone)
    assert "6 first sittings, 2 items" in words(client.get(address))
    assert client.get(f"{address}items/{gone.item_id}/").status_code == 404


def test_many_scores_are_left_to_the_background_and_the_page_says_of_when_it_is(
    cast, quiz, answered, shoulder, monkeypatch, settings
):
    client, address = cast.client("educator"), f"{CLUB}/evidence/quizzes/{quiz.pk}/"
    client.get(address)
    makers.make_sittings(quiz, [[makers.said(makers.pin(0.35, 0.5, shoulder, 2))] * 3])
    monkeypatch.setattr("assessments.actions.figures.AT_ONCE", 5)
    settings.TASKS = {"default": {"BACKEND": "django_tasks.backends.dummy.DummyBackend"}}
    page = words(client.get(address))
    assert "6 first sittings" in page
    assert "There are newer answers; they are being counted in the background." in page
    settings.TASKS = {"default": {"BACKEND": "django_tasks.backends.immediate.ImmediateBackend"}}
    Figures.objects.update(asked_at=None)
    client.get(address)
    assert "7 first sittings" in words(client.get(address))


def test_of_fewer_than_five_people_nothing_is_told(cast, quiz, shoulder):
    named = makers.said(makers.pin(0.3512, 0.5, shoulder, 2))
    makers.make_sittings(quiz, [[named] * 3] * 4)
    client = cast.client("educator")
    for address in (
        f"{CLUB}/evidence/",
        f"{CLUB}/evidence/quizzes/{quiz.pk}/",
        item_page(quiz),
        f"{CLUB}/evidence/clauses/",
    ):
        response = client.get(address)
        assert "fewer than 5 people" in words(response), address
        assert "0.3512" not in response.content.decode()
    assert len(rows(client.get(f"{CLUB}/evidence/quizzes/{quiz.pk}/items.csv"))) == 1
    assert len(rows(client.get(f"{item_page(quiz)}room.csv"))) == 1
    for row in rows(client.get(f"{CLUB}/evidence/clauses.csv"))[1:]:
        assert not any(row[2:])
    assert not any(rows(client.get(f"{CLUB}/evidence/quizzes.csv"))[1][3:])


def test_an_item_shows_what_the_room_saw_named_and_weighed(cast, quiz, answered):
    response = cast.client("educator").get(item_page(quiz))
    page = words(response)
    assert "A Upright shoulder 5.1 saw it 6 of 6 100 % named it 4 of 6 67 % weighed it 2 of 6 33 %" in page
    assert "B Roached back 6.2 saw it 0 of 6 0 % named it 0 of 6" in page
    assert "Called instead: Roached back (2)" in page
    # Minor, Moderate, Serious (the key), Disqualifying; the two who named it otherwise did not recognise it.
    assert "people 0 2 2 (the key) 0" in page
    assert "Called where the key has none Roached back 2 people 33 %" in page
    pins = re.search(r'<script id="pins"[^>]*>(.*?)</script>', response.content.decode()).group(1)
    assert sorted(pins.replace(" ", "").strip("[]").split("],[")) == [
        "0.34,0.5,0", "0.34,0.5,0", "0.35,0.5,0", "0.35,0.5,0", "0.36,0.5,0", "0.36,0.5,0",
        "0.9,0.2,null", "0.9,0.2,null",
    ]  # fmt: skip
    table = rows(cast.client("educator").get(f"{item_page(quiz)}room.csv"))
    assert table[1] == [
        "A", "Upright shoulder", "5.1", "Serious", "6", "6", "4", "2", "0", "2", "2", "0", "0", "Roached back",
    ]  # fmt: skip
    assert len({len(row) for row in table}) == 1


def test_a_sound_dog_says_how_many_called_nothing(cast, edition):
    quiz = make_quiz(edition=edition, title="Sound", by=cast.educator.person)
    add_item(quiz=quiz, item=makers.make_keyed_item(edition, cast.educator, []))
    open_quiz(quiz=quiz)
    makers.make_sittings(quiz, [[NOTHING]] * 4 + [[WRONG]] * 2)
    page = words(cast.client("educator").get(item_page(quiz)))
    assert "A sound dog: 4 of 6 people called nothing." in page
    assert "Called where the key has none without a name 2 people 33 %" in page


def test_no_page_and_no_file_names_a_trainee(cast, quiz, answered):
    makers.make_mentorship(cast.mentor, answered[0])
    names = [str(trainee.person) for trainee in answered]
    client = cast.client("educator")
    base = f"{CLUB}/evidence"
    for address in (
        f"{base}/", f"{base}/quizzes.csv", f"{base}/quizzes/{quiz.pk}/", f"{base}/quizzes/{quiz.pk}/items.csv",
        item_page(quiz), f"{item_page(quiz)}room.csv", f"{base}/clauses/", f"{base}/clauses.csv",
        f"{base}/mentors/", f"{base}/mix/", f"{base}/answers/?quiz={quiz.pk}",
    ):  # fmt: skip
        text = client.get(address).content.decode()
        assert not [name for name in names if name in text], address


def test_answers_behind_are_seen_by_those_who_mentor_them(cast, quiz, answered):
    cast.educator.mentor = True
    cast.educator.save()
    makers.make_mentorship(cast.educator, answered[0])
    client = cast.client("educator")
    assert f"{CLUB}/evidence/answers/?quiz={quiz.pk}" in client.get(item_page(quiz)).content.decode()
    item = quiz.items.first()
    page = client.get(f"{CLUB}/evidence/answers/?quiz={quiz.pk}&item={item.pk}").content.decode()
    assert re.findall(r"/reviews/(\d+)/", page) == [
        str(Answer.objects.get(item=item, sitting__trainee=answered[0]).pk)
    ]
    clause = quiz.edition.clauses.get(number="6.2")
    page = client.get(f"{CLUB}/evidence/answers/?clause={clause.pk}&missed=on").content.decode()
    assert len(re.findall(r"/reviews/(\d+)/", page)) == 3
    assert client.get(f"{CLUB}/evidence/answers/?quiz=x").status_code == 404


def test_clauses_stand_with_the_worst_first_and_lead_to_their_plates(cast, quiz, answered):
    clause = quiz.edition.clauses.get(number="6.2")
    plate = makers.make_plate(quiz.edition, cast.educator)
    PlateClause.objects.create(plate=plate, clause=clause)
    response = cast.client("educator").get(f"{CLUB}/evidence/clauses/")
    page = words(response)
    assert page.index("6.2") < page.index("5.1")
    assert "100 % 18 of 18 85–100 %" in page  # the back, missed by all
    assert f"/plates/{plate.pk}/" in response.content.decode()
    shoulder, _back = rows(cast.client("educator").get(f"{CLUB}/evidence/clauses.csv?sort=misnamed"))[1:]
    assert (shoulder[0], shoulder[2:5], shoulder[7:9], shoulder[11:13]) == (
        "5.1", ["18", "0", "18"], ["6", "18"], ["6", "12"],
    )  # fmt: skip
    zones = rows(cast.client("educator").get(f"{CLUB}/evidence/zones.csv"))
    assert [(row[0], row[2]) for row in zones[1:]] == [("topline", "18"), ("forequarters", "0")]
    alarms = rows(cast.client("educator").get(f"{CLUB}/evidence/false-alarms.csv"))
    assert alarms == [["fault", "zone", "times", "people"]]  # two people are too few


def test_clauses_are_chosen_by_quiz_group_and_days(cast, edition, quiz, answered, shoulder):
    other = makers.make_open_quiz(edition, cast.educator, title="Another")
    long_ago = timezone.make_aware(datetime.datetime(2026, 2, 3, 12))
    contents = [[makers.said(makers.pin(0.35, 0.5, shoulder, 2))]] * 5
    early = makers.make_sittings(other, contents, finished_at=long_ago)

    def asked(**chosen):
        table = rows(cast.client("educator").get(f"{CLUB}/evidence/clauses.csv", chosen))
        return {row[0]: row[2] for row in table[1:]}

    assert asked() == {"5.1": "23", "6.2": "23"}
    assert asked(quiz=other.pk) == {"5.1": "5", "6.2": "5"}
    assert asked(until="2026-02-03") == {"5.1": "5", "6.2": "5"}
    assert asked(since="2026-02-04") == {"5.1": "18", "6.2": "18"}
    for trainee in early[:4]:
        makers.make_mentorship(cast.mentor, trainee)
    assert asked(group=cast.mentor.pk) == {"5.1": "", "6.2": ""}
    makers.make_mentorship(cast.mentor, early[4])
    assert asked(group=cast.mentor.pk) == {"5.1": "5", "6.2": "5"}


@pytest.mark.parametrize(
    ("asked", "error"),
    [
        ({"since": "2026-03-02", "until": "2026-03-01"}, "must not be before"),
        ({"since": "yesterday"}, "Enter a valid date"),
        ({"quiz": "999"}, "Select a valid choice"),
    ],
)
def test_a_choice_that_cannot_be_is_refused_beside_its_field(cast, quiz, asked, error):
    response = cast.client("educator").get(f"{CLUB}/evidence/clauses/", asked)
    assert response.status_code == 422
    assert error in words(response)
    assert cast.client("educator").get(f"{CLUB}/evidence/clauses.csv", asked).status_code == 404


def test_mentors_stand_beside_one_another_once_they_have_looked_at_five_answers(cast, quiz, answered):
    answers = list(Answer.objects.filter(sitting__trainee__in=answered).order_by("pk"))
    for answer in answers[:5]:
        return_answer(answer=answer, mentor=cast.mentor)
    adjust_mark(answer=answers[0], mentor=cast.mentor, what="w", points=10, reason="r")
    return_answer(answer=answers[0], mentor=cast.mentor)
    other = makers.make_mentor(cast.club, "Thora Garrioch")
    for answer in answers[5:9]:
        return_answer(answer=answer, mentor=other)
    page = words(cast.client("educator").get(f"{CLUB}/evidence/mentors/"))
    assert "Magnus Flett 5 1 20 % 10.0 not enough yet" in page
    assert "Thora Garrioch not told of fewer than 5 answers" in page
    table = rows(cast.client("educator").get(f"{CLUB}/evidence/mentors.csv"))
    assert table[1:] == [["Magnus Flett", "5", "1", "10.0", "", "", ""], ["Thora Garrioch", *[""] * 6]]


def test_the_mix_says_how_many_are_sound_and_which_faults_the_others_show(cast, edition, quiz):
    add_item(quiz=quiz, item=makers.make_keyed_item(edition, cast.educator, []))
    page = words(cast.client("educator").get(f"{CLUB}/evidence/mix/?quiz={quiz.pk}"))
    assert "1 of 4 are sound (25 %)." in page
    assert "The commonest fault is roached back, in 3 (75 %)." in page
    table = rows(cast.client("educator").get(f"{CLUB}/evidence/mix.csv"))
    assert table[1] == ["Roached back", "topline", "0", "3", "0", "0", "3", "0.75"]
    assert table[-1][-2:] == ["1", "0.25"]


def test_a_query_upheld_waits_for_the_educator_until_a_newer_key(cast, quiz, answered):
    answer = Answer.objects.filter(sitting__trainee=answered[0]).first()
    makers.make_mentorship(cast.mentor, answered[0])
    ask_query(answer=answer, text="=The back is level.")
    mentor, educator = cast.client("mentor"), cast.client("educator")
    assert "The query is right" in words(mentor.get(f"{CLUB}/reviews/{answer.pk}/"))
    mentor.post(f"{CLUB}/reviews/{answer.pk}/return/", {"upheld": "on", "reply": "It is."})
    page = words(educator.get(f"{CLUB}/"))
    assert f"A query on a key was upheld: Exhibit {answer.item.exhibit.number}. “=The back is level.”" in page
    address = f"{CLUB}/evidence/quizzes/{quiz.pk}/items/{answer.item_id}/"
    assert "The back is level." in words(educator.get(address))
    key = f"{CLUB}/items/{answer.item_id}/key/"
    assert "“=The back is level.”" in words(educator.get(key))
    start_draft(item=answer.item, by=cast.educator.person)
    assert "“=The back is level.”" in words(educator.get(key))
    assert "Magnus Flett: It is." in words(educator.get(key))
    publish_key(item=answer.item, by=cast.educator.person)
    assert "“=The back is level.”" not in words(educator.get(key))
    told = answered[0].notices.order_by("pk").values_list("text", flat=True)
    assert "Your query is upheld: it is noted for the key’s next version." in told[0]
    assert told[1] == f"The key that you queried has a new version: {quiz.title}, item 1."
    assert "The back is level." not in words(educator.get(address))
    assert "was upheld" not in words(educator.get(f"{CLUB}/"))


def test_a_query_that_is_answered_but_not_upheld_bothers_nobody(cast, quiz, answered):
    answer = Answer.objects.filter(sitting__trainee=answered[0]).first()
    makers.make_mentorship(cast.mentor, answered[0])
    ask_query(answer=answer, text="The back is level.")
    cast.client("mentor").post(f"{CLUB}/reviews/{answer.pk}/return/", {"reply": "It is not."})
    assert "was upheld" not in words(cast.client("educator").get(f"{CLUB}/"))
    assert "The query is right" not in words(cast.client("mentor").get(f"{CLUB}/reviews/{answer.pk}/"))


def test_every_page_costs_fewer_than_twelve_queries_however_much_was_answered(
    cast, edition, quiz, answered, shoulder
):
    cast.educator.mentor = True
    cast.educator.save()
    answer = Answer.objects.filter(sitting__trainee=answered[0], item=quiz.items.first()).get()
    ask_query(answer=answer, text="The back is level.")
    return_answer(answer=answer, mentor=cast.mentor, upheld=True)
    client = cast.client("educator")
    pages = [
        f"{CLUB}/evidence/",
        f"{CLUB}/evidence/quizzes/{quiz.pk}/",
        f"{CLUB}/evidence/quizzes/{quiz.pk}/items/{answer.item_id}/",
        f"{CLUB}/evidence/clauses/",
        f"{CLUB}/evidence/mentors/",
        f"{CLUB}/evidence/mix/",
        f"{CLUB}/evidence/method/",
        f"{CLUB}/evidence/answers/?quiz={quiz.pk}",
        f"{CLUB}/evidence/quizzes.csv",
        f"{CLUB}/evidence/quizzes/{quiz.pk}/items.csv",
        f"{CLUB}/evidence/clauses.csv",
    ]

    def costs():
        found = {}
        for page in pages:
            Figures.objects.update(counted=-1)
            with CaptureQueriesContext(connection) as captured:
                assert client.get(page).status_code == 200
            found[page] = len(captured)
        return found

    before = costs()
    assert max(before.values()) < 12, before
    contents = [[makers.said(makers.pin(0.35, 0.5, shoulder, 2))] * 3] * 3
    makers.make_sittings(quiz, contents)
    other = makers.make_open_quiz(edition, cast.educator, title="Another", items=2)
    makers.make_sittings(other, [[content[0]] * 2 for content in contents])
    assert costs() == before
