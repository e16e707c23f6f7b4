"""The incorrect exhibit over the correct one: by which points, how exactly, and what differs."""

import numpy as np
import pytest
from skimage.transform import SimilarityTransform

from courses.actions.drawing import keep_drawing
from courses.figure import apply_faults, ideal, preview
from courses.measures.alignment import difference
from courses.measures.measures import MEASURES, measure
from courses.measures.points import POINTS
from courses.models import PlateExhibit
from courses.queries.one_over_other import HIND, as_drawn, difference_words, laid_over, pairs_of
from tests.courses.measures.dogs import IDEAL, placed, without
from tests.makers import make_clause, make_edition, make_exhibit, make_placement

DOG = placed(IDEAL)
STEEP = placed(
    IDEAL | {"blade_top": (0.06, 0.97), "withers": (0.07, 1.0)}, height=0.36, roll=5, mirrored=True
)


def row(exhibit, side="correct", letter="a"):
    made = PlateExhibit(exhibit=exhibit, side=side)
    made.letter = letter
    return made


def photograph(cast, points, by="educator"):
    made = make_exhibit(cast.club, cast.educator, kind="photograph")
    make_placement(made, getattr(cast, by), points)
    return made


def pair(cast, points=DOG, other=STEEP, clauses=()):
    return laid_over(
        row(photograph(cast, points)), row(photograph(cast, other), "incorrect", "b"), list(clauses)
    )


def drawing(cast, faults):
    settings = apply_faults(faults) if faults else ideal()
    return keep_drawing(
        club=cast.club,
        breed=make_edition(cast.club).breed if not cast.club.breeds.exists() else cast.club.breeds.get(),
        drawing=preview("profile", settings, width=240),
        settings=settings,
        faults=faults,
        made_by=cast.educator.person,
    )


def test_the_hindquarters_hold_where_the_plate_speaks_of_the_front(cast):
    clause = make_clause(
        make_edition(cast.club), "5.1", zone="forequarters", measure="layback", low=30, high=40
    )
    found = pair(cast, clauses=[clause])
    assert [way.name for way in found.ways] == ["hind", "whole", "fore"]
    first = found.ways[0]
    assert len(first.points) == len(HIND)
    # The hind ends differ by size, turn and mirror alone.
    assert first.fit.reflected
    assert first.fit.scale == pytest.approx(0.43 / 0.36, rel=1e-3)
    assert first.fit.rms < 1e-4
    assert found.ways[1].fit.rms > 0.005


@pytest.mark.parametrize(
    ("zones", "first"),
    [
        (["forequarters", "neck"], "hind"),
        (["hindquarters"], "fore"),
        (["forequarters", "tail"], "whole"),
        (["topline"], "whole"),
        ([], "whole"),
    ],
)
def test_what_the_plate_speaks_of_is_left_free(cast, zones, first):
    edition = make_edition(cast.club)
    clauses = [make_clause(edition, f"5.{n}", zone=zone) for n, zone in enumerate(zones, start=1)]
    assert pair(cast, clauses=clauses).ways[0].name == first


def test_the_whole_dog_is_laid_over_as_a_reference_library_does_it(cast):
    other = placed(IDEAL | {"elbow": (0.05, 0.5)}, height=0.35, roll=-8)
    whole = next(way for way in pair(cast, other=other).ways if way.name == "whole")
    names = [point.name for point in POINTS["profile"]]
    reference = SimilarityTransform.from_estimate(
        np.array([other[name] for name in names]), np.array([DOG[name] for name in names])
    )
    assert whole.fit.matrix == pytest.approx(reference.params, abs=1e-4)


def test_rows_say_clause_values_verdicts_and_the_difference(cast):
    edition = make_edition(cast.club)
    layback = make_clause(edition, "5.1", measure="layback", low=10, high=60)
    found = pair(cast, clauses=[layback, make_clause(edition, "5.9")])
    first = found.rows[0]
    assert (first.clause, first.measure.name) == (layback, "layback")
    assert first.correct.taken.value == pytest.approx(35, abs=0.1)
    assert first.incorrect.taken.value == pytest.approx(20, abs=1)
    assert first.difference.exceeds
    assert first.words == f"{round(first.correct.taken.value - first.incorrect.taken.value)}° less"
    assert first.correct.verdict == "within"
    same = next(each for each in found.rows if each.measure.name == "stifle_angle")
    assert same.words == "the same"
    assert not same.difference.exceeds
    assert found.asked == [first]
    assert len(found.rows) == 17


