"""What forms, actions and archives refuse alike."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from math import isfinite

from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _

from courses import numbering
from courses.measures.points import POINTS
from shared.geometry.outlines import Canvas, OutlineRefused, read_outlines
from shared.web.limits import BLANK_CORNERS, BLANKS_PER_EXHIBIT

LEVELS_AT_MOST = 8
LEVEL_NAME = 24  # letters in the name of a level


def check_number(number: str) -> None:
    """A section's or clause's number: letters and digits, parted by full stops."""
    if len(number) > numbering.MAX_LENGTH or not numbering.SHAPE.fullmatch(number):
        raise ValidationError(
            _("“%(number)s” is no clause number. Write digits, letters and full stops, as in 5.1 or 5.1a."),
            params={"number": number[:20]},
        )


def check_ladder(labels: Sequence[str], weights: Sequence[float]) -> None:
    """A severity ladder: two levels or more, each with its own name, weights above 0 that rise."""
    if not 2 <= len(labels) <= LEVELS_AT_MOST or len(labels) != len(weights):
        raise ValidationError(
            _("A ladder has between 2 and %(most)d levels, each with a weight."),
            params={"most": LEVELS_AT_MOST},
        )
    if any(not label.strip() or len(label) > LEVEL_NAME for label in labels):
        raise ValidationError(
            _("Every level has a name of at most %(most)d letters."), params={"most": LEVEL_NAME}
        )
    if len({label.strip().casefold() for label in labels}) < len(labels):
        raise ValidationError(_("Two levels bear the same name."))
    if not all(isfinite(weight) and weight > 0 for weight in weights):
        raise ValidationError(_("Every weight is a number above 0."))
    if any(light >= heavy for light, heavy in itertools.pairwise(weights)):
        raise ValidationError(_("Each level weighs more than the one before it."))


def check_measure(measure: str, low: float | None, high: float | None) -> None:
    """A measurable clause says what is measured and both ends of its range; any other says none of them."""
    if not measure and low is None and high is None:
        return
    if not measure:
        raise ValidationError(_("Say what is measured, or leave the range empty."))
    if low is None or high is None:
        raise ValidationError(_("Give both ends of the range, or leave the measure empty."))
    if not (isfinite(low) and isfinite(high) and low < high):
        raise ValidationError(_("The range begins below its end."))


def read_points(sent: object, view: str, width: int, height: int) -> dict[str, list[float] | None]:
    """Points as a browser sends them: name to [x, y] within the picture, or None where not visible."""
    known = {point.name for point in POINTS.get(view, ())}
    if not isinstance(sent, dict) or not isinstance(sent.get("points"), dict):
        raise ValidationError(_("The points could not be read."))
    if set(sent["points"]) - known:
        raise ValidationError(_("This view has no such point."))
    return {
        name: None if at is None else _read_place(at, width, height) for name, at in sent["points"].items()
    }


def _read_place(at: object, width: int, height: int) -> list[float]:
    """A place within the picture, in units of its longer side, to a hundredth of a pixel of a large one."""
    if not isinstance(at, list | tuple) or len(at) != 2:
        raise ValidationError(_("A place is given by two numbers."))
    longer = max(width, height) or 1
    for number, side in zip(at, (width, height), strict=True):
        if isinstance(number, bool) or not isinstance(number, int | float) or not isfinite(number):
            raise ValidationError(_("A place is given by two numbers."))
        if not 0 <= number <= side / longer + 1e-6:
            raise ValidationError(_("The place lies outside the picture."))
    return [round(float(number), 6) for number in at]


def read_blanks(sent: object, width: int, height: int) -> list[list[list[float]]]:
    """Outlines to be painted over, each a simple polygon within the picture."""
    canvas = Canvas(width, height, most=BLANKS_PER_EXHIBIT, corners=BLANK_CORNERS)
    try:
        return read_outlines(sent, canvas)
    except OutlineRefused as error:
        words = (
            _("Too many parts to blank.") if error.code == "many" else _("A part to blank could not be read.")
        )
        raise ValidationError(words, code=error.code) from error
