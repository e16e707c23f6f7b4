"""The demo's words agree with one another, with the figure, and with how the house reads them."""

import re
import tomllib
from collections import Counter
from pathlib import Path

import pytest

import media_demo
from courses.figure import COATS, MARKINGS, PRESETS, VIEWS, Settings, apply_faults, ideal
from courses.figure.drawing import plan
from courses.measures.measures import MEASURES, measure
from shared.prose.degree_words import LEVELS, suggest_severity
from shared.prose.markdown import render_note
from shared.prose.splitting import join_standard, read_standard
from shared.prose.zones import ZONES, suggest_zone

SCENARIO = Path(media_demo.__file__).parent / "scenario"
NO_PICTURE_SHOWS = {"4"}  # temperament


def toml(name: str) -> dict:
    return tomllib.loads((SCENARIO / name).read_text(encoding="utf-8"))


def standard(year: int):
    return read_standard((SCENARIO / f"standard-{year}.md").read_text(encoding="utf-8"))


def clauses(year: int) -> dict[str, str]:
    return {clause.number: clause.text for section in standard(year).sections for clause in section.clauses}


PLATES = toml("plates.toml")["plate"]
QUIZZES = toml("quizzes.toml")["quiz"]
MODULES = toml("modules.toml")["module"]
FAULTS = toml("faults.toml")["fault"]
PEOPLE = toml("people.toml")
DOGS = toml("dogs.toml")
MEASURABLE = toml("measures.toml")["measures"]
CLAUSES = clauses(2026)
ITEMS = [item for quiz in QUIZZES for item in quiz["items"]]


@pytest.mark.parametrize("year", [2019, 2026])
def test_a_standard_splits_into_exactly_its_clauses(year):
    text = (SCENARIO / f"standard-{year}.md").read_text(encoding="utf-8")
    written = re.findall(r"^(\d+\.\d+) (.+)$", text, re.MULTILINE)
    headings = re.findall(r"^## (\d+) (.+)$", text, re.MULTILINE)
    assert list(clauses(year).items()) == written
    assert [(section.number, section.title) for section in standard(year).sections] == headings
    assert standard(year).title == f"The Skerry Drover, edition of {year}"
    assert join_standard(standard(year)) == re.sub(r"^(\d+\.\d+) ", r"\1. ", text, flags=re.MULTILINE)
    assert not any(c.warnings for section in standard(year).sections for c in section.clauses)


def test_the_edition_in_force_has_the_size_of_a_real_one():
    assert 35 <= len(CLAUSES) <= 50


def test_the_editions_differ_in_some_clauses_and_agree_in_most():
    old = clauses(2019)
    changed = [number for number in CLAUSES.keys() & old.keys() if CLAUSES[number] != old[number]]
    assert "7.3" in changed
    assert 8 <= len(changed) <= 20
    assert CLAUSES.keys() - old.keys()
    assert old.keys() - CLAUSES.keys()


def test_each_preset_of_the_figure_is_one_named_fault_in_its_zone():
    drawn = [fault["figure"] for fault in FAULTS if "figure" in fault]
    assert sorted(drawn) == sorted(PRESETS)
    assert all(fault["zone"] == PRESETS[fault["figure"]].zone for fault in FAULTS if "figure" in fault)


def test_faults_stand_on_clauses_zones_and_levels_that_exist():
    for fault in FAULTS:
        assert fault["clause"] in CLAUSES, fault["name"]
        assert fault["zone"] in ZONES
        assert fault["level"] in LEVELS
        assert fault["virtue"]
        assert len(fault["name"]) <= 80
        assert set(fault.get("also", {})) <= set(PRESETS) - {fault.get("figure")}
        assert all(0 < credit < 1 for credit in fault.get("also", {}).values())


def test_no_name_of_a_fault_is_used_for_another():
    names = [name.casefold() for fault in FAULTS for name in (fault["name"], *fault["other_names"])]
    assert [name for name, count in Counter(names).items() if count > 1] == []


def test_a_fault_is_as_heavy_as_the_words_of_its_clause():
    for fault in FAULTS:
        suggestion = suggest_severity(CLAUSES[fault["clause"]])
        if suggestion:
            said = {suggestion.level, *(word.suggests for word in suggestion.lighter)}
            assert fault["level"] in said, fault["name"]


def test_clauses_are_recognised_by_their_anatomy():
    zones = {
        clause.number: suggest_zone(section.title, clause.text)
        for section in standard(2026).sections
        for clause in section.clauses
    }
    agreed = [fault["zone"] == zones[fault["clause"]] for fault in FAULTS if "figure" in fault]
    assert sum(agreed) / len(agreed) > 0.95


def points(view: str, settings: Settings) -> dict[str, tuple[float, float]]:
    return {name: (float(x), -float(y)) for name, (x, y) in plan(view, settings).points.items()}


