"""A clause, and a section's heading, as forms."""

from __future__ import annotations

import hashlib
from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.utils.translation import gettext as _t
from django.utils.translation import gettext_lazy as _

from courses.actions.clause import Read
from courses.measures.catalogue import MEASURES
from courses.models import Clause, Section, SeverityScale
from courses.models.choices import Zone
from courses.numbering import MAX_LENGTH
from courses.validators import check_measure, check_number

NONE = "none"  # the severity of a clause that weighs nothing by itself


class SectionForm(forms.Form):
    """A section's number and heading."""

    number = forms.CharField(label=_("Number"), max_length=MAX_LENGTH, validators=[check_number])
    title = forms.CharField(label=_("Heading"), max_length=160)


class ClauseForm(forms.Form):
    """A clause's number and wording, and what the club reads from it.

    `seen` tells which state of the clause was on the page, so that no one writes over another's change
    without having seen it.
    """

    number = forms.CharField(label=_("Number"), max_length=MAX_LENGTH, validators=[check_number])
    text = forms.CharField(
        label=_("Wording"),
        max_length=4000,
        widget=forms.Textarea(attrs={"rows": 4, "class": "wording"}),
    )
    zone = forms.ChoiceField(label=_("Zone"), choices=Zone.choices)
    severity = forms.ChoiceField(label=_("Severity"), required=False)
    measure = forms.ChoiceField(label=_("Measure"), required=False)
    low = forms.FloatField(label=_("From"), required=False, widget=forms.NumberInput(attrs={"step": "any"}))
    high = forms.FloatField(label=_("To"), required=False, widget=forms.NumberInput(attrs={"step": "any"}))
    seen = forms.CharField(required=False, widget=forms.HiddenInput)

    def __init__(self, *args: Any, clause: Clause, scale: SeverityScale, **kwargs: Any) -> None:
        kwargs.setdefault("initial", _shown(clause) if clause.number else {})
        kwargs.setdefault("auto_id", f"id_{clause.pk or 'new'}_%s")
        super().__init__(*args, **kwargs)
        self.clause = clause
        if not self.is_bound:
            self.fields["text"].widget.attrs["autofocus"] = True
        self.fields["severity"].choices = [
            ("", ""),
            (NONE, _t("None by itself")),
            *((str(level), label) for level, label in enumerate(scale.labels)),
        ]
        self.fields["measure"].choices = _measures(clause.measure)
        if not clause.edition.draft:
            self.fields["number"].disabled = self.fields["text"].disabled = True

    def clean_text(self) -> str:
        return self.cleaned_data["text"].replace("\r\n", "\n")

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        if not self.errors:
            try:
                check_measure(given["measure"], given["low"], given["high"])
            except ValidationError as wrong:
                self.add_error("low", wrong)
        if self.clause.pk and given.get("seen") != seen_of(self.clause):
            self.data = self.data.copy()
            self.data[self.add_prefix("seen")] = seen_of(self.clause)
            raise ValidationError(
                _t(
                    "This clause was changed while you were at it. It now reads: “%(text)s” "
                    "Save again to put yours in its place."
                ),
                params={"text": self.clause.text},
            )
        return given

    @property
    def read(self) -> Read:
        """What the club reads from the clause, as the actions take it."""
        given = self.cleaned_data
        severity = given["severity"]
        return Read(
            zone=given["zone"],
            settled=bool(severity),
            severity=None if severity in ("", NONE) else int(severity),
            measure=given["measure"],
            low=given["low"],
            high=given["high"],
        )


def seen_of(clause: Clause) -> str:
    """A short mark of a clause's state, for a form to bring back."""
    state = (clause.number, clause.text, clause.zone, clause.severity, clause.severity_confirmed_at)
    words = repr((*state, clause.measure, clause.low, clause.high)).encode()
    return hashlib.blake2b(words, digest_size=8).hexdigest()


def _shown(clause: Clause) -> dict[str, Any]:
    severity = ""
    if clause.severity_confirmed_at:
        severity = NONE if clause.severity is None else str(clause.severity)
    names = ("number", "text", "zone", "measure", "low", "high")
    return {name: getattr(clause, name) for name in names} | {"severity": severity, "seen": seen_of(clause)}


def _measures(kept: str) -> list[tuple[str, str]]:
    known = [(name, f"{each.label}{', °' if each.unit else ''}") for name, each in MEASURES.items()]
    if kept and kept not in MEASURES:
        known.append((kept, kept))
    return [("", _t("none")), *known]


def heading_of(section: Section) -> dict[str, str]:
    """The initial values of a section's form."""
    return {"number": section.number, "title": section.title}