def test_ratios_differ_in_per_cent_of_themselves_and_heights_in_per_cent_of_the_height():
    shorter = placed(IDEAL | {"tail_tip": (-0.9, 0.5), "wrist": (-0.0, 0.2), "elbow": (-0.07, 0.5319)})
    apart = {
        name: difference(measure(DOG, name), measure(shorter, name)) for name in ("tail_reach", "elbow_set")
    }
    lost = 100 * (1 - measure(shorter, "tail_reach").value / measure(DOG, "tail_reach").value)
    assert difference_words(MEASURES["tail_reach"], apart["tail_reach"]) == f"{lost:.0f} % less"
    assert difference_words(MEASURES["elbow_set"], apart["elbow_set"]) == "4 % of the height less"


def test_a_drawing_and_a_photograph_are_compared_each_with_its_own_error(cast):
    drawn, photo = drawing(cast, {}), photograph(cast, DOG)
    found = laid_over(row(drawn), row(photo, "incorrect", "b"), [])
    layback = next(each for each in found.rows if each.measure.name == "layback")
    assert layback.correct.taken.sd == 0
    assert layback.difference.sd == pytest.approx(layback.incorrect.taken.sd)


def test_too_few_shared_points_give_no_way_and_no_error(cast):
    few = {name: DOG[name] for name in ("withers", "elbow")}
    found = pair(cast, other=few)
    assert found.ways == []
    assert found.rows == []
    same = dict.fromkeys(("withers", "elbow", "wrist"), (0.5, 0.5))
    assert pair(cast, other=same).ways == []


def test_missing_ends_leave_the_other_ways(cast):
    found = pair(cast, points=without(DOG, *HIND))
    assert {way.name for way in found.ways} == {"whole", "fore"}


def test_what_is_drawn_is_each_dogs_own_and_outlines_show_only_where_they_differ(cast):
    plain, steep = drawing(cast, {}), drawing(cast, {"upright_shoulder": 0.9})
    clause = make_clause(
        make_edition(cast.club, state="retired"),
        "5.1",
        zone="forequarters",
        measure="layback",
        low=30,
        high=40,
    )
    found = laid_over(row(plain), row(steep, "incorrect", "b"), [clause])
    sent = as_drawn(found)
    matrix = np.array(sent["ways"][0]["matrix"])
    assert matrix == pytest.approx([1, 0, 0, 1, 0, 0], abs=0.02)
    lines = [corner for line in sent["ways"][0]["correct"] for corner in line]
    assert lines
    assert min(x for x, _y in lines) > 0.5  # nothing of the hind end
    layback = next(each for each in sent["measures"] if each["name"] == "layback")
    assert (layback["correct"]["value"], layback["incorrect"]["value"]) == ("35°", "22°")
    assert sent["cover"] == plain.drawing["outline"]
    assert len(sent["skeletons"]["correct"]["segments"]) == 11


def test_photographs_have_no_outline_to_show(cast):
    sent = as_drawn(pair(cast))
    assert all(way["correct"] == way["incorrect"] == [] for way in sent["ways"])


def test_only_exhibits_of_one_view_are_paired(cast):
    from tests.makers import make_plate

    edition = make_edition(cast.club)
    front = make_exhibit(cast.club, cast.educator, breed=edition.breed, view="front")
    one, two = (make_exhibit(cast.club, cast.educator, breed=edition.breed) for _ in "ab")
    plate = make_plate(edition, cast.educator, correct=[front, one], incorrect=[two])
    assert [(a.exhibit, a.letter, b.exhibit, b.letter) for a, b in pairs_of(plate)] == [(one, "b", two, "c")]
