"""The mentor's form: one level of each part of the rubric, a word on each if they like, and one on the whole."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext as _now
from django.utils.translation import gettext_lazy as _

from assessments.items.kind import Marked, plain_detail
from assessments.items.write_a_critique.key import rubric_rows
from assessments.items.write_a_critique.parts import RUBRIC, TOP, rubric_of
from assessments.models import Key
from assessments.scoring.rubric import score_rubric


class RubricForm(forms.Form):
    """Levels are told by their descriptions. `key` is the one by which the answer is marked."""

    overall = forms.CharField(
        label=_("On the whole"), max_length=1000, required=False, widget=forms.Textarea(attrs={"rows": 3})
    )

    def __init__(self, *args: Any, key: Key, given: dict[str, Any] | None = None, **kwargs: Any) -> None:
        if given:
            kwargs.setdefault("initial", _initial(given))
        super().__init__(*args, **kwargs)
        self.rows = rubric_rows(key.content)
        for row in self.rows:
            self.fields[f"level_{row['name']}"] = forms.TypedChoiceField(
                label=row["label"],
                coerce=int,
                choices=[(level, words) for level, words in enumerate(row["levels"])],
                widget=forms.RadioSelect,
                error_messages={"required": _("Choose a level.")},
            )
            self.fields[f"word_{row['name']}"] = forms.CharField(
                label=_("A word on it"),
                max_length=500,
                required=False,
                widget=forms.Textarea(attrs={"rows": 2}),
            )
        self.order_fields([f"{part}_{name}" for name in RUBRIC for part in ("level", "word")] + ["overall"])

    @property
    def parts(self) -> list[dict[str, Any]]:
        """Each part of the rubric with its two fields and its share of the mark, in per cent."""
        whole = sum(row["weight"] for row in self.rows)
        return [
            row
            | {
                "level": self[f"level_{row['name']}"],
                "word": self[f"word_{row['name']}"],
                "share": round(100 * row["weight"] / whole),
            }
            for row in self.rows
        ]

    def given(self) -> dict[str, Any]:
        """The marking as it is kept with the mark."""
        said = self.cleaned_data
        return {
            "reached": {name: said[f"level_{name}"] for name in RUBRIC},
            "words": {name: said[f"word_{name}"].strip() for name in RUBRIC},
            "overall": said["overall"].strip(),
        }


def marked_by(key: Key, given: dict[str, Any]) -> Marked:
    """The mark that a rubric filled in gives by a key."""
    found = score_rubric(rubric_of(key.content), [given["reached"][name] for name in RUBRIC])
    return Marked(found.score, plain_detail(found.lines, given=given))


def reached_in_words(key: Key, given: dict[str, Any]) -> list[dict[str, Any]]:
    """Each part of the rubric with the level reached and the mentor's word on it."""
    return [
        row
        | {
            "level": given["reached"][row["name"]],
            "of": TOP,
            "says": row["levels"][given["reached"][row["name"]]],
            "word": given["words"].get(row["name"], ""),
        }
        for row in rubric_rows(key.content)
    ]


def lowest_in_words(key: Key, given: dict[str, Any]) -> str:
    """The part of the rubric that reached least, for a sitting's list; "" where all is at its top."""
    rows = reached_in_words(key, given)
    least = min(rows, key=lambda row: row["level"])
    if least["level"] == TOP:
        return ""
    return _now("%(part)s %(n)d of %(of)d") % {"part": least["label"], "n": least["level"], "of": TOP}


def _initial(given: dict[str, Any]) -> dict[str, Any]:
    levels = {f"level_{name}": level for name, level in given["reached"].items()}
    words = {f"word_{name}": word for name, word in given["words"].items()}
    return levels | words | {"overall": given["overall"]}
