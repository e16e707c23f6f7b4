"""The page on which those who mark stand beside the keys, one another and the rules."""

import csv
import datetime
import io
import re

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext
from django.utils import timezone

from assessments.actions.key_panels import close_panel
from assessments.actions.quizzes import add_item, make_quiz, open_quiz
from assessments.models import Answer, MentoringRules, Panellist, SecondMarking
from tests import makers
from tests.makers import BACK, SHOULDER, make_key_panel, make_marking, marked

PAGE = "/clubs/skerry-drover/evidence/mentors/"
DAY = datetime.timedelta(days=1)


def words(response):
    return re.sub(r"\s+", " ", re.sub(r"<[^>]+>", " ", response.content.decode()))


def rows(response):
    return list(csv.reader(io.StringIO(response.content.decode().removeprefix("\ufeff"))))


@pytest.fixture
def edition(cast):
    return makers.make_edition(cast.club)


@pytest.fixture
def thora(cast):
    return makers.make_mentor(cast.club, "Thora Garrioch")


def mark_item(cast, edition, *markings, close=True):
    """An item with an upright shoulder, Serious, and a roached back, Moderate; `markings` are (member, entries)."""
    item = makers.make_keyed_item(edition, cast.educator)
    return item, mark_again(cast, item, *markings, close=close)


def mark_again(cast, item, *markings, close=True):
    panel = make_key_panel(item, cast.educator, *[member for member, _entries in markings])
    for member, entries in markings:
        make_marking(panel, member, *entries)
    return close_panel(panel=panel, by=cast.educator) if close else panel


@pytest.fixture
def faults(edition):
    return makers.make_shoulder_and_back(edition)


@pytest.fixture
def panels(cast, edition, thora, faults):
    """Five items: Magnus has both, the shoulder heavier; Thora the shoulder, the back by another name."""
    shoulder, back = faults
    dipped = makers.make_fault(edition, "Dipped back", "6.2")
    magnus = [marked(shoulder, SHOULDER, level=3), marked(back, BACK)]
    theirs = [marked(shoulder, SHOULDER), marked(dipped, BACK)]
    return [mark_item(cast, edition, (cast.mentor, magnus), (thora, theirs)) for _each in range(5)]


def test_each_stands_beside_the_key_with_what_they_saw_named_and_weighed(cast, panels):
    table = rows(cast.client("educator").get(f"{PAGE}keys.csv"))
    # Magnus weighs every other fault one level up: 5 of 10, mean 0.5.
    assert table[1][:6] == ["Magnus Flett", "5", "10", "10", "10", "0"]
    assert (table[1][12], table[1][13]) == ("10", "0.5")
    assert table[2][:6] == ["Thora Garrioch", "5", "10", "10", "5", "0"]
    assert (table[2][12], table[2][13]) == ("5", "")  # five are too few for a habit
    page = words(cast.client("educator").get(PAGE))
    assert "Magnus Flett 5 100 % 10 of 10" in page
    assert "+0.50 +0.12 to +0.88" in page
    assert "not enough seen yet" in page


def test_two_stand_beside_one_another(cast, panels):
    table = rows(cast.client("educator").get(f"{PAGE}pairs.csv"))
    assert table[1][:4] == ["Magnus Flett", "Thora Garrioch", "5", "5"]
    found = cast.client("educator").get(PAGE).context["together"]
    assert found.panels == 5
    assert found.severities < found.zones < 1


def test_fewer_than_five_exhibits_are_not_told(cast, edition, thora, faults):
    for _each in range(4):
        mark_item(cast, edition, (cast.mentor, [marked(faults[0], SHOULDER)]), (thora, []))
    response = cast.client("educator").get(PAGE)
    assert words(response).count("not told of fewer than 5 exhibits") == 2
    assert response.context["plots"] == []
    assert rows(cast.client("educator").get(f"{PAGE}keys.csv"))[1] == ["Magnus Flett", *[""] * 15]


def test_only_first_markings_of_panels_that_are_done_count(cast, edition, thora, faults, panels):
    def exhibits():
        return {row.name: row.exhibits for row in cast.client("educator").get(PAGE).context["keyed"]}

    first = panels[0][0]
    mark_again(cast, first, (cast.mentor, []), (thora, []))
    assert exhibits() == {"Magnus Flett": 5, "Thora Garrioch": 5}
    mark_item(cast, edition, (cast.mentor, []), (thora, []), close=False)
    assert exhibits() == {"Magnus Flett": 5, "Thora Garrioch": 5}
    # Who has become a trainee since is not named any more.
    thora.mentor, thora.trainee = False, True
    thora.save()
    assert exhibits() == {"Magnus Flett": 5}
    assert "Thora Garrioch" not in words(cast.client("educator").get(PAGE))


def test_a_quiz_and_days_are_chosen(cast, edition, panels):
    quiz = make_quiz(edition=edition, title="Two of them", by=cast.educator.person)
    for item, _panel in panels[:2]:
        add_item(quiz=quiz, item=item)
    open_quiz(quiz=quiz)
    early = timezone.now() - 100 * DAY
    Panellist.objects.filter(panel=panels[0][1]).update(handed_in_at=early)
    client = cast.client("educator")

    def exhibits(**chosen):
        return [row.exhibits for row in client.get(PAGE, chosen).context["keyed"]]

    assert exhibits(quiz=quiz.pk) == [2, 2]
    assert exhibits(since=(early + 2 * DAY).date()) == [4, 4]
    assert exhibits(until=(early + 2 * DAY).date()) == [1, 1]
    assert exhibits(quiz=quiz.pk, until=(early - 2 * DAY).date()) == []
    link = f"/evidence/mentors/{cast.mentor.pk}/?quiz={quiz.pk}"
    assert link in client.get(PAGE, {"quiz": quiz.pk}).content.decode()
    assert client.get(PAGE, {"quiz": "x"}).status_code == 422
    assert client.get(f"{PAGE}keys.csv", {"quiz": "x"}).status_code == 404


