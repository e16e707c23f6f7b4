"""The page on which parts of a picture are blanked."""

import json

from django.core.files.storage import default_storage

from courses.actions.blanking import state_of_picture
from courses.models import Exhibit
from tests.makers import make_exhibit, make_photograph

HERE = "/clubs/skerry-drover/exhibits/1/"
BOX = [[0.1, 0.1], [0.4, 0.1], [0.4, 0.3], [0.1, 0.3]]


def send(client, exhibit, shapes, seen=None):
    form = {"shapes": json.dumps(shapes), "seen": seen or state_of_picture(exhibit)}
    return client.post(HERE + "blank/", form, follow=True)


def drawn(page):
    return json.loads(
        page.content.decode().split('id="blanks" type="application/json">')[1].split("</script>")[0]
    )


def test_what_is_drawn_is_blanked_and_told(cast):
    exhibit, client = make_photograph(cast.club, cast.educator), cast.client("educator")
    page = send(client, exhibit, [BOX])
    assert "One part is painted over in every size of the picture." in page.content.decode()
    assert drawn(page)["burnt"] == [BOX]
    assert "One part is blanked" in client.get(HERE).content.decode()
    page = send(client, exhibit, [])
    assert "Nothing is painted over any more." in page.content.decode()


def test_what_could_not_be_done_is_said_and_what_was_drawn_is_kept(cast):
    exhibit, client = make_photograph(cast.club, cast.educator), cast.client("educator")
    page = send(client, exhibit, [BOX], seen="another")
    assert page.status_code == 422
    assert "changed meanwhile by someone else" in page.content.decode()
    assert drawn(page)["shapes"] == [BOX]
    assert drawn(page)["burnt"] == []
    page = client.post(HERE + "blank/", {"shapes": "{", "seen": state_of_picture(exhibit)})
    assert page.status_code == 422
    assert "could not be read" in page.content.decode()


def test_a_lost_original_is_said(cast):
    exhibit = make_photograph(cast.club, cast.educator)
    default_storage.delete(exhibit.original.name)
    page = send(cast.client("educator"), exhibit, [BOX])
    assert page.status_code == 422
    assert "could not be read. Nothing was changed." in page.content.decode()


def test_deleting_the_original_is_asked_with_what_it_means(cast):
    make_photograph(cast.club, cast.educator)
    client = cast.client("educator")
    assert "There is no undo" in client.get(HERE + "blank/").content.decode()
    answer = client.post(HERE + "original/", follow=True)
    assert "The file that was taken in is deleted." in answer.content.decode()
    assert Exhibit.objects.get().original.name == ""
    page = client.get(HERE + "blank/")
    assert "what is painted over stays so" in page.content.decode()
    assert drawn(page)["fixed"] is True
    assert "It is deleted already." in client.post(HERE + "original/", follow=True).content.decode()


def test_a_drawing_has_no_such_page_and_a_secretary_may_not(cast):
    make_exhibit(cast.club, cast.educator)
    assert cast.client("educator").get(HERE + "blank/").status_code == 404
    assert cast.client("secretary").get(HERE + "blank/").status_code == 403
