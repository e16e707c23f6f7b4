"""Simulated trainees come out as what they were made to be: on their own record, from the answers of the demo."""

import html
import re
from dataclasses import replace

import pytest
from django.conf import settings
from django.db import transaction
from django.test import Client
from django.utils import timezone

from assessments.statistics.detection import NORMAL_95
from media_demo.build import build
from media_demo.loading import read_scenario

pytestmark = pytest.mark.django_db
WHOLE = read_scenario()
EYES = {
    "davina.mouat": "keen",
    "ursula.gaudie": "too_harsh",
    "cait.harcuss": "too_lenient",
    "liv.norquay": "blind_to_toplines",
    "freydis.wylie": "guessing",
    "una.halcro": "over_faulting",
}


def scenario():
    """The demo as far as these people got, without a panel or the plates that they do not need."""
    trainees = tuple(one for one in WHOLE.trainees if one.email.partition("@")[0] in EYES)
    quizzes = WHOLE.quizzes[: max(one.sittings for one in trainees)]
    keys = {quiz.key for quiz in quizzes}
    modules = tuple(
        replace(module, plates=module.plates[:1], quizzes=tuple(key for key in module.quizzes if key in keys))
        for module in WHOLE.modules
        if keys & set(module.quizzes)
    )
    plates = {number for module in modules for number in module.plates}
    return replace(
        WHOLE,
        trainees=trainees,
        quizzes=tuple(replace(quiz, panel=False) for quiz in quizzes),
        modules=modules,
        plates=tuple(plate for plate in WHOLE.plates if plate.number in plates),
    )


@pytest.fixture(scope="module")
def people(django_db_setup, django_db_blocker, tmp_path_factory):
    """Built once for this module, and rolled back behind it."""
    with django_db_blocker.unblock(), pytest.MonkeyPatch.context() as patch, transaction.atomic():
        patch.setattr(settings, "MEDIA_ROOT", tmp_path_factory.mktemp("media"))
        yield build(scenario(), passwords={}, now=timezone.now())
        transaction.set_rollback(True)


@pytest.fixture
def record(people):
    """Opens somebody's record as they do: their eye, and the words of the page."""

    def opened(name):
        member = people.by_email[f"{name}@example.org"]
        client = Client()
        client.force_login(member.person, settings.AUTHENTICATION_BACKENDS[0])
        response = client.get(f"/clubs/{people.club.slug}/record/")
        assert response.status_code == 200
        return response.context["eye"], shown(response)

    return opened


def shown(response):
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", response.content.decode())))


def zones(eye):
    return {row.zone: row for row in eye.rows}


def test_these_are_the_people_with_these_eyes():
    everyone = {one.email.partition("@")[0]: one.eye for one in (*WHOLE.members, *WHOLE.trainees)}
    assert {name: everyone[name] for name in EYES} == EYES


def test_the_harsh_weighs_heavier_than_the_key(record):
    eye, page = record("ursula.gaudie")
    assert eye.bias.enough
    assert eye.bias.low > 0.3
    assert (
        f"You weigh heavier than the key: {eye.bias.mean:.2f} of a level, between {eye.bias.low:.2f}" in page
    )


def test_the_lenient_weighs_lighter_than_the_key(record):
    eye, page = record("cait.harcuss")
    assert eye.bias.enough
    assert eye.bias.high < -0.2
    assert (
        f"You weigh lighter than the key: {-eye.bias.mean:.2f} of a level, between {-eye.bias.high:.2f}"
        in page
    )


def test_who_is_blind_to_toplines_sees_them_least_by_far(record):
    eye, page = record("liv.norquay")
    known = {zone: row.see for zone, row in zones(eye).items() if row.see.enough}
    topline = known.pop("topline")
    assert len(known) >= 2
    assert all(topline.high < see.low for see in known.values())
    assert eye.weakest.zone == "topline"
    assert f"Topline {topline.mean:.0%}".replace("%", " %") in page
    assert "Look next at the topline" in page


def test_the_guesser_is_near_chance(record):
    eye, page = record("freydis.wylie")
    reach = NORMAL_95 * eye.detection.d_prime_se
    assert eye.detection.enough
    assert eye.detection.d_prime - reach < 0 < eye.detection.d_prime + reach
    # Too few faults are recognised by chance for anything to be said of weighing, and hardly one by its name.
    assert len(eye.pairs) < 10
    assert "Not enough weighed yet." in page
    assert zones(eye)["head"].name.enough
    assert zones(eye)["head"].name.high < 0.35


def test_the_over_faulter_over_faults_and_has_seen_some_zones_enough(record):
    eye, page = record("una.halcro")
    low, high = eye.detection.criterion_interval
    assert eye.detection.tendency == "over-faults"
    assert f"You over-fault: {-eye.detection.criterion:.2f}, between {-high:.2f} and {-low:.2f}." in page
    known = {zone for zone, row in zones(eye).items() if row.see.enough}
    assert {"head", "neck"} <= known
    assert "forequarters" not in known
    assert page.count("not yet") > 3


def test_the_expert_is_near_the_key(record):
    eye, page = record("davina.mouat")
    assert eye.detection.d_prime - NORMAL_95 * eye.detection.d_prime_se > 2
    assert eye.detection.tendency is None
    assert eye.bias.enough
    assert eye.bias.low < 0 < eye.bias.high < 0.4
    assert "You weigh as the key does, as far as can be told" in page
    assert eye.kappa.value - NORMAL_95 * eye.kappa.standard_error > 0.3