@pytest.fixture
def twice(cast, edition, thora):
    """Ten answers marked twice: Magnus gives 60, Thora 1 to 10 points less."""
    quiz = makers.make_open_quiz(edition, cast.educator, items=1)
    makers.make_sittings(quiz, [[makers.said(nothing_found=True)]] * 10)
    now = timezone.now()
    for less, answer in enumerate(Answer.objects.filter(sitting__quiz=quiz).order_by("pk"), start=1):
        SecondMarking.objects.create(
            answer=answer, second=thora, asked_by=cast.educator, why="By lot.", second_points=60 - less,
            second_at=now, first=cast.mentor, first_points=60, first_at=now,
        )  # fmt: skip
    return quiz


def test_marks_given_twice_have_their_limits_of_agreement(cast, twice):
    client = cast.client("educator")
    (row,) = rows(client.get(f"{PAGE}pairs.csv"))[1:]
    # Differences 1 to 10: mean 5.5, standard deviation 3.0277; 5 within the usual 5 points.
    assert row[:2] == ["Magnus Flett", "Thora Garrioch"]
    assert row[7:10] == ["10", "5", "5.5"]
    assert float(row[10]) == pytest.approx(5.5 - 1.96 * 3.0277, abs=1e-3)
    assert float(row[11]) == pytest.approx(5.5 + 1.96 * 3.0277, abs=1e-3)
    assert "10 5 +5.5 −0.4 to +11.4" in words(client.get(PAGE))


def test_near_is_what_the_club_called_so_on_the_day(cast, twice):
    def within():
        (row,) = cast.client("educator").get(PAGE).context["pairs"]
        return row.within

    rules = {"club": cast.club, "near": 3, "made_by": cast.educator}
    MentoringRules.objects.create(effective_from=timezone.localdate() + DAY, **rules)
    assert within() == 5
    MentoringRules.objects.create(effective_from=timezone.localdate() - DAY, **rules)
    assert within() == 3


def test_a_second_mark_that_is_withdrawn_or_not_given_does_not_count(cast, twice):
    first, second = SecondMarking.objects.all()[:2]
    SecondMarking.objects.filter(pk=first.pk).update(withdrawn_at=timezone.now())
    SecondMarking.objects.filter(pk=second.pk).update(second_points=None, second_at=None)
    (row,) = cast.client("educator").get(PAGE).context["pairs"]
    assert (row.marks, row.limits.enough) == (8, False)


def test_behind_a_figure_stand_the_panels_and_the_marks_given_twice(cast, thora, panels, twice):
    client = cast.client("educator")
    page = client.get(f"{PAGE}{thora.pk}/")
    links = re.findall(r"/key-panels/(\d+)/", page.content.decode())
    assert sorted(map(int, links)) == sorted(panel.pk for _item, panel in panels)
    assert words(page).count("saw 2 and named 1 of 2") == 5
    assert len(set(re.findall(r"/second-markings/(\d+)/", page.content.decode()))) == 10
    beside = client.get(f"{PAGE}{thora.pk}/?beside={cast.mentor.pk}")
    assert beside.content.decode().count("/key-panels/") >= 5
    alone = client.get(f"{PAGE}{thora.pk}/?beside={cast.educator.pk}").content.decode()
    assert not re.findall(r"/key-panels/\d+/|/second-markings/", alone)
    for address in re.findall(
        r'href="(/clubs/[^"]+/(?:key-panels|second-markings)/\d+/)"', page.content.decode()
    ):
        assert client.get(address).status_code == 200
    assert client.get(f"{PAGE}{cast.trainee.pk}/").status_code == 404
    assert client.get(f"{PAGE}{thora.pk}/?beside={cast.trainee.pk}").status_code == 404


def test_neither_page_names_a_trainee(cast, thora, panels, twice):
    names = {str(answer.sitting.trainee.person) for answer in Answer.objects.all()}
    assert len(names) == 10
    client = cast.client("educator")
    for address in (PAGE, f"{PAGE}{thora.pk}/", f"{PAGE}keys.csv", f"{PAGE}pairs.csv"):
        text = client.get(address).content.decode()
        assert not [name for name in names if name in text], address


def test_a_fault_that_was_renamed_since_is_still_the_same(cast, panels, faults):
    shoulder, _back = faults
    shoulder.name = "Steep shoulder"
    shoulder.save()
    magnus, _thora = cast.client("educator").get(PAGE).context["keyed"]
    assert (magnus.named.n, magnus.named.of) == (10, 10)


def test_the_pages_cost_fewer_than_twelve_queries_however_much_was_marked(
    cast, edition, thora, panels, twice
):
    client = cast.client("educator")
    pages = [
        PAGE,
        f"{PAGE}?quiz={twice.pk}",
        f"{PAGE}{thora.pk}/",
        f"{PAGE}{thora.pk}/?beside={cast.mentor.pk}",
        f"{PAGE}keys.csv",
    ]

    def costs():
        found = []
        for page in pages:
            with CaptureQueriesContext(connection) as captured:
                assert client.get(page).status_code == 200
            found.append(len(captured))
        return found

    before = costs()
    assert max(before) < 12, before
    other = makers.make_mentor(cast.club, "Erlend Scollay")
    mark_item(cast, edition, (thora, []), (other, []))
    assert costs() == before
