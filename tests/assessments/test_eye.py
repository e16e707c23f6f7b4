"""Figures of one person's eye, from their marks."""

import re
import uuid

import numpy as np
import pytest
from scipy.stats import beta, norm

from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.calibration import calibration, calibration_plot
from assessments.eye import eye_of
from assessments.queries.marks import marks_for_figures
from assessments.scales import faulting_scale, hatching, weighing_scale
from assessments.statistics.progress import estimate
from tests import makers

CLUB = "/clubs/skerry-drover"


def sit(quiz, trainee, *contents):
    """One sitting: the contents in the order of the items."""
    sitting = begin_sitting(quiz=quiz, trainee=trainee)
    for answer, content in zip(sitting.answers.all(), contents, strict=True):
        save_answer(answer=answer, sent=content, seen=0, identity=uuid.uuid4())
        hand_in(answer=answer)


@pytest.fixture
def harsh(cast, edition):
    """Twelve sittings of someone who sees the shoulder, never the back, weighs a level light, and calls a tail."""
    quiz = makers.make_open_quiz(edition, cast.educator)
    shoulder = edition.breed.faults.get(name="Upright shoulder")
    tail = makers.make_fault(edition, "Gay tail", "9.1", zone="tail", level=0)
    for _ in range(12):
        seen, called = makers.pin(0.35, 0.5, shoulder, 1), makers.pin(0.9, 0.2, tail, 0)
        sit(quiz, cast.trainee, makers.said(seen, called))
    return eye_of(marks_for_figures(cast.trainee))


def test_each_zone_has_its_posterior(harsh):
    rows = {row.zone: row for row in harsh.rows}
    assert (rows["forequarters"].asked, rows["topline"].asked, rows["tail"].asked) == (12, 12, 0)
    # Reference: scipy's own Beta distribution, with twelve successes and with twelve failures.
    assert rows["forequarters"].see.mean == pytest.approx(beta(13, 1).mean())
    assert rows["topline"].see.mean == pytest.approx(beta(1, 13).mean())
    assert rows["forequarters"].weigh.mean == pytest.approx(beta(1 + 12 * 2 / 3, 1 + 12 / 3).mean())
    assert not rows["tail"].see.enough
    assert harsh.weakest == rows["topline"]


def test_marking_where_nothing_is_counts_against_the_sound_zones(harsh):
    # In profile 10 zones show: 2 faulty, of which 1 is found, and 8 sound, of which the tail is called.
    hits, signals, alarms, noises = 12, 24, 12, 96
    h, f = (hits + 0.5) / (signals + 1), (alarms + 0.5) / (noises + 1)
    assert harsh.detection.criterion == pytest.approx(-(norm.ppf(h) + norm.ppf(f)) / 2)


def test_weighing_is_compared_with_the_key(harsh):
    assert harsh.pairs == [(1, 2)] * 12
    assert harsh.bias.mean == pytest.approx(np.mean([given - key for given, key in harsh.pairs]))
    assert weighing_scale(harsh).sentence.startswith("You weigh lighter than the key: 1.00 of a level")
    row = calibration(harsh.pairs, harsh.labels)[2]
    assert (row.label, row.cells) == ("Serious", ((0, False), (12, False), (0, True), (0, False)))
    assert (row.mean, row.apart) == (1, -1)


def test_given_against_key_is_drawn_above_the_diagonal_where_it_is_heavier(cast, harsh):
    labels = ["Minor", "Moderate", "Serious", "Disqualifying"]
    pairs = [(2, 1)] * 9 + [(1, 1)] * 4 + [(0, 2)]
    plot = calibration_plot(calibration(pairs, labels))
    side = (plot.right - plot.left) / 4
    heavier, as_key, lighter = (next(each for each in plot.circles if each.n == n) for n in (9, 4, 1))
    assert (as_key.x, as_key.y) == pytest.approx((plot.left + 1.5 * side, plot.bottom - 1.5 * side), abs=0.1)
    assert (heavier.x, heavier.y) == pytest.approx((as_key.x, as_key.y - side), abs=0.1)
    assert (lighter.x, lighter.y) == pytest.approx((as_key.x + side, as_key.y + side), abs=0.1)
    # Areas go by numbers: 9 to 4 to 1.
    assert heavier.r / lighter.r == pytest.approx(3, rel=0.02)
    assert heavier.r / as_key.r == pytest.approx(1.5, rel=0.02)
    assert heavier.r <= side / 2
    (moderate, serious) = plot.means
    assert moderate[2] == pytest.approx(plot.bottom - (22 / 13 + 0.5) * side, abs=0.1)
    assert (moderate[0], moderate[1]) == pytest.approx((plot.left + side, plot.left + 2 * side), abs=0.1)
    assert serious[2] == lighter.y


def test_the_words_of_a_ladder_stand_within_the_drawing_and_clear_of_one_another():
    for labels in (["Minor", "Moderate", "Serious", "Disqualifying"], ["Light", "Grave"], list("abcdef")):
        plot = calibration_plot(calibration([(0, 0)], labels))
        assert all(word.x + len(word.text) * 3.5 <= plot.width for word in plot.across)
        ends = {}
        for word in plot.across:
            assert word.x - len(word.text) * 3.5 > ends.get(word.y, 0)
            ends[word.y] = word.x + len(word.text) * 3.5


def test_the_record_draws_what_its_table_says(cast, harsh):
    page = cast.client("trainee").get(f"{CLUB}/record/").content.decode()
    assert page.count('class="calibration-circle"') == 1
    assert re.search(r'class="calibration-number"[^>]*>12<', page)
    assert "<strong>0</strong>" in page
    figures = re.sub(r"<[^>]+>|\s+", " ", page[page.index('<dl class="calibrated-figures">') :])
    # All twelve one level light: no spread, and too few for κ.
    assert " ".join(figures.split()).startswith(
        "faults weighed 12 beside the key, in levels −1.00 −1.00 to −1.00 "
        "agreement, weighted κ not enough weighed yet"
    )


def test_nothing_is_said_of_someone_who_has_answered_nothing(cast):
    eye = eye_of(marks_for_figures(cast.trainee))
    assert eye.answers == 0
    assert (eye.detection, eye.bias, faulting_scale(eye), weighing_scale(eye)) == (None, None, None, None)
    page = cast.client("trainee").get(f"{CLUB}/record/").content.decode()
    assert page.count("not yet") == 30
    assert "Not enough seen yet. Some twenty exhibits" in page


@pytest.mark.parametrize(
    ("right", "of", "expected"),
    [(3, 4, "none"), (8, 20, "thin"), (12, 20, "open"), (16, 20, "close"), (30, 30, "crossed")],
)
def test_more_ink_is_surer(right, of, expected):
    assert hatching(estimate([1.0] * right + [0.0] * (of - right))) == expected


def test_a_mentor_sees_the_same_figures_of_their_trainee_only(cast, harsh):
    address = f"{CLUB}/trainees/{cast.trainee.pk}/eye/"
    assert cast.client("mentor").get(address).status_code == 404
    makers.make_mentorship(cast.mentor, cast.trainee)
    theirs = cast.client("mentor").get(address).content.decode()
    own = cast.client("trainee").get(f"{CLUB}/record/").content.decode()
    sentence = weighing_scale(harsh).sentence
    assert sentence in theirs
    assert sentence in own


def test_the_figures_cost_the_same_for_any_number_of_answers(
    cast, edition, harsh, django_assert_max_num_queries
):
    client = cast.client("trainee")
    client.get(f"{CLUB}/record/")
    with django_assert_max_num_queries(12):
        client.get(f"{CLUB}/record/")
