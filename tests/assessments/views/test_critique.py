"""A critique on its pages: written, waiting, marked by the mentor in the browser, read by the trainee."""

import pytest
from django.urls import reverse

from assessments.actions.by_hand import mark_by_hand
from assessments.actions.reviews import ask_query, return_answer
from assessments.actions.second import ask_second_marking
from assessments.actions.sittings import begin_sitting
from assessments.models import Answer, Mark, Query
from tests import makers

CLUB = "/clubs/skerry-drover"
SENT = {"level_accuracy": 3, "level_completeness": 2, "level_weighing": 4, "level_language": 4}


@pytest.fixture
def item(cast, edition):
    return makers.make_critique(edition, cast.educator)


@pytest.fixture
def answer(cast, item):
    makers.make_mentorship(cast.mentor, cast.trainee)
    return makers.make_written(cast.trainee, item, virtues="A level back, <b>well</b> ribbed.")


def page_of(cast, who, address, status=200):
    response = cast.client(who).get(f"{CLUB}/{address}")
    assert response.status_code == status
    return response.content.decode()


def test_while_it_waits_the_trainee_sees_their_words_and_nothing_of_the_key(cast, answer):
    page = page_of(cast, "trainee", f"answers/{answer.pk}/")
    assert "Your answer waits for your mentor" in page
    assert "A level back, &lt;b&gt;well&lt;/b&gt; ribbed." in page
    for secret in ["The model of", "Clean outline", "Most of what is said"]:
        assert secret not in page
    for address in (f"sittings/{answer.sitting_id}/", f"quizzes/{answer.sitting.quiz_id}/"):
        assert "waits for your mentor" in page_of(cast, "trainee", address)
    assert "waits" in page_of(cast, "mentor", "reviews/")


@pytest.mark.parametrize("route", ["quiz", "quiz-rules", "sitting", "answer"])
def test_before_it_is_handed_in_no_page_tells_of_the_model_answer(cast, item, answer, route):
    sitting = begin_sitting(quiz=answer.sitting.quiz, trainee=makers.make_trainee(cast.club, "Erik Holm"))
    things = {"quiz": sitting.quiz_id, "sitting": sitting.pk, "answer": sitting.answers.get().pk}
    client = cast.client("nobody")
    client.force_login(sitting.trainee.person, "django.contrib.auth.backends.ModelBackend")
    page = client.get(reverse(route, args=[cast.club.slug, things[route.split("-")[0]]]), follow=True)
    assert page.status_code == 200
    for secret in ["The model of", "Clean outline", "Most of what is said"]:
        assert secret not in page.content.decode()


def test_the_mentor_marks_and_returns_in_one_step(cast, answer):
    page = page_of(cast, "mentor", f"reviews/{answer.pk}/")
    for shown in [
        "Clean outline",
        "The model of virtues.",
        "As much is wrong as is right.",
        "30 % of the mark",
    ]:
        assert shown in page
    sent = SENT | {"word_accuracy": "The loin is long.", "overall": "Look at the loin again."}
    response = cast.client("mentor").post(f"{CLUB}/reviews/{answer.pk}/mark/", sent)
    assert (response.status_code, response.url) == (302, f"{CLUB}/reviews/")
    answer.refresh_from_db()
    assert (answer.review.mentor, bool(answer.review.returned_at)) == (cast.mentor, True)
    page = page_of(cast, "trainee", f"answers/{answer.pk}/")
    for shown in [
        "scores 78 of 100",
        "77.5",
        "“The loin is long.”",
        "Look at the loin again.",
        "The model of short.",
    ]:
        assert shown in page
    assert "Completeness 2 of 4" in page_of(cast, "trainee", f"sittings/{answer.sitting_id}/")


def test_a_level_that_is_left_out_is_asked_for_and_nothing_typed_is_lost(cast, answer):
    sent = {"level_accuracy": 1, "level_weighing": 9, "word_language": "Civil.", "overall": "So far."}
    response = cast.client("mentor").post(f"{CLUB}/reviews/{answer.pk}/mark/", sent)
    page = response.content.decode()
    assert (response.status_code, page.count("Mend this: Choose a level.")) == (422, 2)
    for kept in ["Civil.</textarea>", "So far.</textarea>"]:
        assert kept in page
    assert not answer.marks.exists()


