"""Placed points: asked in views that show the height, keyed from placements, marked by distance."""

from __future__ import annotations

import json
import uuid

import pytest

from assessments.actions.items import make_item
from assessments.actions.keys import publish_key, save_draft, start_draft
from assessments.actions.sittings import begin_sitting, hand_in, save_answer
from assessments.drawable import fit_for_examination
from assessments.items import KINDS, AnswerRefused, KeyRefused
from assessments.items.place_the_points.key import proposed
from assessments.models import EntryResult, Item, Mark
from assessments.queries.marks import marks_for_figures
from assessments.rules import NotReady
from courses.models import Placement
from tests import makers

KIND = KINDS["place-the-points"]
ASKED = ["elbow", "point_of_buttock", "tail_tip"]
# Of a dog half the picture's longer side high, facing right.
WITHERS, GROUND = [0.60, 0.20], {"ground_front": [0.62, 0.70], "ground_rear": [0.20, 0.70]}
ELBOW, BUTTOCK = [0.61, 0.45], [0.15, 0.35]
KEYED = {"withers": WITHERS, **GROUND, "elbow": ELBOW, "point_of_buttock": BUTTOCK, "tail_tip": None}


@pytest.fixture
def exhibit(cast, edition):
    """A photograph, on which people place points each for themselves."""
    return makers.make_exhibit(cast.club, cast.educator, breed=edition.breed, kind="photograph")


@pytest.fixture
def drawing(cast, edition):
    return makers.make_exhibit(cast.club, cast.educator, breed=edition.breed)


def placements(cast, exhibit, *several):
    for number, points in enumerate(several):
        person = makers.make_member(cast.club, f"Placer {number}", educator=True)
        makers.make_placement(exhibit, person, points)


def keyed(points, **spreads):
    return {"points": {name: {"place": at, "spread": spreads.get(name, 0)} for name, at in points.items()}}


@pytest.fixture
def item(cast, edition, drawing):
    content = keyed(KEYED, elbow=0.03)
    return makers.make_item_of(
        edition, cast.educator, KIND.name, exhibit=drawing, asking={"points": ASKED}, content=content
    )


@pytest.fixture
def answer(cast, edition, item):
    quiz = makers.make_quiz_asking(edition, cast.educator, item)
    return begin_sitting(quiz=quiz, trainee=cast.trainee).answers.get()


def placed(answer, **points):
    sent = {"points": points}
    save_answer(answer=answer, sent=sent, seen=answer.revision, identity=uuid.uuid4())
    answer.refresh_from_db()
    hand_in(answer=answer, seen=answer.revision)
    return Mark.objects.get(answer=answer)


def test_each_point_is_marked_by_its_distance_in_heights(answer):
    """The elbow 4 % away with a spread of 3 %: 0.8; the buttock 10 % away: 0; the tail as the key has it: 1."""
    mark = placed(answer, elbow=[0.63, 0.45], point_of_buttock=[0.20, 0.35], tail_tip=None)
    assert mark.score == pytest.approx((0.8 + 0 + 1) / 3)
    assert (mark.seeing, mark.naming, mark.weighing) == (None, None, None)
    texts = [line["text"] for line in mark.detail["lines"]]
    assert texts == [
        "Elbow joint: 4.0 % of the height away; whole to 3.0 %, nothing from 8.0 %",
        "Point of buttock: 10.0 % of the height away; nothing from 6.0 %",
        "Tip of tail: not visible, as the key has it",
    ]


def test_it_is_no_evidence_of_an_eye_for_faults(cast, answer):
    placed(answer, elbow=ELBOW)
    assert not EntryResult.objects.exists()
    assert marks_for_figures(cast.trainee) == []


def test_the_first_draft_is_the_middle_of_the_placements(cast, edition, exhibit):
    base = {name: at for name, at in KEYED.items() if name != "tail_tip"}
    placements(
        cast, exhibit,
        base | {"elbow": [0.60, 0.45], "tail_tip": None},
        base | {"elbow": [0.61, 0.46], "tail_tip": None},
        base | {"elbow": [0.62, 0.45], "tail_tip": [0.1, 0.3]},
    )  # fmt: skip
    item = makers.make_item_of(edition, cast.educator, KIND.name, exhibit=exhibit, asking={"points": ASKED})
    points = item.keys.get().content["points"]
    assert points["elbow"] == {"place": [0.61, 0.45], "spread": 0.0201}  # 0.01 along both axes, of 0.5
    assert points["tail_tip"] == {"place": None, "spread": 0}
    assert points["point_of_buttock"]["spread"] == 0
    assert set(points) == {*ASKED, "withers", *GROUND}


