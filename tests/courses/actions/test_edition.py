"""Editions are copied, released, retired and thrown away."""

import datetime

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from courses.actions.clause import Read, change_clause, confirm_severity, remove_clause
from courses.actions.edition import Described, begin_edition, copy_edition, release_edition, remove_draft
from courses.actions.section import confirm_section
from courses.models import Edition, Fault
from courses.queries.comparison import compare_editions
from courses.queries.release import consequences_of_release, missing_for_release
from courses.queries.severity import ladder_of
from courses.refusals import NotReady, Refused
from tests import makers

pytestmark = pytest.mark.django_db
SAID = Described(
    "Edition of 2027", "Skerry Drover Club", datetime.date(2027, 1, 1), "", "The club's own text."
)


@pytest.fixture
def by(cast):
    return cast.educator.person


@pytest.fixture
def draft(cast):
    return makers.make_draft(cast.club, reproduced_by="The club's own text.")


@pytest.fixture
def in_force(draft, by):
    for section in draft.sections.all():
        confirm_section(section=section, by=by)
    return release_edition(edition=draft)


def test_what_is_missing_is_said_with_its_place(draft, by):
    Edition.objects.update(reproduced_by=" ")
    draft.refresh_from_db()
    draft.sections.create(position=3, number="7", title="Tail")
    confirm_severity(clause=draft.clauses.get(number="5.1"), by=by, severity=2)
    first, second, third = (f"section-{section.pk}" for section in draft.sections.all())
    assert [(lack.text, lack.anchor) for lack in missing_for_release(draft)] == [
        ("Say under which permission the standard is reproduced.", "details"),
        ("The severities of 5.2, 5.3 are not confirmed.", first),
        ("The severities of 6.1, 6.2 are not confirmed.", second),
        ("Section 7 has no clause.", third),
    ]
    with pytest.raises(NotReady) as refusal:
        release_edition(edition=draft)
    assert len(refusal.value.missing) == 4
    draft.refresh_from_db()
    assert draft.state == "draft"


def test_an_empty_draft_is_not_released(cast):
    breed = makers.make_breed(cast.club)
    with pytest.raises(NotReady, match="no clause yet"):
        release_edition(edition=begin_edition(breed=breed, described=SAID))


def test_release_fixes_the_wording_and_forgets_the_steps(in_force, by):
    in_force.refresh_from_db()
    assert (in_force.state, in_force.steps.count()) == ("released", 0)
    assert in_force.released_at is not None
    with pytest.raises(Refused, match="fixed"):
        remove_clause(clause=in_force.clauses.first(), by=by)
    with pytest.raises(Refused, match="already"):
        release_edition(edition=in_force)


def test_a_copy_has_everything_and_remembers_its_origin(in_force):
    copy = copy_edition(edition=in_force, described=SAID)
    said = ("number", "text", "zone", "severity", "severity_confirmed_at", "measure", "position")
    assert list(copy.clauses.values_list(*said)) == list(in_force.clauses.values_list(*said))
    assert [clause.follows.number for clause in copy.clauses.all()] == ["5.1", "5.2", "5.3", "6.1", "6.2"]
    assert {clause.section.edition_id for clause in copy.clauses.all()} == {copy.pk}
    with pytest.raises(Refused, match="draft is not copied"):
        copy_edition(edition=copy, described=SAID)


def test_release_moves_faults_to_what_their_clause_became(cast, in_force, by):
    steep, loose, roach = (
        makers.make_fault(in_force, name, number)
        for name, number in [("Upright shoulder", "5.1"), ("Loose elbow", "5.3"), ("Roached back", "6.2")]
    )
    draft = copy_edition(edition=in_force, described=SAID)
    moved = draft.clauses.get(number="6.2")
    change_clause(clause=moved, by=by, number="6.3", text=moved.text, read=Read(zone="topline"))
    remove_clause(clause=draft.clauses.get(number="5.3"), by=by)
    foreseen = consequences_of_release(draft)
    assert (foreseen.retires, foreseen.moving, foreseen.left_behind) == (in_force, 2, [loose])
    release_edition(edition=draft)
    in_force.refresh_from_db()
    assert in_force.state == "retired"
    assert list(Fault.objects.order_by("pk").values_list("clause__edition", "clause__number")) == [
        (draft.pk, "5.1"),
        (in_force.pk, "5.3"),
        (draft.pk, "6.3"),
    ]
    assert (steep.pk, roach.pk) == tuple(
        Fault.objects.filter(clause__edition=draft).values_list("pk", flat=True).order_by("pk")
    )


def test_faults_move_to_a_pasted_edition_by_number_and_words(cast, in_force, by):
    makers.make_fault(in_force, "Roached back", "6.2")
    new = makers.make_draft(
        cast.club,
        {"6 Topline": ["Croup long.", "Withers stand clear of the back.", "A roached back disqualifies."]},
        reproduced_by="Own.",
    )
    confirm_section(section=new.sections.get(), by=by)
    release_edition(edition=new)
    assert Fault.objects.get().clause.number == "6.3"
    new.refresh_from_db()
    assert new.follows == in_force


def test_comparing_tells_what_became_of_each_clause(cast, in_force, by):
    plate = in_force.plates.create(number=7, title="Shoulder")
    plate.plate_clauses.create(clause=in_force.clauses.get(number="5.1"))
    draft = copy_edition(edition=in_force, described=SAID)
    blade, elbows = draft.clauses.get(number="5.1"), draft.clauses.get(number="5.3")
    change_clause(
        clause=blade,
        by=by,
        number="5.1",
        text=blade.text.replace("serious", "moderate"),
        read=Read(zone="forequarters", settled=True, severity=1, measure="layback", low=30, high=40),
    )
    change_clause(clause=elbows, by=by, number="5.4", text=elbows.text, read=Read(zone="whole"))
    remove_clause(clause=draft.clauses.get(number="6.1"), by=by)
    rows = compare_editions(in_force, draft, ladder_of(cast.club))
    assert [(row.state, row.shown.number) for row in rows] == [
        ("reworded", "5.1"),
        ("same", "5.2"),
        ("renumbered", "5.4"),
        ("removed", "6.1"),
        ("same", "6.2"),
    ]
    assert [(c.kind, c.text) for c in rows[0].changes if c.kind != "same"] == [
        ("removed", "serious"),
        ("added", "moderate"),
    ]
    assert rows[0].read == [
        "Zone: whole dog, now forequarters.",
        "Severity: Serious, now Moderate.",
        "Measure: none, now Layback of shoulder blade 30–40°.",
    ]
    assert rows[0].uses == ["plate 7"]


def test_comparing_costs_the_same_queries_for_more_clauses(cast, in_force, django_assert_num_queries):
    draft = copy_edition(edition=in_force, described=SAID)
    scale = ladder_of(cast.club)
    with CaptureQueriesContext(connection) as few:
        compare_editions(in_force, draft, scale)
    for n in range(20):
        makers.make_clause(draft, f"5.{n + 30}")
    with django_assert_num_queries(len(few)):
        compare_editions(in_force, draft, scale)


def test_a_draft_is_thrown_away_unless_something_is_built_on_it(cast, in_force):
    draft = copy_edition(edition=in_force, described=SAID)
    draft.plates.create(number=1, title="Shoulder")
    with pytest.raises(Refused, match=r"plate \(1\)"):
        remove_draft(edition=draft)
    draft.plates.all().delete()
    remove_draft(edition=draft)
    assert list(Edition.objects.all()) == [in_force]
    with pytest.raises(Refused, match="released edition is kept"):
        remove_draft(edition=in_force)
