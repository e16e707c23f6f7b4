"""Who sees what of a second marking."""

from decimal import Decimal

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from assessments.actions.reviews import adjust_mark, pin_comment, return_answer
from assessments.actions.second import ask_second_marking, give_second_mark, pin_second_comment
from assessments.actions.sittings import begin_sitting
from assessments.models import Adjustment, Comment, SecondMarking
from tests import makers
from tests.printed import said_by

CLUB = "/clubs/skerry-drover"
SECRETS = (
    "The comment of the first.",
    "the what of the first",
    "The reason of the first.",
    "17.3",
    "Una Halcro",
)


@pytest.fixture
def answer(cast):
    quiz = makers.make_open_quiz(makers.make_edition(cast.club), cast.educator)
    makers.make_mentorship(cast.mentor, cast.trainee)
    found = makers.make_handed_in(begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get())
    pin_comment(answer=found, author=cast.mentor, text=SECRETS[0], x=0.2, y=0.2)
    adjust_mark(
        answer=found, mentor=cast.mentor, what=SECRETS[1], points=Decimal(SECRETS[3]), reason=SECRETS[2]
    )
    return found


@pytest.fixture
def other(cast):
    return makers.make_mentor(cast.club, "Thora Garrioch")


@pytest.fixture
def marking(cast, answer, other):
    return_answer(answer=answer, mentor=cast.mentor)
    return ask_second_marking(answer=answer, second=other, by=cast.mentor, why="Please look.")


def client_of(cast, member):
    client = cast.client("nobody")
    client.force_login(member.person, "django.contrib.auth.backends.ModelBackend")
    return client


def page(client, address):
    return client.get(f"{CLUB}/{address}").content.decode()


def record_files(cast):
    client = cast.client("trainee")
    return "".join(said_by(client.get(f"{CLUB}/record/record.{kind}")) for kind in ("json", "pdf"))


@pytest.mark.parametrize("mentors_them_too", [False, True])
def test_the_second_mentor_meets_nothing_of_the_first_before_giving_their_mark(
    cast, marking, other, mentors_them_too
):
    if mentors_them_too:
        makers.make_mentorship(other, cast.trainee)
    client = client_of(cast, other)
    # In the queue a mentor's trainees are named to choose from.
    secrets = SECRETS[:4] if mentors_them_too else SECRETS
    addresses = [f"second-markings/{marking.pk}/", "reviews/", "reviews/?order=age", ""]
    for address in addresses:
        said = page(client, address)
        assert [secret for secret in secrets if secret in said] == [], address
    if mentors_them_too:
        listed = page(client, f"trainees/{cast.trainee.pk}/")
        assert [secret for secret in SECRETS[:4] if secret in listed] == []
    for address in (f"reviews/{marking.answer_id}/", f"reviews/{marking.answer_id}/second/"):
        assert client.get(f"{CLUB}/{address}").status_code == 404
    response = client.post(f"{CLUB}/second-markings/{marking.pk}/comment/", {"text": ""})
    assert [secret for secret in SECRETS if secret in response.content.decode()] == []


def test_once_given_both_stand_side_by_side_with_their_difference(cast, marking, other):
    client = client_of(cast, other)
    client.post(f"{CLUB}/second-markings/{marking.pk}/comment/", {"text": "The arm.", "x": "0.3", "y": "0.4"})
    response = client.post(
        f"{CLUB}/second-markings/{marking.pk}/give/",
        {"points": "20", "words": "Seen in the note."},
        follow=True,
    )
    said = response.content.decode()
    for words in (*SECRETS[:1], *SECRETS[2:4], "20.0", "+2.7", "The arm.", "Seen in the note."):
        assert words in said
    assert "Una Halcro" not in said
    assert "Settle it" not in said
    assert Comment.objects.get(text="The arm.").second == marking


def test_the_first_mentor_does_not_see_the_second_mark_before_the_answer_is_returned(cast, answer, other):
    marking = ask_second_marking(answer=answer, second=other, by=cast.educator, why="Please look.")
    pin_second_comment(marking=marking, text="The arm.", x=0.3, y=0.4)
    give_second_mark(marking=marking, points=Decimal("43.7"), words="Words of the second.")
    for who in ("mentor", "educator"):
        said = page(cast.client(who), f"second-markings/{marking.pk}/")
        assert "43.7" not in said
        assert "Words of the second." not in said
    review = page(cast.client("mentor"), f"reviews/{answer.pk}/")
    assert "Thora Garrioch was asked on" in review
    assert [words for words in ("43.7", "Words of the second.", "The arm.") if words in review] == []
    return_answer(answer=answer, mentor=cast.mentor)
    assert "43.7" in page(cast.client("mentor"), f"second-markings/{marking.pk}/")


