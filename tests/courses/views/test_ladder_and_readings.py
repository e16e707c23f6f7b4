"""The severity ladder, and how the club reads words of degree."""

import datetime
import html
import re

import pytest
from django.urls import reverse
from django.utils import timezone

from courses.models import Breed, SeverityScale
from tests import makers


@pytest.fixture
def client(cast):
    return cast.client("educator")


def url(name, *arguments):
    return reverse(name, args=["skerry-drover", *arguments])


def levels(*pairs, day=None, **more):
    sent = {"effective_from": (day or timezone.localdate()).isoformat(), "disqualifying": "on"}
    for n, (label, weight) in enumerate(pairs):
        sent |= {f"label_{n}": label, f"weight_{n}": weight}
    return sent | more


FIVE = [("Slight", "1"), ("Minor", "2"), ("Moderate", "3"), ("Serious", "5.5"), ("Disqualifying", "9")]


def test_a_ladder_is_set_and_holds_from_its_day(client):
    assert "the usual four" in client.get(url("standard-ladder")).content.decode()
    tomorrow = timezone.localdate() + datetime.timedelta(days=1)
    client.post(url("standard-ladder"), levels(*FIVE, day=tomorrow))
    scale = SeverityScale.objects.get()
    assert (scale.labels[0], scale.weights, scale.disqualifying) == ("Slight", [1, 2, 3, 5.5, 9], True)
    page = client.get(url("standard-ladder")).content.decode()
    assert "the usual four" in page
    assert "Take it back" in page
    client.post(url("standard-ladder-withdraw", scale.pk))
    assert not SeverityScale.objects.exists()


@pytest.mark.parametrize(
    ("sent", "said"),
    [
        (levels(("Minor", "1"), ("Grave", "2")), "at least 4 levels"),
        (levels(*FIVE[:4], ("Worst", "5")), "Each level weighs more than the one before it."),
        (levels(*FIVE[:4], ("Serious", "9")), "Two levels bear the same name."),
        (levels(*FIVE[:4], ("Worst", "")), "Give this level a weight."),
        (levels(*FIVE[:4], ("", "9")), "Give this level a name"),
        (levels(*FIVE, day=datetime.date(2020, 1, 1)), "A ladder begins today or later."),
        (levels(*FIVE[:4], ("x" * 25, "9")), "at most 24"),
        (levels(*FIVE[:4], ("Worst", "nan")), "Enter a number"),
    ],
)
def test_what_is_no_ladder_says_why_and_comes_back(client, sent, said):
    response = client.post(url("standard-ladder"), sent)
    page = response.content.decode()
    assert response.status_code == 422
    assert said in page
    assert f'value="{sent["label_1"]}"' in page
    assert not SeverityScale.objects.exists()


def test_a_ladder_that_has_begun_stays(client, cast):
    scale = makers.make_scale(cast.club, effective_from=timezone.localdate())
    assert client.post(url("standard-ladder-withdraw", scale.pk)).status_code == 409
    assert SeverityScale.objects.exists()


@pytest.fixture
def breed(cast):
    breed = makers.make_breed(cast.club)
    edition = makers.make_edition(cast.club, breed=breed)
    makers.make_clause(edition, "9.1", text="A gay tail is undesirable. A snipy tail is frowned upon.")
    return breed


def sent_of(page):
    """The choices as the page shows them."""
    selects = re.findall(r'<select name="([^"]+)".*?</select>', page, re.DOTALL)
    chosen = {}
    for name in selects:
        body = page.split(f'<select name="{name}"', 1)[1].split("</select>", 1)[0]
        found = re.search(r'value="(\w*)" selected', body)
        chosen[html.unescape(name)] = found[1] if found else ""
    return chosen


def test_what_the_standard_says_stands_first_with_where_it_says_it(client, breed):
    page = client.get(url("breed-readings", "drover")).content.decode()
    first = page.index("In the standard")
    assert first < page.index(">undesirable<") < page.index("Phrases that this standard does not use")
    assert '<td class="quiet">9.1</td>' in page
    assert ">serious fault<" in page.split("Phrases that this standard does not use")[1]


def test_saving_untouched_keeps_nothing(client, breed):
    sent = sent_of(client.get(url("breed-readings", "drover")).content.decode())
    assert len(sent) > 80
    client.post(url("breed-readings", "drover"), sent)
    assert Breed.objects.get().readings == {}


def test_the_clubs_own_reading_and_phrase_are_kept_and_used(client, breed):
    sent = sent_of(client.get(url("breed-readings", "drover")).content.decode())
    sent |= {"level:undesirable": "moderate", "phrase_1": " Frowned   upon ", "reading_1": "serious"}
    client.post(url("breed-readings", "drover"), sent)
    assert Breed.objects.get().readings == {"undesirable": "moderate", "frowned upon": "serious"}
    edition = breed.editions.get()
    page = client.get(url("edition", edition.pk)).content.decode()
    assert '<span class="degree">frowned upon</span>' in page
    assert "The club reads “frowned upon” in 9.1 as Serious; it also says “undesirable”" in page
    again = client.get(url("breed-readings", "drover")).content.decode()
    assert "the club’s own phrase" in again
    assert "the club’s own reading" in again


def test_a_phrase_is_made_of_words(client, breed):
    response = client.post(url("breed-readings", "drover"), {"phrase_1": "35°", "reading_1": "serious"})
    assert response.status_code == 422
    assert "A phrase of degree is made of words alone." in response.content.decode()
    assert Breed.objects.get().readings == {}


def test_a_shorter_ladder_offers_each_level_once_and_keeps_what_was_not_touched(client, cast, breed):
    makers.make_scale(cast.club, effective_from=timezone.localdate())
    page = client.get(url("breed-readings", "drover")).content.decode()
    select = page.split('<select name="level:fault"', 1)[1].split("</select>", 1)[0]
    assert select.count("<option") == 4
    client.post(url("breed-readings", "drover"), sent_of(page))
    assert Breed.objects.get().readings == {}
