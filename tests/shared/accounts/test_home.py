"""The way in."""


def test_signed_out_is_sent_to_sign_in(cast):
    response = cast.client("nobody").get("/")
    assert response.status_code == 302
    assert response.url == "/account/login/?next=/"


def test_member_of_one_club_goes_straight_there(cast):
    response = cast.client("trainee").get("/")
    assert response.url == "/clubs/skerry-drover/"


def test_stranger_does_not_learn_that_the_club_exists(cast):
    assert cast.client("stranger").get("/clubs/skerry-drover/").status_code == 404


def test_the_running_head_shows_who_is_here(cast):
    page = cast.client("educator").get("/clubs/skerry-drover/").content.decode()
    assert "Ishbel Rendall" in page
    assert "Skerry Drover Club" in page
