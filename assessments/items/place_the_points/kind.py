"""The kind itself: ties asking, key and scoring together."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import Any

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from assessments.evidence.room import Said
from assessments.items.keeping import drafted_so_far, kept_so_far
from assessments.items.kind import AnswerRefused, ItemKind, Marked, plain_detail
from assessments.items.place_the_points.asking import PointsAskingForm
from assessments.items.place_the_points.key import fit_of, lacking, point_key, proposed, read_key
from assessments.items.place_the_points.points import GROUND, asked_points, keyed_points
from assessments.items.place_the_points.room import distances_in_room
from assessments.items.place_the_points.words import key_words, page_words
from assessments.models import Answer, Item, Key, Mark, QuizRules
from assessments.scoring.points import (
    DEFAULT_POINT_RULES,
    KeyPoint,
    PlacedPoint,
    PointKey,
    points_in_words,
    score_points,
    whole_within,
)
from courses.measures.points import BONES
from courses.queries.guide import placing_guide
from courses.validators import read_points


class PlaceThePoints(ItemKind):
    """Place some anatomical points of one exhibit.

    The key is the middle of the points that several people placed, or a drawing's own; what counts is the
    distance from it in heights at the withers.
    """

    name = "place-the-points"
    label = _("Place the anatomical points")
    says = _("Place the points named on an exhibit, or say that one is not visible.")
    templates = "place_the_points"
    pinned = False
    asking_form = PointsAskingForm

    def read_content(self, item: Item, rules: QuizRules, sent: object) -> dict[str, Any]:
        """Places of the points asked, within the picture."""
        exhibit = item.exhibit
        try:
            points = read_points(sent, exhibit.view, exhibit.width, exhibit.height)
        except ValidationError as error:
            raise AnswerRefused(error.messages[0]) from error
        if set(points) - set(asked_points(item)):
            raise AnswerRefused(_now("A point was placed that is not asked."))
        return {"points": points}

    def is_blank(self, content: dict[str, Any]) -> bool:
        """Nothing placed and nothing said not to be visible."""
        return not content.get("points")

    def ask(self, answer: Answer, rules: QuizRules) -> dict[str, Any]:
        """The points asked and the ideal figure to find them by; nothing of this exhibit's points."""
        item = answer.item
        asked = placing_guide(item.exhibit.view, asked_points(item))
        return asked | kept_so_far(answer, {"points": {}})

    def words(self) -> dict[str, str]:
        """See `page_words`."""
        return page_words()

    def first_key(self, key: Key) -> None:
        """What the exhibit's placements amount to, or its drawing knows."""
        key.content = {"points": proposed(key.item).points}
        key.save(update_fields=["content"])

    def read_key(self, item: Item, levels: int, sent: object) -> dict[str, Any]:
        """See `read_key`."""
        return read_key(sent, item)

    def draw_up(self, key: Key) -> dict[str, Any]:
        """The points to key, those of them that are asked, the key so far and what the placements say."""
        item = key.item
        found = proposed(item)
        asked, guided = asked_points(item), placing_guide(item.exhibit.view, keyed_points(item))
        for point in guided["points"]:
            if point["name"] not in asked:
                point["label"] = _now("%(point)s, for the height") % {"point": point["label"]}
        return guided | {
            "asked": asked,
            "proposal": {"points": found.points, "people": found.people, "exact": found.exact},
            "grounds": GROUND[item.exhibit.view],
            "least": DEFAULT_POINT_RULES.least,
            "widest": DEFAULT_POINT_RULES.widest,
            **drafted_so_far(key, {"points": key.content.get("points", {}), "note": key.note}),
        }

    def show_key(self, key: Key) -> dict[str, Any]:
        """Its points with their spread, and the same for the drawing."""
        known = point_key(key)
        return {
            "rows": [_shown(name, point) for name, point in known.points.items()],
            "drawing": {"height": known.height, "bones": BONES.get(key.item.exhibit.view, ())},
        }

    def key_words(self) -> dict[str, str]:
        """See `key_words`."""
        return key_words()

    def lacks(self, key: Key) -> list[str]:
        """See `lacking`."""
        return lacking(key)

    def fit_of(self, key: Key) -> str:
        """See `fit_of`."""
        return fit_of(key)

    def rules_in_words(self, rules: QuizRules) -> list[str]:
        """See `assessments.scoring.points`."""
        return list(points_in_words(DEFAULT_POINT_RULES))

    def line(self, mark: Mark) -> dict[str, str]:
        """How many points were asked, how many did not count whole."""
        asked = len(mark.detail["points"])
        lost = sum(1 for point in mark.detail["points"] if point["credit"] < 1)
        key = ngettext("%(n)d point", "%(n)d points", asked) % {"n": asked}
        return {"key": key, "missed": str(lost), "called": ""}

    def said_in_room(self, details: Iterable[dict[str, Any]]) -> list[Said]:
        """See `distances_in_room`."""
        return distances_in_room(details)

    def mark(self, key: Key, rules: QuizRules, contents: Iterable[dict[str, Any]]) -> Iterator[Marked]:
        """By the published rules; see `assessments.scoring.points`."""
        known, bones = point_key(key), BONES.get(key.item.exhibit.view, ())
        for content in contents:
            placed = {name: at and (at[0], at[1]) for name, at in content.get("points", {}).items()}
            score = score_points(known, placed)
            points = [_compared(known, each, placed) for each in score.points]
            more = {"points": points, "height": known.height, "bones": bones, "sees": False}
            detail = plain_detail(score.lines, answered=score.answered, **more)
            yield Marked(score.score, detail)


def _shown(name: str, point: KeyPoint) -> dict[str, Any]:
    return {
        "name": name,
        "label": point.label,
        "place": point.place,
        "spread": 100 * point.spread,
        "whole": whole_within(point, DEFAULT_POINT_RULES),
    }


def _compared(known: PointKey, result: PlacedPoint, placed: dict[str, Any]) -> dict[str, Any]:
    """One point as a marked answer shows it, kept with the mark."""
    point = known.points[result.name]
    return {
        "name": result.name,
        "label": point.label,
        "key": point.place,
        "whole": whole_within(point, DEFAULT_POINT_RULES),
        "given": placed.get(result.name),
        "said": result.name in placed,
        "distance": result.distance,
        "credit": result.credit,
    }