def test_a_query_is_settled_by_marking_again(cast, answer):
    mark_by_hand(answer=answer, mentor=cast.mentor, given=makers.given())
    return_answer(answer=answer, mentor=cast.mentor)
    ask_query(answer=Answer.objects.get(pk=answer.pk), text="The loin is named.")
    page = page_of(cast, "mentor", f"reviews/{answer.pk}/")
    assert ("Mark it again" in page, "The loin is named." in page) == (True, True)
    sent = SENT | {"level_accuracy": 4, "reply": "So it is.", "upheld": "on"}
    assert cast.client("mentor").post(f"{CLUB}/reviews/{answer.pk}/mark/", sent).status_code == 302
    query = Query.objects.get()
    assert (bool(query.settled_at), query.reply, query.upheld) == (True, "So it is.", True)
    assert "85.0" in page_of(cast, "trainee", f"answers/{answer.pk}/")


def test_only_what_is_marked_by_hand_is_marked_so(cast, edition):
    makers.make_mentorship(cast.mentor, cast.trainee)
    quiz = makers.make_open_quiz(edition, cast.educator)
    makers.make_sittings(quiz, [[makers.said(nothing_found=True)]], trainees=[cast.trainee])
    pk = Answer.objects.get().pk
    assert cast.client("mentor").post(f"{CLUB}/reviews/{pk}/mark/", SENT).status_code == 404


def test_who_marks_a_second_time_sees_nothing_of_the_first_rubric(cast, answer):
    second = makers.make_mentor(cast.club, "Thora Garrioch")
    said = makers.given() | {"overall": "The first mentor’s own words."}
    mark_by_hand(answer=answer, mentor=cast.mentor, given=said)
    marking = ask_second_marking(answer=answer, second=second, by=cast.mentor, why="Near the mark.")
    client = cast.client("nobody")
    client.force_login(second.person, "django.contrib.auth.backends.ModelBackend")
    address = reverse("second", args=[cast.club.slug, marking.pk])
    page = client.get(address)
    words = page.content.decode()
    assert (page.status_code, "A level back" in words, "Clean outline" in words) == (200, True, True)
    for secret in ["own words", "77.5", "reached"]:
        assert secret not in words
    give = reverse("second-give", args=[cast.club.slug, marking.pk])
    assert client.post(give, {"level_accuracy": 1}).status_code == 422
    sent = SENT | {"level_accuracy": 1, "word_accuracy": "The loin is short.", "overall": "Civil."}
    assert client.post(give, sent).status_code == 302
    marking.refresh_from_db()
    # 3 × 1/4 + 3 × 2/4 + 3 × 4/4 + 1 × 4/4, of 10.
    assert float(marking.second_points) == 62.5
    assert marking.second_words.splitlines() == [
        "Accuracy 1 of 4. The loin is short.",
        "Completeness 2 of 4.",
        "Weighing 4 of 4.",
        "Language 4 of 4.",
        "Civil.",
    ]
    assert Mark.objects.get().score == pytest.approx(0.775)
    return_answer(answer=answer, mentor=cast.mentor)
    marking.refresh_from_db()
    assert (float(marking.first_points), marking.first_words.splitlines()[-1]) == (77.5, said["overall"])
    compared = page_of(cast, "mentor", f"second-markings/{marking.pk}/")
    assert ("Accuracy 3 of 4." in compared, "The loin is short." in compared) == (True, True)


def test_the_key_page_and_its_versions_show_rubric_and_model(cast, item):
    page = page_of(cast, "educator", f"items/{item.pk}/key/")
    assert ("Everything that matters is named." in page, "The model of short." in page) == (True, True)
    assert cast.client("educator").post(f"{CLUB}/items/{item.pk}/key/start/").status_code == 302
    assert 'data-at="model.virtues"' in page_of(cast, "educator", f"items/{item.pk}/key/")


def test_a_class_is_made_previewed_and_answered(cast, edition):
    first, second = (makers.make_exhibit(cast.club, cast.educator) for _ in range(2))
    client = cast.client("educator")
    address = f"{CLUB}/items/new/write-a-critique/?edition={edition.pk}"
    sent = {"exhibits": [first.number, second.number], "title": "", "stem": "Two dogs."}
    assert client.post(address, sent | {"placing": "1"}).status_code == 422
    made = client.post(address, sent | {"placing": f"{second.number}, {first.number}"})
    item = edition.items.get()
    assert made.url == f"{CLUB}/items/{item.pk}/key/"
    assert [row.exhibit for row in item.item_exhibits.all()] == [second, first]
    page = page_of(cast, "educator", f"items/{item.pk}/preview/")
    assert ("Write a critique of this class" in page, "Placed 2" in page, "Two dogs." in page) == (True,) * 3