@pytest.mark.parametrize("row", MEASURABLE, ids=lambda row: row["measure"])
def test_the_ideal_lies_well_within_each_measurable_clause(row):
    kind = MEASURES[row["measure"]]
    ideal = measure(points(kind.views[0], Settings()), row["measure"], camera="exact").value
    margin = (row["high"] - row["low"]) / 6
    assert row["clause"] in CLAUSES
    assert row["unit"] == kind.unit
    assert row["low"] + margin < ideal < row["high"] - margin


@pytest.mark.parametrize(
    ("fault", "name"),
    [
        ("long_body", "length_to_height"),
        ("short_body", "length_to_height"),
        ("upright_shoulder", "layback"),
        ("short_upper_arm", "upper_arm_to_blade"),
        ("weak_pasterns", "front_pastern"),
        ("upright_pasterns", "front_pastern"),
        ("wide_front", "front_width"),
        ("toes_out", "apparent_toe_turn_l"),
        ("overdeep_chest", "depth_of_chest"),
        ("roached_back", "topline_rise"),
        ("flat_croup", "pelvis_slope"),
        ("steep_croup", "pelvis_slope"),
        ("straight_stifle", "stifle_angle"),
        ("over_angulated", "stifle_angle"),
        ("sickle_hocks", "rear_pastern"),
        ("cow_hocks", "rear_parallel"),
        ("short_tail", "tail_reach"),
    ],
)
def test_a_fault_to_its_full_degree_lies_outside(fault, name):
    (row,) = [row for row in MEASURABLE if row["measure"] == name]
    value = measure(points(MEASURES[name].views[0], apply_faults({fault: 1.0})), name, camera="exact").value
    assert not row["low"] <= value <= row["high"]


def look_of(dog: dict) -> Settings:
    """The figure of a sound dog: coat, markings, seed, and its values off the ideal."""
    return ideal().with_(**dog.get("values", {}), **{key: dog[key] for key in dog.keys() - {"values"}})


@pytest.mark.parametrize("name", DOGS)
def test_a_dog_of_the_quizzes_is_sound_by_every_measurable_clause(name):
    dog = look_of(DOGS[name])
    for row in MEASURABLE:
        value = measure(points(MEASURES[row["measure"]].views[0], dog), row["measure"], camera="exact").value
        assert row["low"] <= value <= row["high"], row


def test_no_two_dogs_are_alike_and_they_wear_every_coat():
    assert len({look_of(dog) for dog in DOGS.values()}) == len(DOGS)
    assert {dog["coat"] for dog in DOGS.values()} == set(COATS)


def check_exhibit(view: str, faults: dict, dog: dict) -> None:
    """The figure can be drawn on this dog, and each of its faults is seen in this view."""
    assert all(view in PRESETS[key].views for key in faults), (view, faults)
    assert all(0.35 <= degree <= 1 for degree in faults.values())
    apply_faults(faults, look_of(dog))


@pytest.mark.parametrize("plate", PLATES, ids=lambda plate: str(plate["number"]))
def test_a_plate_can_be_made_and_says_which_exhibit_it_means(plate):
    assert plate["view"] in VIEWS
    assert set(plate["clauses"]) <= CLAUSES.keys()
    assert not any(exhibit.get("faults") for exhibit in plate["correct"])
    assert plate["correct"]
    assert all(exhibit["faults"] for exhibit in plate["incorrect"])
    for exhibit in plate["correct"] + plate["incorrect"]:
        assert set(exhibit) <= {"faults", "coat", "markings"}
        coat, markings = ({**plate, **exhibit}.get(key) for key in ("coat", "markings"))
        assert coat in {None, *COATS}
        assert markings in {None, *MARKINGS}
        check_exhibit(plate["view"], exhibit.get("faults", {}), {})
    letters = [chr(ord("a") + at) for at in range(len(plate["correct"]) + len(plate["incorrect"]))]
    named = re.findall(r"\*(\d+) ([a-z])\*", plate["note"])
    assert set(named) <= {(str(plate["number"]), letter) for letter in letters}
    assert {letter for _, letter in named} >= {
        chr(ord("a") + at) for at in range(len(plate["correct"]), len(letters))
    }
    assert not re.search(r"\bleft\b|\bon the right\b", plate["note"])


@pytest.mark.parametrize("plate", PLATES, ids=lambda plate: str(plate["number"]))
def test_a_note_is_short_and_keeps_to_the_plates_own_clauses(plate):
    sentences = re.split(r"(?<=[.!?])\s+", plate["note"].strip())
    assert 2 <= len(sentences) <= 3
    assert render_note(plate["note"]).count("<p>") == 1
    of_faults = {fault["clause"] for fault in FAULTS if fault.get("figure") in _presets(plate)}
    assert of_faults & set(plate["clauses"])


def _presets(plate: dict) -> set[str]:
    return {key for exhibit in plate["incorrect"] for key in exhibit["faults"]}


