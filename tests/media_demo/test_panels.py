"""The demo's panel: eyes that differ where they are made to, keys that rest on what they agree on."""

from __future__ import annotations

from collections import Counter

import pytest

from assessments.items import kind_of
from assessments.models import Fit, Item, Key, KeyPanel, Panellist
from assessments.queries.key_panels import finding_of
from assessments.queries.quizzes import published_key
from media_demo.eyes import Eye
from media_demo.loading import read_scenario
from media_demo.panels import Panel
from tests.media_demo.test_build import NOW, SCENARIO, people

__all__ = ["people"]
pytestmark = pytest.mark.django_db
FULL = read_scenario()


def place(item: Item) -> tuple[str, int]:
    """The quiz and the place in it, as the scenario names them."""
    quiz = item.quiz_items.get(quiz__purpose="practice")
    key = next(text.key for text in SCENARIO.quizzes if text.title == quiz.quiz.title)
    return key, list(quiz.quiz.quiz_items.values_list("item", flat=True)).index(item.pk) + 1


@pytest.fixture
def closed(people) -> dict[tuple[str, int], KeyPanel]:
    """The closed panels by the place of their item."""
    panels = KeyPanel.objects.filter(closed_at__isnull=False).select_related("item__exhibit")
    return {place(panel.item): panel for panel in panels}


def test_every_key_rests_on_a_panel_of_four(people, closed):
    assert len(closed) == Item.objects.filter(kind="mark-the-faults").count()
    for panel in closed.values():
        assert panel.panellists.exclude(handed_in_at=None).count() == 4
        key = panel.item.keys.get(version=1)
        assert (key.panel, key.fit, key.agreement) == (panel, panel.fit, panel.agreement)
        assert panel.fit


def test_what_is_kept_is_what_the_markings_amount_to(people, closed):
    for panel in closed.values():
        again = finding_of(panel, kind_of(panel.item).panel)
        assert (again.result, again.agreement, again.fit) == (panel.result, panel.agreement, panel.fit)


def test_most_keys_are_fit_for_examination_and_contested_ones_are_not(closed):
    contested = {(each.quiz, each.item) for each in SCENARIO.panel.contested} & closed.keys()
    assert contested
    assert {closed[each].fit for each in contested} <= {Fit.DISCUSSION, Fit.PRACTICE}
    fits = Counter(panel.fit for panel in closed.values())
    assert fits[Fit.EXAMINATION] >= len(closed) / 2


def test_a_key_that_departs_says_why(people, closed):
    for panel in closed.values():
        key = panel.item.keys.get(version=1)
        departs = kind_of(panel.item).panel.departures(key)
        assert bool(departs) == (key.note == SCENARIO.panel.departs)
        shown = {row.fault_id for row in panel.item.exhibit.shown_faults.all()}
        assert {entry.fault_id for entry in published_key(panel.item).entries.all()} == shown


def test_a_second_panel_is_at_work_on_the_key_in_work(people):
    (panel,) = KeyPanel.objects.filter(closed_at=None)
    assert place(panel.item) == (SCENARIO.drafted.quiz, SCENARIO.drafted.item)
    assert (panel.number, panel.word) == (2, SCENARIO.panel.again)
    waiting = Panellist.objects.filter(panel=panel, handed_in_at=None)
    assert [seat.member.person.email for seat in waiting] == list(SCENARIO.panel.waiting)


def test_markings_are_not_alike(closed):
    """Nobody's hand draws as another's does."""
    for panel in closed.values():
        drawn = [
            str(row["regions"])
            for seat in panel.panellists.all()
            for row in seat.content["entries"]
            if row["regions"]
        ]
        assert len(set(drawn)) == len(drawn)


def test_times_are_in_order(people):
    for panel in KeyPanel.objects.prefetch_related("panellists", "events", "keys"):
        moments = [event.at for event in panel.events.all()]
        assert moments == sorted(moments)
        assert all(panel.opened_at <= at <= NOW for at in moments)
        for seat in panel.panellists.exclude(handed_in_at=None):
            assert panel.opened_at <= seat.invited_at < seat.saved_at < seat.handed_in_at
            assert panel.closed_at is None or seat.handed_in_at < panel.closed_at
    assert not [
        key for key in Key.objects.exclude(panel=None) if key.panel.closed_at > (key.published_at or NOW)
    ]


def test_the_same_eyes_mark_the_same_again(people, closed):
    panel = next(iter(closed.values()))
    again = Panel.of(SCENARIO, people)
    there = list(published_key(panel.item).entries.select_related("fault", "clause"))
    eye = SCENARIO.eyes["panellist_harsh"]
    first, second = (again.marks_of(eye, panel.item.exhibit, there, "Ishbel") for _ in range(2))
    assert first == second


def test_an_eye_that_sees_nothing_marks_nothing(people, closed):
    panel = next(iter(closed.values()))
    there = list(published_key(panel.item).entries.select_related("fault", "clause"))
    blind = Eye(sees=0, faintest=0, false_alarm=0, names=1, severity_bias=0, severity_sd=0.1, aim_sd=0.01)
    assert Panel.of(SCENARIO, people).marks_of(blind, panel.item.exhibit, there, "Ishbel") == []


def test_contested_items_are_in_the_quizzes_and_their_eyes_are_the_panel_s():
    panel = {member.email for member in FULL.members if member.panel}
    items = {text.key: len(text.items) for text in FULL.quizzes}
    for each in FULL.panel.contested:
        assert 1 <= each.item <= items[each.quiz]
        assert set(each.eyes) <= panel
        assert set(each.eyes.values()) <= set(FULL.eyes)
    assert set(FULL.panel.waiting) < panel