def test_a_drawing_is_keyed_by_its_own_points_alone(cast, edition, drawing):
    Placement.objects.create(exhibit=drawing, points=KEYED, exact=True)
    item = makers.make_item_of(edition, cast.educator, KIND.name, exhibit=drawing, asking={"points": ASKED})
    points = item.keys.get().content["points"]
    assert points["elbow"] == {"place": ELBOW, "spread": 0}
    assert proposed(item).exact


def test_without_withers_or_ground_it_is_refused_with_the_reason(cast, edition, exhibit):
    content = keyed({name: at for name, at in KEYED.items() if name not in GROUND})
    with pytest.raises(NotReady) as refused:
        makers.make_item_of(
            edition, cast.educator, KIND.name, exhibit=exhibit, asking={"points": ASKED}, content=content
        )
    assert [words[:51] for words in refused.value.missing] == [
        "Distances count in heights at the withers: place th"
    ]


def test_a_point_left_out_or_too_far_apart_is_refused(cast, edition, exhibit):
    without = {name: at for name, at in KEYED.items() if name != "tail_tip"}
    with pytest.raises(NotReady) as refused:
        makers.make_item_of(
            edition, cast.educator, KIND.name, exhibit=exhibit, asking={"points": ASKED},
            content=keyed(without, elbow=0.07),
        )  # fmt: skip
    assert [words.split(":")[0] for words in refused.value.missing] == ["Tip of tail", "Elbow joint"]


@pytest.mark.parametrize(
    "sent",
    [
        None,
        {"points": []},
        {"points": {"nose": [0.1, 0.1]}},
        {"points": {"elbow": [0.1]}},
        {"points": {"elbow": [2, 0]}},
        {"points": {"elbow": [float("nan"), 0]}},
        {"points": {"elbow": "x"}},
    ],
)
def test_an_answer_that_cannot_be_is_refused(item, sent):
    with pytest.raises(AnswerRefused):
        KIND.read_content(item, None, sent)


@pytest.mark.parametrize(
    "points",
    [
        {"nose": {"place": [0.1, 0.1], "spread": 0}},
        {"elbow": {"place": [0.1, 1.2], "spread": 0}},
        {"elbow": {"place": [0.1, 0.2], "spread": -1}},
        {"elbow": {"place": [0.1, 0.2], "spread": "0"}},
        {"elbow": {"place": [0.1, 0.2], "spread": float("inf")}},
        {"elbow": {"place": [0.1, 0.2], "spread": 10**400}},
        {"elbow": None},
        [],
    ],
)
def test_a_key_that_cannot_be_is_refused(item, points):
    with pytest.raises(KeyRefused):
        KIND.read_key(item, 4, {"points": points})


def ask(cast, edition, exhibit, **said):
    address = f"/clubs/skerry-drover/items/new/{KIND.name}/?edition={edition.pk}"
    return cast.client("educator").post(address, {"exhibits": exhibit.number, **said})


def test_an_educator_says_which_points_are_asked(cast, edition, exhibit):
    response = ask(cast, edition, exhibit, profile=["tail_tip", "elbow"])
    item = Item.objects.get(kind=KIND.name)
    assert response.url.endswith(f"/items/{item.pk}/key/")
    assert item.asking == {"points": ["tail_tip", "elbow"]}
    page = cast.client("educator").get(response.url)
    assert [point["name"] for point in page.context["drawn_up"]["points"]] == [
        "withers", "ground_front", "ground_rear", "elbow", "tail_tip",
    ]  # fmt: skip
    assert page.context["drawn_up"]["points"][0]["label"] == "Withers, for the height"


@pytest.mark.parametrize(
    ("view", "said", "words"),
    [
        ("profile", {}, "Tick at least one point."),
        ("profile", {"front": ["withers"]}, "Tick at least one point."),
        ("head", {"profile": ["nose"]}, "Points count in heights at the withers"),
    ],
)
def test_what_cannot_be_asked_is_said_beside_its_cause(cast, edition, view, said, words):
    exhibit = makers.make_exhibit(cast.club, cast.educator, breed=edition.breed, view=view)
    response = ask(cast, edition, exhibit, **said)
    assert response.status_code == 422
    assert words in response.content.decode()
    assert not Item.objects.exists()