def test_plates_are_numbered_through_and_show_every_fault_of_the_figure():
    assert [plate["number"] for plate in PLATES] == list(range(1, len(PLATES) + 1))
    assert len(PLATES) >= 40
    assert set().union(*map(_presets, PLATES)) == set(PRESETS)


def test_modules_hold_each_plate_and_each_quiz_once():
    keys = [module["key"] for module in MODULES]
    assert len(set(keys)) == len(keys)
    assert [number for module in MODULES for number in module["plates"]] == [
        plate["number"] for plate in PLATES
    ]
    assert [key for module in MODULES for key in module["quizzes"]] == [quiz["key"] for quiz in QUIZZES]
    for module in MODULES:
        assert {plate["number"] for plate in PLATES if plate["module"] == module["key"]} == set(
            module["plates"]
        )
        assert [quiz["key"] for quiz in QUIZZES if quiz["module"] == module["key"]] == module["quizzes"]
        assert "<p>" in render_note(module["text"])


def test_each_section_has_a_module_a_quiz_and_a_plate():
    sections = {section.number for section in standard(2026).sections}
    assert {number for module in MODULES for number in module["sections"]} == sections
    assert all(module["quizzes"] for module in MODULES)
    on_plates = {clause.split(".")[0] for plate in PLATES for clause in plate["clauses"]}
    assert sections - on_plates == NO_PICTURE_SHOWS


@pytest.mark.parametrize("quiz", QUIZZES, ids=lambda quiz: quiz["key"])
def test_a_quiz_has_five_to_eight_items_and_a_sound_one_among_them(quiz):
    assert 5 <= len(quiz["items"]) <= 8
    assert any(not item.get("faults") for item in quiz["items"])
    assert len({DOGS[item["dog"]]["coat"] for item in quiz["items"]}) >= 4
    assert len({item["dog"] for item in quiz["items"]}) == len(quiz["items"])
    for item in quiz["items"]:
        assert set(item) <= {"view", "dog", "faults"}
        assert len(item.get("faults", {})) <= 3
        check_exhibit(item["view"], item.get("faults", {}), DOGS[item["dog"]])


def test_about_a_quarter_of_all_items_is_sound():
    sound = sum(not item.get("faults") for item in ITEMS) / len(ITEMS)
    assert 0.20 <= sound <= 0.30


def test_no_exhibit_is_asked_twice():
    asked = Counter((item["view"], item["dog"], *sorted(item.get("faults", {}).items())) for item in ITEMS)
    assert [exhibit for exhibit, count in asked.items() if count > 1] == []


def test_quizzes_use_every_dog_and_all_levels():
    assert {item["dog"] for item in ITEMS} == set(DOGS)
    level = {fault.get("figure"): fault["level"] for fault in FAULTS}
    assert {level[key] for item in ITEMS for key in item.get("faults", {})} == set(LEVELS)


def test_people_have_roles_free_addresses_and_an_eye():
    members, trainees = PEOPLE["member"], PEOPLE["trainees"]
    assert len(trainees) == 30
    addresses = [person["email"] for person in [*members, *trainees]]
    assert len(set(addresses)) == len(addresses)
    assert all(address.endswith("@example.org") for address in addresses)
    assert {role for member in members for role in member["roles"]} == {
        "educator",
        "mentor",
        "secretary",
        "trainee",
    }
    assert sum(member.get("panel", False) for member in members) == 4
    assert all(person["eye"] in PEOPLE["eye"] for person in [*members, *trainees])
    assert {address for member in members for address in member.get("mentors", [])} <= set(addresses)
    assert all(1 <= trainee["sittings"] <= len(QUIZZES) for trainee in trainees)


@pytest.mark.parametrize("name", PEOPLE["eye"])
def test_an_eye_is_described_in_full(name):
    eye = PEOPLE["eye"][name]
    shares = [eye["sees"], eye["faintest"], eye["false_alarm"], eye["names"], *eye.get("zones", {}).values()]
    assert all(0 <= share <= 1 for share in shares)
    assert set(eye.get("zones", {})) <= set(ZONES)
    assert -3 < eye["severity_bias"] < 3
    assert eye["severity_sd"] > 0
    assert eye["aim_sd"] > 0
    assert set(eye) - {"zones"} == {
        "sees",
        "faintest",
        "false_alarm",
        "names",
        "severity_bias",
        "severity_sd",
        "aim_sd",
    }


def test_the_files_of_the_editions_exist():
    assert all((SCENARIO / edition["file"]).exists() for edition in PEOPLE["club"]["editions"])


def test_a_place_in_a_quiz_does_not_tell_that_its_exhibit_is_sound():
    for place in range(8):
        sound = [not quiz["items"][place].get("faults") for quiz in QUIZZES if len(quiz["items"]) > place]
        assert sum(sound) <= max(2, len(sound) / 2), place + 1
