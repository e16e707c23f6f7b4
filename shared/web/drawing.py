"""Words of the region editor (`regions.js`, `region_tools.js`); what stands in braces is filled in by it."""

from __future__ import annotations

from django.utils.translation import gettext as _


def drawing_words() -> dict[str, str]:
    """In the reader's language."""
    return {
        "draw_for": _("Draw a region for {letter}:"),
        "drawing_for": _("Drawing for {letter}:"),
        "delete_corner": _("Take this corner away"),
        "delete_region": _("Remove this region"),
        "idle": _(
            "Press a region to choose it; drag it or its corners. Choose a way of drawing above to add one."
        ),
        "idle_keys": _(
            "Tab reaches regions and corners: arrows move, N and P go along the corners, I puts one in, "
            "Delete takes away. With Shift, arrows stretch a region."
        ),
        "corners": _("Press at each corner; press the first again, or C, to close."),
        "corners_keys": _(
            "Arrows move the cross, Enter sets a corner, Backspace takes the last away, C closes, Escape leaves."
        ),
        "box": _("Drag from corner to corner, or press at both."),
        "oval": _("Drag a frame round the ellipse, or press at two corners of it."),
        "box_keys": _("Arrows move the cross, Enter sets a corner of the frame, Escape leaves."),
        "begun": _("Corner {n} set."),
        "closed": _("Region closed with {n} corners."),
        "left": _("Drawing left; nothing was added."),
        "crosses": _("That would make the outline cross itself. Nothing was changed."),
        "small": _("Too small to be a region. Nothing was added."),
        "few": _("A region has at least three corners."),
        "most_corners": _("An outline has at most {n} corners."),
        "most_regions": _("One fault has at most {n} regions."),
        "region": _("Region {n} of {letter}, {corners} corners"),
        "corner": _("Corner {n} of {of}, region {region} of {letter}"),
        "corner_gone": _("Corner taken away."),
        "corner_new": _("Corner put in."),
        "region_gone": _("Region removed. Undo brings it back."),
    }
