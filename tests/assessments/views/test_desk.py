"""The quiz desk in the browser: making, ordering, opening, closing; the rules of marking."""

import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments.actions.quizzes import add_item, make_quiz
from assessments.actions.sittings import begin_sitting
from assessments.models import Item, Quiz, QuizRules
from courses.models import Course, Module, Place
from tests import makers

CLUB = "/clubs/skerry-drover"


@pytest.fixture
def client(cast):
    return cast.client("educator")


@pytest.fixture
def quiz(cast, edition):
    return make_quiz(edition=edition, title="Forequarters", by=cast.educator.person)


def text_of(response):
    words = re.sub(r"<[^>]+>", " ", response.content.decode())
    return re.sub(r"\s+", " ", words).replace(" ,", ",")


def exhibits_of(quiz):
    return list(quiz.quiz_items.values_list("item__exhibit__number", flat=True))


def test_the_desk_shows_each_quiz_with_what_it_lacks_and_one_verb(cast, client, edition, quiz):
    makers.make_open_quiz(edition, cast.educator, items=2, title="Toplines")
    closed = makers.make_open_quiz(edition, cast.educator, title="Feet")
    Quiz.objects.filter(pk=closed.pk).update(state="closed")
    begin_sitting(quiz=Quiz.objects.get(title="Toplines"), trainee=cast.trainee)
    page = text_of(client.get(f"{CLUB}/quizzes/"))
    for said in [
        "Draft 1 Forequarters Edition of 2026. 0 items. One thing is missing: Add at least one "
        "item. Go on making it",
        "Open 1 Picture withdrawn Toplines Edition of 2026. 2 items, 0 sound. 1 sitting, 1 under way. "
        "Change it",
        "Closed 1 Picture withdrawn Feet Edition of 2026. 1 item, 0 sound. Open it again",
    ]:
        assert said in page


def test_a_trainee_sees_no_desk(cast, quiz):
    assert "Forequarters" not in cast.client("trainee").get(f"{CLUB}/quizzes/").content.decode()


def test_a_quiz_is_made_for_an_edition_of_the_club(cast, client, edition):
    other = makers.make_edition(cast.other_club)
    refused = client.post(f"{CLUB}/quizzes/new/", {"title": "Necks", "edition": other.pk})
    assert refused.status_code == 422
    assert "Necks" in refused.content.decode()
    made = client.post(
        f"{CLUB}/quizzes/new/", {"title": "Necks", "edition": edition.pk, "introduction": "Look."}
    )
    quiz = Quiz.objects.get()
    assert made.url == f"{CLUB}/quizzes/{quiz.pk}/edit/"
    assert (quiz.title, quiz.edition, quiz.introduction, quiz.state) == ("Necks", edition, "Look.", "draft")


def test_a_quiz_for_a_place_stands_there_and_no_second_one_does(cast, client, edition):
    course = Course.objects.create(edition=edition, title="The whole dog")
    module = Module.objects.create(course=course, position=0, title="The neck")
    place = Place.objects.create(module=module, position=0, kind="quiz", title="Necks")
    address = f"{CLUB}/quizzes/new/?place={place.pk}"
    assert 'value="Necks"' in client.get(address).content.decode()
    client.post(address, {"title": "Necks", "edition": edition.pk})
    assert Quiz.objects.get().place == place
    assert client.get(address).status_code == 404
    assert client.get(f"{CLUB}/quizzes/new/?place=²").status_code == 404


def test_words_that_cannot_be_kept_are_said_beside_the_field(client, quiz):
    response = client.post(f"{CLUB}/quizzes/{quiz.pk}/edit/", {"title": "", "introduction": "Look twice."})
    assert response.status_code == 422
    page = response.content.decode()
    assert "Look twice." in page
    assert "<h1>Forequarters</h1>" in page
    client.post(f"{CLUB}/quizzes/{quiz.pk}/edit/", {"title": "Shoulders", "introduction": "Look twice."})
    quiz.refresh_from_db()
    assert (quiz.title, quiz.introduction) == ("Shoulders", "Look twice.")


