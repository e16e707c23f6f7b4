"""Words that the key page's script says; what stands in braces is filled in by it."""

from __future__ import annotations

from django.utils.translation import gettext as _

from assessments.items.mark_the_faults.key import missing_words


def key_words() -> dict[str, str]:
    """In the reader's language."""
    return _of_the_list() | _of_the_drawing() | _of_the_saving() | _missing()


def _missing() -> dict[str, str]:
    return {f"missing_{part}": words for part, words in missing_words().items()}


def _of_the_list() -> dict[str, str]:
    return {
        "unnamed": _("Not named yet"),
        "unweighed": _("not weighed"),
        "whole": _("whole dog"),
        "sound": _("There is nothing to find: who finds nothing is right."),
        "removed": _("{letter} removed. Undo brings it back."),
        "remove": _("Remove {letter}"),
        "aside": _("The faults entered below are set aside; publishing leaves them out."),
        "differs": _(
            "The key says {level}, the clause reads as {reads}. Trainees see the two side by side: "
            "change one, or be sure that the panel means it."
        ),
        "one_region": _("one region"),
        "many_regions": _("{n} regions"),
        "first_region": _("Draw its region"),
        "another_region": _("Another region of {letter}"),
        "credit": _("Credit for “{name}”, from 0 to 1"),
        "unaccept": _("Remove “{name}”"),
        "twice": _("{letters} name the same fault. Two regions of one fault belong under one letter."),
        "full": _("A key holds no more faults."),
        "undone": _("Undone."),
        "redone": _("Done again."),
    }


def _of_the_drawing() -> dict[str, str]:
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


def _of_the_saving() -> dict[str, str]:
    return {
        "saved": _("Draft saved at {at}"),
        "saving": _("Saving"),
        "offline": _(
            "No connection. Kept on this device since {at}; it is sent when the connection is back. "
            "You may go on."
        ),
        "signedOut": _(
            "You are signed out. Sign in again in another tab; what you did is kept on this device."
        ),
        "kept": _("What you did is kept on this page."),
        "gone": _("This draft is no longer open: it was published or discarded in another window."),
    }
