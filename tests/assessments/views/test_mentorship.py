"""The secretary assigns mentors."""

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from assessments.actions.mentorship import assign_mentor
from assessments.models import Mentorship
from assessments.rules import Refused
from shared.accounts.models import Membership
from tests.makers import make_member, make_mentorship

MEMBERS = "/clubs/skerry-drover/members/"


def page_of(cast):
    return f"{MEMBERS}{cast.trainee.pk}/mentors/"


def test_a_mentor_is_assigned_and_sees_the_trainee(cast):
    page = (
        cast.client("secretary").post(page_of(cast), {"mentor": cast.mentor.pk}, follow=True).content.decode()
    )
    assert "Magnus Flett now sees the answers of Una Halcro." in page
    mentorship = Mentorship.objects.get()
    assert (mentorship.mentor, mentorship.trainee, mentorship.ended_at) == (cast.mentor, cast.trainee, None)
    assert "Una Halcro" in cast.client("mentor").get("/clubs/skerry-drover/trainees/").content.decode()


def test_the_end_takes_the_trainee_from_the_mentor(cast):
    mentorship = make_mentorship(cast.mentor, cast.trainee)
    page = (
        cast.client("secretary")
        .post(f"/clubs/skerry-drover/mentorships/{mentorship.pk}/end/", follow=True)
        .content.decode()
    )
    assert "Magnus Flett no longer mentors Una Halcro." in page
    assert "Una Halcro" not in cast.client("mentor").get("/clubs/skerry-drover/trainees/").content.decode()
    mentorship.refresh_from_db()
    ended = mentorship.ended_at
    cast.client("secretary").post(f"/clubs/skerry-drover/mentorships/{mentorship.pk}/end/")
    mentorship.refresh_from_db()
    assert mentorship.ended_at == ended


@pytest.mark.parametrize("who", ["educator", "trainee", "stranger", None])
def test_only_a_mentor_of_the_club_can_be_chosen(cast, who):
    chosen = getattr(cast, who).pk if who else ""
    response = cast.client("secretary").post(page_of(cast), {"mentor": chosen})
    assert response.status_code == 422
    assert "Choose a mentor" in response.content.decode()
    assert not Mentorship.objects.exists()


def test_nobody_mentors_themselves_or_another_club(cast):
    Membership.objects.filter(pk=cast.trainee.pk).update(mentor=True)
    cast.trainee.refresh_from_db()
    for mentor, trainee in [
        (cast.trainee, cast.trainee),
        (cast.stranger, cast.trainee),
        (cast.mentor, cast.mentor),
    ]:
        with pytest.raises(Refused):
            assign_mentor(mentor=mentor, trainee=trainee)


def test_the_same_mentor_is_assigned_once_and_again_after_the_end(cast):
    first = assign_mentor(mentor=cast.mentor, trainee=cast.trainee)
    with pytest.raises(Refused, match="is a mentor of this trainee already"):
        assign_mentor(mentor=cast.mentor, trainee=cast.trainee)
    Mentorship.objects.filter(pk=first.pk).update(ended_at=timezone.now())
    assert assign_mentor(mentor=cast.mentor, trainee=cast.trainee).pk != first.pk


def test_a_trainee_has_a_few_mentors_at_most(cast):
    for n in range(4):
        assign_mentor(mentor=make_member(cast.club, f"Mentor {n}", mentor=True), trainee=cast.trainee)
    response = cast.client("secretary").post(page_of(cast), {"mentor": cast.mentor.pk})
    assert response.status_code == 422
    assert "A trainee has at most 4 mentors." in response.content.decode()


def test_without_mentors_the_page_says_how_to_get_one(cast):
    Membership.objects.filter(pk=cast.mentor.pk).update(left_at=timezone.now())
    page = cast.client("secretary").get(page_of(cast)).content.decode()
    assert "No other member is a mentor." in page
    assert "/clubs/skerry-drover/invitations/new/?role=mentor" in page


def test_members_show_their_mentors_at_the_same_cost_for_one_and_for_many(cast, django_assert_num_queries):
    client = cast.client("secretary")
    make_mentorship(cast.mentor, cast.trainee)
    with CaptureQueriesContext(connection) as few:
        page = client.get(MEMBERS).content.decode()
    assert page.count("mentored by") == 1
    for n in range(3):
        make_mentorship(cast.mentor, make_member(cast.club, f"Trainee {n}", trainee=True))
    with django_assert_num_queries(len(few)):
        page = client.get(MEMBERS).content.decode()
    assert page.count("mentored by") == 4
    assert "no mentor yet" not in page


def test_a_mentor_who_left_or_lost_the_role_no_longer_counts(cast):
    make_mentorship(cast.mentor, cast.trainee)
    Membership.objects.filter(pk=cast.mentor.pk).update(mentor=False, educator=True)
    assert "no mentor yet" in cast.client("secretary").get(MEMBERS).content.decode()


def test_the_day_s_page_names_who_has_no_mentor(cast):
    client, day = cast.client("secretary"), "/clubs/skerry-drover/"
    page = client.get(day).content.decode()
    assert "Una Halcro has no mentor." in page
    assert page_of(cast) in page
    make_member(cast.club, "Thora Garrioch", trainee=True)
    assert "2 trainees have no mentor." in client.get(day).content.decode()
    for trainee in Membership.objects.filter(club=cast.club, trainee=True):
        make_mentorship(cast.mentor, trainee)
    assert "no mentor" not in client.get(day).content.decode()