def test_exhibits_are_chosen_by_view_and_verdict_and_become_items(cast, client, quiz):
    for view, verdict in [("profile", "correct"), ("profile", "incorrect"), ("rear", "incorrect")]:
        makers.make_exhibit(cast.club, cast.educator, view=view, verdict=verdict)
    makers.make_exhibit(cast.other_club, cast.stranger, breed=makers.make_breed(cast.other_club))
    address = f"{CLUB}/quizzes/{quiz.pk}/items/add/"
    offered = client.get(f"{address}?view=profile&verdict=incorrect").content.decode()
    assert re.findall(r'name="exhibit" value="(\d+)"', offered) == ["2"]
    assert client.post(address).status_code == 422
    client.post(address, {"exhibit": [1, 3]})
    assert exhibits_of(quiz) == [1, 3]
    assert re.findall(r'value="(\d+)"> <span class="ref"', client.get(address).content.decode()) == ["2"]
    assert client.post(address, {"exhibit": [1]}).status_code == 422, "It is in the quiz already."


def test_items_are_moved_taken_out_and_put_back(cast, client, edition, quiz):
    items = [makers.make_keyed_item(edition, cast.educator) for _ in range(3)]
    for item in items:
        add_item(quiz=quiz, item=item)
    row = f"{CLUB}/quizzes/{quiz.pk}/items/{items[2].pk}"
    fragment = client.post(f"{row}/move/", {"way": "up"}, headers={"HX-Request": "true"})
    assert fragment.content.decode().lstrip().startswith('<section id="_items"')
    assert exhibits_of(quiz) == [1, 3, 2]
    assert client.post(f"{row}/move/", {"way": "up"}).status_code == 302
    assert exhibits_of(quiz) == [3, 1, 2]
    out = client.post(f"{row}/remove/")
    assert exhibits_of(quiz) == [1, 2]
    page = text_of(client.get(out.url))
    assert "Exhibit 3 is out of the quiz. Undo" in page
    client.post(f"{row}/put-back/", {"at": 0})
    assert exhibits_of(quiz) == [3, 1, 2]
    assert "out of the quiz" not in text_of(client.get(out.url))


def test_a_quiz_without_a_sound_exhibit_is_cautioned(cast, client, edition, quiz):
    address = f"{CLUB}/quizzes/{quiz.pk}/edit/"
    add_item(quiz=quiz, item=makers.make_keyed_item(edition, cast.educator))
    page = text_of(client.get(address))
    assert "0 of 1 is sound" in page
    assert "Without any, trainees learn that there is always a fault." in page
    add_item(quiz=quiz, item=makers.make_keyed_item(edition, cast.educator, entries=[]))
    page = text_of(client.get(address))
    assert "1 of 2 are sound" in page
    assert "always a fault" not in page


def test_opening_says_what_is_missing_and_closing_lets_nobody_begin(cast, client, edition, quiz):
    refused = client.post(f"{CLUB}/quizzes/{quiz.pk}/open/", follow=True)
    assert "Not opened yet. Add at least one item." in text_of(refused)
    add_item(quiz=quiz, item=makers.make_keyed_item(edition, cast.educator))
    client.post(f"{CLUB}/quizzes/{quiz.pk}/open/")
    assert Quiz.objects.get().state == "open"
    client.post(f"{CLUB}/quizzes/{quiz.pk}/close/")
    assert cast.client("trainee").post(f"{CLUB}/quizzes/{quiz.pk}/begin/").status_code == 409


def test_a_quiz_nobody_began_can_be_removed(cast, client, edition, quiz):
    begun = makers.make_open_quiz(edition, cast.educator, title="Toplines")
    begin_sitting(quiz=begun, trainee=cast.trainee)
    for each in (quiz, begun):
        client.post(f"{CLUB}/quizzes/{each.pk}/remove/")
    assert Quiz.objects.get() == begun
    assert Item.objects.count() == 1


