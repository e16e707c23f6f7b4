"""What a page says of a picture, and what it keeps to itself."""

import re

import pytest
from django.template import Context, Template
from django.test import RequestFactory

from courses.actions.exhibit import show_fault
from courses.models import Exhibit
from courses.queries.exhibit import with_pictures
from tests.makers import make_edition, make_fault, make_photograph, make_published


def shown(cast, exhibit: Exhibit, options: str = "") -> str:
    request = RequestFactory().get("/")
    request.club = cast.club
    found = with_pictures(Exhibit.objects.filter(pk=exhibit.pk)).get()
    template = Template("{% load pictures %}{% picture exhibit sizes='50vw' " + options + " %}")
    return template.render(Context({"exhibit": found, "request": request}))


def test_formats_best_first_then_sizes_and_words(cast):
    exhibit = make_published(cast.club, cast.educator, view="front", sex="bitch")
    html = shown(cast, exhibit)
    assert re.findall(r'type="([^"]+)"', html) == ["image/avif", "image/webp"]
    assert html.index("image/avif") < html.index("image/webp") < html.index("<img")
    assert 'width="300" height="200"' in html
    assert 'alt="Exhibit 1, front, bitch, adult"' in html
    assert 'sizes="50vw"' in html
    assert 'loading="lazy"' in html
    names = set(exhibit.renditions.values_list("name", flat=True))
    assert {address.rsplit("/", 1)[-1] for address in re.findall(r"/clubs/[^ \"]+", html)} == names


def test_its_own_description_speaks_first_and_can_be_left_out(cast):
    exhibit = make_published(cast.club, cast.educator, description='A "dog" <standing>')
    assert 'alt="A &quot;dog&quot; &lt;standing&gt;"' in shown(cast, exhibit)
    assert 'alt=""' in shown(cast, exhibit, "alt=''")


def test_it_never_tells_verdict_or_fault(cast):
    edition = make_edition(cast.club)
    fault = make_fault(edition, "Ewe neck", figure="ewe_neck")
    exhibit = make_published(cast.club, cast.educator, breed=edition.breed, verdict="incorrect")
    show_fault(exhibit=exhibit, fault=fault, clause=fault.clause, level=2)
    html = shown(cast, exhibit).lower()
    for secret in ("incorrect", "correct", "verdict", "ewe", "neck", "fault", "5.1", "serious", "scene.jpg"):
        assert secret not in html


@pytest.mark.parametrize("change", [{"state": "withdrawn"}, {"state": "draft"}])
def test_what_may_not_be_shown_is_a_blank_without_a_cause(cast, change):
    exhibit = make_published(cast.club, cast.educator)
    Exhibit.objects.update(**change)
    html = shown(cast, exhibit)
    assert "Picture withdrawn" in html
    assert 'viewBox="0 0 300 200"' in html
    assert "/pictures/" not in html
    assert "<img" in shown(cast, exhibit, "drafts=True")


def test_a_picture_whose_owner_said_no_is_a_blank(cast):
    exhibit = make_photograph(cast.club, cast.educator, state="published")
    html = shown(cast, exhibit)
    assert "Picture withdrawn" in html
    assert "permission" not in html.lower()


def test_an_exhibit_without_files_is_a_blank_everywhere(cast):
    exhibit = make_published(cast.club, cast.educator)
    exhibit.renditions.all().delete()
    assert "Picture withdrawn" in shown(cast, exhibit, "drafts=True")
