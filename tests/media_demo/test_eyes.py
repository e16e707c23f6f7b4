"""Simulated eyes come out as they were made: measured by the statistics that measure people."""

from random import Random

import pytest

from assessments.statistics.agreement import severity_bias
from assessments.statistics.detection import sensitivity_and_bias
from media_demo.eyes import Eye, Nameable, Scene, ThereToSee, look
from media_demo.loading import read_scenario

EYES = read_scenario("small").eyes
ZONES = ("head", "neck", "forequarters", "body", "topline", "hindquarters", "feet", "tail")
SCENES = 400


def square(place: int, size: float) -> list[tuple[float, float]]:
    """Zones lie in a row, four above and four below; a region is the middle of its zone."""
    x, y = 0.125 + 0.25 * (place % 4), 0.2 + 0.4 * (place // 4)
    return [(x - size, y - size), (x + size, y - size), (x + size, y + size), (x - size, y + size)]


OUTLINES = {zone: square(place, 0.11) for place, zone in enumerate(ZONES)}
REGIONS = {zone: square(place, 0.04) for place, zone in enumerate(ZONES)}
NAMES = [Nameable(f"{zone} {n}", zone, n) for zone in ZONES for n in range(3)]


def scene(chance: Random, *, degree: float = 1.0) -> Scene:
    """Two faults of the eight zones, or none in one scene of four."""
    zones = chance.sample(ZONES, 2) if chance.random() > 0.25 else []
    faults = [
        ThereToSee(f"{zone} {level}", zone, level, degree, [REGIONS[zone]])
        for zone in zones
        for level in [chance.randrange(3)]
    ]
    return Scene((1.0, 0.8), 0.6, faults, OUTLINES, NAMES, heaviest=2)


def zone_of(x: float, y: float) -> str:
    return ZONES[min(3, int(x // 0.25)) + 4 * min(1, int(y // 0.4))]


def watch(name: str, degree: float = 1.0):
    """What an eye marks on many scenes."""
    chance = Random(f"scenes for {name}")
    for _ in range(SCENES):
        shown = scene(chance, degree=degree)
        yield shown, look(EYES[name], shown, chance)


def detection(name: str, only: str | None = None, degree: float = 1.0):
    hits = misses = alarms = rejections = 0
    for shown, pins in watch(name, degree):
        faulty, marked = {there.zone for there in shown.faults}, {zone_of(pin.x, pin.y) for pin in pins}
        for zone in [only] if only else ZONES:
            hits += zone in faulty and zone in marked
            misses += zone in faulty and zone not in marked
            alarms += zone not in faulty and zone in marked
            rejections += zone not in faulty and zone not in marked
    return sensitivity_and_bias(hits, misses, alarms, rejections)


def bias(name: str):
    given, key = [], []
    for shown, pins in watch(name):
        levels = {there.fault: there.level for there in shown.faults}
        weighed = [pin for pin in pins if pin.fault in levels and pin.level is not None]
        given += [pin.level for pin in weighed]
        key += [levels[pin.fault] for pin in weighed]
    return severity_bias(given, key)


def test_the_harsh_weigh_too_heavily_and_the_lenient_too_lightly():
    assert bias("too_harsh").low > 0.5
    assert bias("too_lenient").high < -0.4
    assert abs(bias("keen").mean) < 0.2


def test_some_mark_too_readily_and_some_too_rarely():
    assert detection("over_faulting").criterion < detection("keen").criterion < detection("new").criterion
    assert detection("under_faulting").tendency == "under-faults"
    assert detection("under_faulting").criterion > detection("over_faulting").criterion + 0.5


def test_eyes_tell_faulty_zones_from_sound_ones_in_the_order_of_their_skill():
    sharp = [detection(name).d_prime for name in ("panellist", "keen", "able", "average", "new", "guessing")]
    assert sharp == sorted(sharp, reverse=True)
    assert sharp[1] > 2.5
    assert sharp[-1] < 0.3


@pytest.mark.parametrize(
    ("name", "blind", "open_"),
    [
        ("blind_to_toplines", "topline", "hindquarters"),
        ("blind_to_fronts", "forequarters", "hindquarters"),
        ("looks_at_heads", "hindquarters", "head"),
    ],
)
def test_a_blind_spot_is_where_it_was_put(name, blind, open_):
    assert detection(name, only=blind).hit_rate < 0.5 < 0.7 < detection(name, only=open_).hit_rate


def test_a_fainter_fault_is_seen_less_often_and_one_too_faint_never():
    eye = Eye(sees=0.8, faintest=0.2, false_alarm=0, names=1, severity_bias=0, severity_sd=0.5, aim_sd=0.02)
    assert eye.chance_of_seeing("head", 1.0) == pytest.approx(0.8)
    assert eye.chance_of_seeing("head", 0.6) == pytest.approx(0.6)
    assert eye.chance_of_seeing("head", 0.2) == eye.chance_of_seeing("head", 0.0) == 0
    assert detection("able", degree=0.5).hit_rate < detection("able").hit_rate - 0.2


def test_who_cannot_name_still_sees():
    def right(name: str) -> float:
        seen = [
            pin.fault in {there.fault for there in shown.faults}
            for shown, pins in watch(name)
            for pin in pins
            if zone_of(pin.x, pin.y) in {there.zone for there in shown.faults}
        ]
        return sum(seen) / len(seen)

    assert right("cannot_name") < 0.45 < 0.8 < right("keen")
    assert detection("cannot_name").hit_rate > 0.8


def test_a_fault_of_the_whole_dog_is_marked_without_a_place():
    whole = Scene((1.0, 0.8), 0.6, [ThereToSee("long", "whole", 1, 1.0, [])], {}, [], heaviest=2)
    (pin,) = look(EYES["panellist"], whole, Random(1))
    assert (pin.x, pin.y, pin.fault) == (None, None, "long")


def test_pins_stay_within_the_picture_and_the_same_chance_gives_the_same_answer():
    edge = ThereToSee("tail 1", "tail", 1, 1.0, [[(0.98, 0.78), (1.0, 0.78), (1.0, 0.8)]])
    shown = Scene((1.0, 0.8), 0.6, [edge], {}, NAMES, heaviest=2)
    pins = [pin for seed in range(200) for pin in look(EYES["guessing"], shown, Random(seed))]
    assert pins
    assert all(0 <= pin.x <= 1 and 0 <= pin.y <= 0.8 for pin in pins)
    assert look(EYES["average"], shown, Random(5)) == look(EYES["average"], shown, Random(5))


def test_nobody_disqualifies_a_sound_dog_by_mistake():
    sound = Scene((1.0, 0.8), 0.6, [], OUTLINES, [*NAMES, Nameable("jaw", "head", 3)], heaviest=2)
    pins = [pin for seed in range(300) for pin in look(EYES["guessing"], sound, Random(seed))]
    assert pins
    assert max(pin.level for pin in pins if pin.level is not None) == 2
    assert "jaw" not in {pin.fault for pin in pins}