def test_the_desk_and_a_quiz_ask_as_often_for_three_as_for_one(cast, client, edition, quiz):
    def queries(address):
        with CaptureQueriesContext(connection) as caught:
            assert client.get(address).status_code == 200
        return len(caught)

    addresses = [
        f"{CLUB}/quizzes/",
        f"{CLUB}/quizzes/{quiz.pk}/edit/",
        f"{CLUB}/quizzes/{quiz.pk}/items/add/",
    ]
    add_item(quiz=quiz, item=makers.make_keyed_item(edition, cast.educator))
    makers.make_exhibit(cast.club, cast.educator)
    few = [queries(address) for address in addresses]
    for title in ("Necks", "Feet"):
        makers.make_open_quiz(edition, cast.educator, items=2, title=title)
        add_item(quiz=quiz, item=makers.make_keyed_item(edition, cast.educator))
        makers.make_exhibit(cast.club, cast.educator)
    assert [queries(address) for address in addresses] == few


RULES = {
    "see": "0.4",
    "name": "0.35",
    "weigh": "0.25",
    "tolerance": "0.05",
    "reach_in_heights": "on",
    "false_alarm": "0.25",
    "disqualifying_cap": "0.5",
    "unweighed_level": "1",
}


@pytest.mark.parametrize(
    ("change", "field", "words"),
    [
        ({"see": "1.2"}, "see", "see is 1.2; it must lie between 0 and 1"),
        ({"weigh": "0.3"}, "see", "see 0.4, name 0.35 and weigh 0.3 sum to 1.05; they must sum to 1"),
        ({"tolerance": "0"}, "tolerance", "tolerance is 0.0; it must be a finite number above 0"),
        (
            {"false_alarm": "-1"},
            "false_alarm",
            "false_alarm is -1.0; it must be a finite number, not below 0",
        ),
        ({"disqualifying_cap": "2"}, "disqualifying_cap", "disqualifying_cap is 2.0; it must lie between"),
        ({"unweighed_level": "3"}, "unweighed_level", "is not one of the available choices"),
        ({"see": "inf"}, "see", "Enter a number."),
    ],
)
def test_rules_are_refused_in_their_own_words_beside_the_field(client, quiz, change, field, words):
    response = client.post(f"{CLUB}/quizzes/{quiz.pk}/edit/rules/", RULES | change)
    assert response.status_code == 422
    form = response.context["form"]
    assert list(form.errors) == [field]
    assert words in form.errors[field][0]
    assert QuizRules.objects.count() == 1
    assert 'id="id_see_error"' in response.content.decode() or field != "see"


def test_changed_rules_are_a_new_version_and_the_same_ones_are_not(client, quiz):
    address = f"{CLUB}/quizzes/{quiz.pk}/edit/rules/"
    assert "no new version was made" in text_of(client.post(address, RULES, follow=True))
    assert QuizRules.objects.count() == 1
    said = client.post(address, RULES | {"see": "0.5", "name": "0.3", "weigh": "0.2"}, follow=True)
    assert "Rules version 2 is in use." in text_of(said)
    newest = quiz.rules_versions.first()
    assert (newest.version, newest.rules["see"], newest.rules["reach_in_heights"]) == (2, 0.5, True)
    assert quiz.rules_versions.last().rules["see"] == 0.4


def test_rules_say_what_saving_sets_in_motion_and_read_in_words_before_it(cast, client, edition):
    quiz = makers.make_open_quiz(edition, cast.educator)
    address = f"{CLUB}/quizzes/{quiz.pk}/edit/rules/"
    assert "Nothing has been answered yet: no mark changes." in text_of(client.get(address))
    makers.make_handed_in(begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get())
    page = text_of(client.get(address))
    assert "Saving re-marks 1 answer" in page
    assert "Marks given before stay on record." in page
    preview = client.get(address, RULES | {"false_alarm": "0.6"}, headers={"HX-Request": "true"})
    assert "costs 60 % of its weight" in text_of(preview)
    wrong = client.get(address, RULES | {"see": "2"}, headers={"HX-Request": "true"})
    assert "see is 2.0; it must lie between 0 and 1" in text_of(wrong)
    assert QuizRules.objects.filter(quiz=quiz).count() == 1
