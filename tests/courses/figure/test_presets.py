"""Faults move the ideal in a straight line, and refuse what cannot stand."""

import copy
import json
import pickle

import pytest

from courses.figure import (
    PARAMETERS,
    PRESETS,
    VIEWS,
    ZONES,
    ImpossibleFigure,
    Settings,
    apply_faults,
    changed_regions,
    ideal,
)


def test_there_are_faults_of_every_zone_in_every_view():
    assert len(PRESETS) >= 30
    assert {p.zone for p in PRESETS.values()} == set(ZONES)
    assert {view for p in PRESETS.values() for view in p.views} == set(VIEWS)


@pytest.mark.parametrize("preset", PRESETS.values(), ids=lambda p: p.key)
def test_each_fault_stands_at_its_full_degree_and_shows_in_its_views(preset):
    figure = apply_faults({preset.key: 1.0})
    assert preset.key == next(k for k, p in PRESETS.items() if p is preset)
    for name, value in preset.changes.items():
        assert figure[name] == pytest.approx(value)
    shown = {view for name in preset.changes for view in PARAMETERS[name].views}
    assert set(preset.views) <= shown


def test_degree_is_linear_from_the_ideal():
    third = apply_faults({"upright_shoulder": 0.35})
    assert third["layback"] == pytest.approx(
        35 + 0.35 * (PRESETS["upright_shoulder"].changes["layback"] - 35)
    )
    assert apply_faults({"upright_shoulder": 0.0}) == ideal()


def test_faults_on_one_parameter_add_up():
    both = apply_faults({"steep_croup": 0.5, "flat_croup": 0.5})
    assert both["pelvis_slope"] == pytest.approx(28 + 0.5 * 15 - 0.5 * 14)


def test_degree_outside_0_to_1_is_refused():
    with pytest.raises(ImpossibleFigure, match="Upright shoulder"):
        apply_faults({"upright_shoulder": 1.2})


def test_value_outside_its_range_is_refused_by_name():
    with pytest.raises(ImpossibleFigure, match="Lay of shoulder blade"):
        ideal().with_(layback=60)


def test_bones_that_cannot_meet_are_refused_by_name():
    with pytest.raises(ImpossibleFigure, match="second thigh"):
        ideal().with_(stifle_angle=101, hock_angle=115)


def test_unknown_names_are_refused():
    with pytest.raises(ImpossibleFigure, match="wingspan"):
        Settings({"wingspan": 1.0})
    with pytest.raises(ImpossibleFigure, match="tartan"):
        ideal().with_(coat="tartan")


def test_settings_survive_json():
    figure = apply_faults({"cow_hocks": 0.5}, ideal().with_(coat="red", markings="collar", seed=7))
    assert Settings.from_dict(json.loads(json.dumps(figure.to_dict()))) == figure


def test_settings_can_be_copied_and_sent_to_another_process():
    figure = apply_faults({"cow_hocks": 0.5}, ideal().with_(coat="red", seed=7))
    assert pickle.loads(pickle.dumps(figure)) == copy.deepcopy(figure) == figure
    assert len({figure, copy.copy(figure)}) == 1


def test_settings_do_not_change():
    with pytest.raises(AttributeError):
        ideal().coat = "red"
    assert changed_regions("profile", ideal()) == []
