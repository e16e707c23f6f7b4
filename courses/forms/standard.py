"""Breeds, editions and ladders as forms."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile
from django.utils import timezone
from django.utils.translation import gettext as _t
from django.utils.translation import gettext_lazy as _

from courses.actions.edition import Described
from courses.forms.permission import DateBox
from courses.models import Edition, SeverityScale
from courses.validators import LEVEL_NAME, LEVELS_AT_MOST, check_ladder
from shared.prose.cleaning import clean_text, decode_text
from shared.web.limits import STANDARD_BYTES


class BreedForm(forms.Form):
    """A breed's name."""

    name = forms.CharField(label=_("Breed"), max_length=120)


class EditionForm(forms.ModelForm):
    """Who issued an edition, and under which permission the club reproduces it."""

    class Meta:
        model = Edition
        fields = ["title", "issuing_body", "issued_on", "source", "reproduced_by"]
        widgets = {"issued_on": DateBox(), "reproduced_by": forms.Textarea(attrs={"rows": 3})}
        help_texts = {
            "title": _("As in “Edition of 2026”."),
            "source": _("Where it is published: an address, a book, a circular."),
            "reproduced_by": _(
                "A written standard may be under copyright. Say who allows the club to reproduce it, how and "
                "when; or that it is the club’s own text. It is asked for before release, and stands under "
                "the standard."
            ),
        }

    @property
    def described(self) -> Described:
        """What was typed, as the actions take it."""
        return Described(**self.cleaned_data)


class PasteForm(forms.Form):
    """The written standard, typed, pasted or as a file of plain text."""

    text = forms.CharField(
        label=_("The written standard"),
        required=False,
        strip=False,
        widget=forms.Textarea(attrs={"rows": 18, "spellcheck": "false"}),
    )
    file = forms.FileField(
        label=_("Or a file"),
        required=False,
        help_text=_(
            "Plain text or Markdown, up to 1 MB. Save a document from a word processor as plain text first."
        ),
        widget=forms.FileInput(attrs={"accept": ".txt,.md,.markdown,text/plain,text/markdown"}),
    )

    def clean_file(self) -> str:
        file: UploadedFile | None = self.cleaned_data["file"]
        if file is None:
            return ""
        if file.size > STANDARD_BYTES:
            raise ValidationError(
                _t("The file is larger than 1 MB. Does it hold pictures? Save it as plain text.")
            )
        try:
            return decode_text(file.read())
        except ValueError as unreadable:
            raise ValidationError(str(unreadable)) from unreadable

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        if given.get("text", "").strip() and given.get("file"):
            self.add_error(
                "file", _t("Both a text and a file were given. Empty the text, or leave the file out.")
            )
        elif "file" in given and not (given.get("text", "").strip() or given["file"].strip()):
            self.add_error("text", _t("Paste the standard here, or choose a file."))
        self._clean_words(given)
        return given

    def _clean_words(self, given: dict[str, Any]) -> None:
        typed = given.get("text", "")
        try:
            given["words"] = clean_text(typed if typed.strip() else given.get("file", ""))
        except ValueError as too_long:
            self.add_error("text" if typed.strip() else "file", str(too_long))


class LadderForm(forms.Form):
    """A severity ladder from a day on; rows without a name are left out."""

    effective_from = forms.DateField(label=_("In force from"), widget=DateBox(), initial=timezone.localdate)
    disqualifying = forms.BooleanField(
        label=_("The heaviest level disqualifies"), required=False, initial=True
    )

    def __init__(self, *args: Any, scale: SeverityScale, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["disqualifying"].initial = scale.disqualifying
        self.room = min(len(scale) + 2, LEVELS_AT_MOST)
        for n in range(self.room):
            there = n < len(scale)
            self.fields[f"label_{n}"] = forms.CharField(
                label=_t("Level %(n)d") % {"n": n + 1},
                max_length=LEVEL_NAME,
                required=False,
                initial=scale.labels[n] if there else "",
                widget=forms.TextInput(attrs={"aria-label": _t("Level %(n)d") % {"n": n + 1}}),
            )
            self.fields[f"weight_{n}"] = forms.FloatField(
                label=_t("Weight of level %(n)d") % {"n": n + 1},
                required=False,
                initial=scale.weights[n] if there else None,
                widget=forms.NumberInput(
                    attrs={
                        "step": "any",
                        "min": "0",
                        "aria-label": _t("Weight of level %(n)d") % {"n": n + 1},
                    }
                ),
            )

    @property
    def rows(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        """The fields of each level, lightest first."""
        return [(self[f"label_{n}"], self[f"weight_{n}"]) for n in range(self.room)]

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        levels = []
        for n in range(self.room):
            label, weight = given.get(f"label_{n}", ""), given.get(f"weight_{n}")
            if label and weight is None:
                self.add_error(f"weight_{n}", _t("Give this level a weight."))
            elif weight is not None and not label:
                self.add_error(f"label_{n}", _t("Give this level a name, or leave out its weight."))
            elif label:
                levels.append((label, weight))
        given["labels"] = [label for label, _weight in levels]
        given["weights"] = [int(w) if w == int(w) else w for _label, w in levels] if not self.errors else []
        if not self.errors:
            check_ladder(given["labels"], given["weights"])
        return given
