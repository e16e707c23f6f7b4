"""What assessments put on the day's page."""

from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments.actions.items import retire_item
from assessments.actions.keys import discard_draft, start_draft
from assessments.actions.reviews import ask_query, return_answer
from assessments.actions.sittings import begin_sitting
from shared.web.home import QUERIES_PER_PART
from tests.makers import make_edition, make_handed_in, make_keyed_item, make_mentorship, make_open_quiz

DAY = "/clubs/skerry-drover/"


def day_of(cast, who):
    return cast.client(who).get(DAY).content.decode()


def test_a_trainee_without_anything_is_told_what_will_be_here(cast):
    page = day_of(cast, "trainee")
    assert "Quizzes that the club opens will be here." in page
    assert "You have no mentor yet. The club’s secretary assigns one." in page
    make_mentorship(cast.mentor, cast.trainee)
    assert "When Magnus Flett has looked at an answer, what was said will be here" in day_of(cast, "trainee")


def test_a_quiz_is_open_then_begun_then_marked(cast, edition):
    quiz = make_open_quiz(edition, cast.educator, items=2)
    assert f'<a href="{DAY}quizzes/{quiz.pk}/">Forequarters in profile</a>' in day_of(cast, "trainee")
    sitting = begin_sitting(quiz=quiz, trainee=cast.trainee)
    first, second = sitting.answers.all()
    make_handed_in(first)
    page = day_of(cast, "trainee")
    assert f'<a href="{DAY}sittings/{sitting.pk}/">Forequarters in profile</a>' in page
    assert "item 2 of 2" in page
    assert page.count("Forequarters in profile") == 1
    make_handed_in(second)
    assert "item 2 of 2" not in day_of(cast, "trainee")
    assert " on " in day_of(cast, "trainee")


def test_another_trainee_s_sitting_and_another_club_s_quiz_stay_away(cast, edition):
    theirs = make_open_quiz(make_edition(cast.other_club), cast.stranger, title="Heads")
    begin_sitting(quiz=theirs, trainee=cast.stranger)
    assert "Heads" not in day_of(cast, "trainee")


def test_an_answer_goes_to_the_mentor_and_comes_back_as_news(cast, edition):
    quiz = make_open_quiz(edition, cast.educator)
    answer = make_handed_in(begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get())
    assert "Nothing waits for you." in day_of(cast, "mentor")
    make_mentorship(cast.mentor, cast.trainee)
    page = day_of(cast, "mentor")
    assert "An answer waits for you." in page
    assert "The first since" in page
    assert f"{DAY}reviews/{answer.pk}/" in page
    ask_query(answer=answer, text="Is the arm not short as well?")
    assert "The first asks about its mark." in day_of(cast, "mentor")
    return_answer(answer=answer, mentor=cast.mentor)
    assert "Nothing waits for you." in day_of(cast, "mentor")
    page = day_of(cast, "trainee")
    assert "Magnus Flett has looked at Forequarters in profile, item 1." in page
    assert "<strong>new</strong>" in page
    cast.client("trainee").get(f"{DAY}answers/{answer.pk}/")
    assert "<strong>new</strong>" not in day_of(cast, "trainee")


def test_keys_in_work_wait_for_their_educator(cast, edition):
    assert "in work" not in day_of(cast, "educator")
    first, second = make_keyed_item(edition, cast.educator), make_keyed_item(edition, cast.educator)
    start_draft(item=first, by=cast.educator.person)
    page = day_of(cast, "educator")
    assert "A key is in work." in page
    assert "Exhibit 1. Nothing changes for trainees until it is published." in page
    start_draft(item=second, by=cast.educator.person)
    page = day_of(cast, "educator")
    assert "2 keys are in work." in page
    assert "Exhibit 2, Exhibit 1." in page
    assert f"{DAY}items/{second.pk}/key/" in page
    retire_item(item=second)
    discard_draft(item=first)
    assert "in work" not in day_of(cast, "educator")


def test_the_page_costs_no_more_for_many_than_for_one(cast, edition):
    make_mentorship(cast.mentor, cast.trainee)

    def one_more(title):
        quiz = make_open_quiz(edition, cast.educator, items=2, title=title)
        first = begin_sitting(quiz=quiz, trainee=cast.trainee).answers.first()
        return_answer(answer=make_handed_in(first), mentor=cast.mentor)
        make_open_quiz(edition, cast.educator, title=f"{title}, again")

    def cost(who):
        client = cast.client(who)
        with CaptureQueriesContext(connection) as queries:
            client.get(DAY)
        return len(queries)

    one_more("First")
    few = {who: cost(who) for who in ("trainee", "mentor")}
    for n in range(4):
        one_more(f"Quiz {n}")
    assert all(cost(who) <= few[who] for who in few)
    assert max(few.values()) <= 4 * QUERIES_PER_PART