def test_nothing_of_the_exhibits_points_is_on_the_answer_page(cast, item, answer):
    Placement.objects.create(exhibit=item.exhibit, points=KEYED | {"elbow": [0.61234, 0.45678]}, exact=True)
    secret = keyed(KEYED | {"elbow": [0.61117, 0.45117]}, elbow=0.0371)
    draft = start_draft(item=item, by=cast.educator.person)
    save_draft(key=draft, sound=False, note="For the panel", content=secret, by=cast.educator.person)
    publish_key(item=item, by=cast.educator.person)
    sent = cast.client("trainee").get(f"/clubs/skerry-drover/answers/{answer.pk}/")
    words = sent.content.decode() + json.dumps(dict(sent.headers))
    secrets = ("0.61117", "0.45117", "0.0371", "3.71", "0.61234", "For the panel", "spread")
    assert [secret for secret in secrets if secret in words] == []
    assert [point["name"] for point in sent.context["ask"]["points"]] == ASKED


def test_the_pages_of_a_marked_answer_and_of_the_key(cast, item, answer):
    makers.make_mentorship(cast.mentor, cast.trainee)
    trainee = cast.client("trainee")
    rules = trainee.get(f"/clubs/skerry-drover/quizzes/{answer.sitting.quiz_id}/rules/").content.decode()
    assert "always within 1 %" in rules
    placed(answer, elbow=[0.63, 0.45], point_of_buttock=BUTTOCK, tail_tip=None)
    for page in (
        trainee.get(f"/clubs/skerry-drover/answers/{answer.pk}/"),
        cast.client("mentor").get(f"/clubs/skerry-drover/reviews/{answer.pk}/"),
    ):
        assert "Elbow joint: 4.0 % of the height away" in page.content.decode()
    assert "3 points" in trainee.get(f"/clubs/skerry-drover/sittings/{answer.sitting_id}/").content.decode()
    shown = cast.client("educator").get(f"/clubs/skerry-drover/items/{item.pk}/key/").content.decode()
    assert "Elbow joint" in shown
    assert "3.0" in shown


def test_the_room_is_told_the_middle_distance_of_each_point(item):
    """Distances of 0, 2 and 4 % of the height, and one who says that it is not visible."""
    answers = [{"points": {"elbow": at}} for at in ([0.61, 0.45], [0.62, 0.45], [0.63, 0.45], None)]
    key = item.keys.get()
    details = [marked.detail for marked in KIND.mark(key, None, answers)]
    elbow = KIND.said_in_room(details)[0]
    assert elbow.text == "Elbow joint: half of them within 2.0 % of the height, 1 said that it is not visible"
    assert elbow.people == 4
    assert elbow.points == pytest.approx((1 + 1 + 0.8 + 0) / 4 / 3)


def test_a_preview_shows_an_exhibit_that_is_not_published_yet(cast, edition):
    exhibit = makers.make_photograph(cast.club, cast.educator, breed=edition.breed)
    item = make_item(
        edition=edition, exhibit=exhibit, kind=KIND.name, asking={"points": ASKED}, by=cast.educator.person
    )
    page = cast.client("educator").get(f"/clubs/skerry-drover/items/{item.pk}/preview/").content.decode()
    assert exhibit.renditions.first().name in page


@pytest.mark.parametrize(
    ("people", "moved", "fit"),
    [(3, 0.0, "examination"), (3, 0.004, "examination"), (3, 0.02, "practice"), (2, 0.0, "practice")],
)
def test_a_key_is_fit_for_examination_as_three_people_placed_it(cast, edition, exhibit, people, moved, fit):
    """A move of 0.004 is 0.8 % of the height, within the least that counts whole; 0.02 is 4 %."""
    placements(cast, exhibit, *[KEYED] * people)
    content = keyed(KEYED | {"elbow": [ELBOW[0] + moved, ELBOW[1]]})
    item = makers.make_item_of(
        edition, cast.educator, KIND.name, exhibit=exhibit, asking={"points": ASKED}, content=content
    )
    assert item.keys.get().fit == fit
    assert fit_for_examination(item, item.keys.get()) is (fit == "examination")


def test_a_drawings_points_are_fit_for_examination_and_others_are_not(cast, edition, drawing, item):
    assert item.keys.get().fit == "practice"  # nobody placed them but the educator
    Placement.objects.create(exhibit=drawing, points=KEYED, exact=True)
    drawn = makers.make_item_of(edition, cast.educator, KIND.name, exhibit=drawing, asking={"points": ASKED})
    assert drawn.keys.get().fit == "examination"
