"""What a permission's end takes: named beforehand, and gone everywhere at once."""

import uuid

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments.actions.items import make_item
from assessments.actions.keys import publish_key, save_draft
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.rules import Refused
from courses.models import Exhibit
from tests.makers import (
    SHOULDER,
    entry,
    make_fault,
    make_mentorship,
    make_module,
    make_plate,
    make_published,
    pin,
    said,
)

HERE = "/clubs/skerry-drover/exhibits/1/"


@pytest.fixture
def exhibit(cast, edition):
    return make_published(cast.club, cast.educator, breed=edition.breed)


def asked_about(edition, exhibit, by, title="Forequarters in profile"):
    fault = edition.breed.faults.first() or make_fault(edition)
    quiz = make_quiz(edition=edition, title=title, by=by.person)
    item = make_item(edition=edition, exhibit=exhibit, by=by.person)
    key = item.keys.get()
    save_draft(key=key, sound=False, note="", entries=[entry(fault, [SHOULDER])], by=by.person)
    publish_key(item=item, by=by.person)
    add_item(quiz=quiz, item=item)
    open_quiz(quiz=quiz)
    return quiz


def words(page):
    return " ".join(page.content.decode().split())


def test_plates_modules_and_quizzes_are_named(cast, edition, exhibit):
    plate = make_plate(edition, cast.educator, number=7, incorrect=[exhibit])
    make_module(edition, plate, title="Forequarters")
    quiz = asked_about(edition, exhibit, cast.educator)
    begin_sitting(quiz=quiz, trainee=cast.trainee)
    for who in ("secretary", "educator"):
        text = words(cast.client(who).get(HERE + "uses/"))
        assert "Plate 7" in text
        assert "Forequarters" in text
        assert "Forequarters in profile" in text
        assert "one trainee is answering it" in text
        assert "The picture is shown in these places." in text
    assert f"/quizzes/{quiz.pk}/" not in words(cast.client("secretary").get(HERE + "uses/"))


def test_taking_the_word_back_leads_to_what_it_took(cast, edition, exhibit):
    make_plate(edition, cast.educator, number=7, incorrect=[exhibit])
    text = words(cast.client("secretary").post(HERE + "permission/withdraw/", follow=True))
    assert "Noted. The picture has left every plate, quiz and handout." in text
    assert "shown in none of these places now: permission withdrawn" in text
    assert "Plate 7" in text


def test_an_exhibit_that_nothing_uses_says_so(cast, exhibit):
    assert "Nothing uses it yet." in words(cast.client("secretary").get(HERE + "uses/"))


def test_one_use_and_many_cost_the_same(cast, edition, exhibit, django_assert_num_queries):
    make_module(edition, make_plate(edition, cast.educator, incorrect=[exhibit]))
    asked_about(edition, exhibit, cast.educator)
    client = cast.client("educator")
    with CaptureQueriesContext(connection) as few:
        client.get(HERE + "uses/")
    for number in range(3):
        make_module(edition, make_plate(edition, cast.educator, number=20 + number, incorrect=[exhibit]))
        asked_about(edition, exhibit, cast.educator, title=f"Another {number}")
    with django_assert_num_queries(len(few)):
        client.get(HERE + "uses/")


@pytest.mark.parametrize("ends", ["withdrawn", "expired"])
def test_a_picture_whose_permission_ended_is_a_blank_on_every_page_of_trainee_and_mentor(
    cast, edition, exhibit, ends
):
    plate = make_plate(edition, cast.educator, incorrect=[exhibit])
    module = make_module(edition, plate)
    quiz = asked_about(edition, exhibit, cast.educator)
    make_mentorship(cast.mentor, cast.trainee)
    done = begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get()
    content = said(pin(0.35, 0.47, edition.breed.faults.get(), 1))
    save_answer(answer=done, sent=content, seen=0, identity=uuid.uuid4())
    hand_in(answer=done)
    going = begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get()
    club = "/clubs/skerry-drover/"
    pages = {
        "trainee": [
            *(club, f"{club}study/", f"{club}study/{module.pk}/{module.places.get().pk}/"),
            *(f"{club}plates/{plate.pk}/compare/", f"{club}answers/{done.pk}/", f"{club}answers/{going.pk}/"),
        ],
        "mentor": [club, f"{club}reviews/", f"{club}reviews/{done.pk}/", f"{club}plates/{plate.pk}/compare/"],
    }
    names = list(exhibit.renditions.values_list("name", flat=True))
    seen = {url: words(cast.client(who).get(url)) for who in pages for url in pages[who]}
    assert sum(any(name in text for name in names) for text in seen.values()) >= 6
    if ends == "withdrawn":
        cast.client("secretary").post(HERE + "permission/withdraw/")
    else:
        exhibit.permissions.update(starts_on="2020-01-01", ends_on="2020-02-01")
    for who, urls in pages.items():
        client = cast.client(who)
        for url in urls:
            text = words(client.get(url))
            assert not [name for name in names if name in text], url
            if any(name in seen[url] for name in names):
                assert "Picture withdrawn" in text, url
        assert {client.get(f"{club}pictures/{name}").status_code for name in names} == {404}


def test_a_new_sitting_leaves_out_what_may_not_be_shown(cast, edition, exhibit):
    quiz = asked_about(edition, exhibit, cast.educator)
    Exhibit.objects.filter(pk=exhibit.pk).update(state="withdrawn")
    with pytest.raises(Refused, match="may be shown at present"):
        begin_sitting(quiz=quiz, trainee=cast.trainee)
    assert not quiz.sittings.exists()