def test_the_trainee_sees_nothing_of_it_but_what_was_settled(cast, marking, other):
    pin_second_comment(marking=marking, text="The arm.")
    give_second_mark(marking=marking, points=Decimal("43.7"), words="Words of the second.")
    address = f"answers/{marking.answer_id}/"
    before = page(cast.client("trainee"), address) + record_files(cast)
    assert [words for words in ("43.7", "Thora", "The arm.") if words in before] == []
    response = cast.client("educator").post(
        f"{CLUB}/second-markings/{marking.pk}/settle/",
        {"stands": "other", "points": "30", "reason": "The clause asks for more."},
    )
    assert response.status_code == 302
    after = page(cast.client("trainee"), address) + record_files(cast)
    assert "Adjusted by the club: two marks compared" in after
    assert "The clause asks for more." in after
    assert [words for words in ("43.7", "Thora", "Ishbel", "The arm.") if words in after] == []
    assert "was marked twice and compared: your mark is 30.0 of 100." in page(
        cast.client("trainee"), "record/"
    )


@pytest.mark.parametrize(
    ("sent", "error"),
    [
        ({"reason": "r"}, "Choose the mark that stands."),
        ({"stands": "other", "reason": "kept words"}, "Give the mark that stands."),
        ({"stands": "first", "points": "3", "reason": "kept words"}, "choose “Another”, or leave it empty"),
        ({"stands": "other", "points": "101", "reason": "kept words"}, "less than or equal to 100"),
        ({"stands": "first"}, "This field is required."),
    ],
)
def test_an_incomplete_settlement_is_refused_beside_its_field(cast, marking, sent, error):
    give_second_mark(marking=marking, points=Decimal(40), words="w")
    response = cast.client("educator").post(f"{CLUB}/second-markings/{marking.pk}/settle/", sent)
    assert response.status_code == 422
    assert error in response.content.decode()
    assert sent.get("reason", "") in response.content.decode()
    assert not SecondMarking.objects.exclude(settled_at=None).exists()


@pytest.mark.parametrize(
    ("sent", "error"), [({"points": "40"}, "required"), ({"points": "x", "words": "kept"}, "Enter a number")]
)
def test_an_incomplete_second_mark_is_refused(cast, marking, other, sent, error):
    response = client_of(cast, other).post(f"{CLUB}/second-markings/{marking.pk}/give/", sent)
    assert response.status_code == 422
    assert error in response.content.decode()
    assert sent.get("words", "") in response.content.decode()


def test_an_educator_asks_for_any_answer_of_the_club_a_mentor_for_their_trainees_only(cast, answer, other):
    address = f"{CLUB}/reviews/{answer.pk}/second/"
    assert client_of(cast, other).get(address).status_code == 404
    assert cast.client("mentor").get(address).status_code == 200
    response = cast.client("educator").post(
        address, {"second": other.pk, "why": "Near the mark."}, follow=True
    )
    assert "Thora Garrioch is asked, and sees nothing of what was said so far." in response.content.decode()
    assert "Second marking: Forequarters in profile, item 1" in page(client_of(cast, other), "reviews/")


def test_an_educator_finds_adjusted_marks_without_names_and_asks_from_there(cast, answer):
    said = page(cast.client("educator"), "mentoring/marks/")
    for words in ("1 mark adjusted by a mentor", "the what of the first", "Magnus Flett", "0.0 +17.3"):
        assert words in said
    assert f"{CLUB}/reviews/{answer.pk}/second/" in said
    assert "Una Halcro" not in said


def test_somebody_without_a_part_in_it_finds_nothing(cast, marking):
    stranger_to_it = makers.make_mentor(cast.club, "Sweyn Manson")
    assert client_of(cast, stranger_to_it).get(f"{CLUB}/second-markings/{marking.pk}/").status_code == 404
    response = cast.client("mentor").post(
        f"{CLUB}/second-markings/{marking.pk}/give/", {"points": 1, "words": "w"}
    )
    assert response.status_code == 404


def test_who_marks_second_settles_nothing(cast, marking, other):
    give_second_mark(marking=marking, points=Decimal(40), words="w")
    response = client_of(cast, other).post(
        f"{CLUB}/second-markings/{marking.pk}/settle/", {"stands": "second", "reason": "r"}, follow=True
    )
    assert "Who marked second does not settle it." in response.content.decode()
    assert not Adjustment.objects.exclude(second=None).exists()


def test_the_pages_cost_little(cast, marking, other):
    pin_second_comment(marking=marking, text="The arm.")
    second, educator = client_of(cast, other), cast.client("educator")
    with CaptureQueriesContext(connection) as blind:
        page(second, f"second-markings/{marking.pk}/")
    give_second_mark(marking=marking, points=Decimal(40), words="w")
    with CaptureQueriesContext(connection) as compared:
        page(educator, f"second-markings/{marking.pk}/")
    assert len(blind) < 13
    assert len(compared) < 13
