"""The club's list of faults as forms."""

from __future__ import annotations

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.db.models import Q
from django.utils.translation import gettext as _t
from django.utils.translation import gettext_lazy as _

from courses.actions.fault import Named
from courses.models import Breed, Clause, Edition, Fault, SeverityScale
from courses.models.choices import Zone
from shared.prose.zones import suggest_zone
from shared.web.limits import FAULTS_PER_BREED, NAMES_PER_FAULT

NAME_AT_MOST = Fault._meta.get_field("name").max_length


class FaultForm(forms.Form):
    """One fault of the list."""

    name = forms.CharField(label=_("Fault"), max_length=NAME_AT_MOST)
    virtue = forms.CharField(
        label=_("Opposite virtue"),
        max_length=NAME_AT_MOST,
        required=False,
        help_text=_("What is right where this is wrong, as in “well laid back shoulder”."),
    )
    zone = forms.ChoiceField(label=_("Zone"), choices=[("", _("choose one")), *Zone.choices])
    clause = forms.ModelChoiceField(
        label=_("Clause"), queryset=Clause.objects.none(), required=False, empty_label=_("none")
    )
    level = forms.ChoiceField(label=_("Usual severity"))
    other_names = forms.CharField(
        label=_("Other names"),
        required=False,
        widget=forms.Textarea(attrs={"rows": 3}),
        help_text=_("One a line. A trainee who types one of them finds the fault."),
    )

    def __init__(
        self,
        *args: Any,
        edition: Edition | None,
        scale: SeverityScale,
        kept: Clause | None = None,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.fields["level"].choices = [(str(level), label) for level, label in enumerate(scale.labels)]
        choices = Q(edition=edition) | Q(pk=kept.pk if kept else None)
        self.fields["clause"].queryset = Clause.objects.filter(choices).select_related("edition")
        self.fields["clause"].label_from_instance = lambda clause: _clause_label(clause, edition)

    def clean_other_names(self) -> list[str]:
        return names_in(self.cleaned_data["other_names"].splitlines())

    @property
    def named(self) -> Named:
        """What was typed, as the actions take it."""
        return Named(**self.cleaned_data | {"level": int(self.cleaned_data["level"])})


class FaultLinesForm(forms.Form):
    """Many faults at once: "fault; virtue; zone; severity; other names" on each line."""

    lines = forms.CharField(label=_("Faults, one a line"), widget=forms.Textarea(attrs={"rows": 14}))

    def __init__(self, *args: Any, breed: Breed, scale: SeverityScale, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.scale = scale
        self.there = {name.casefold() for name in breed.faults.values_list("name", flat=True)}
        self.named: list[Named] = []

    def clean_lines(self) -> str:
        wrong = []
        lines = [line for line in self.cleaned_data["lines"].splitlines() if line.strip()]
        if len(lines) > FAULTS_PER_BREED:
            raise ValidationError(_t("At most %(n)d lines are taken."), params={"n": FAULTS_PER_BREED})
        for n, line in enumerate(lines, 1):
            try:
                self.named.append(self._read(line))
            except (ValueError, ValidationError) as refused:
                said = refused.messages[0] if isinstance(refused, ValidationError) else refused
                wrong.append(_t("Line %(n)d: %(said)s") % {"n": n, "said": said})
        if wrong:
            raise ValidationError(wrong[:12])
        return self.cleaned_data["lines"]

    def _read(self, line: str) -> Named:
        name, virtue, zone, level, *others = [*map(str.strip, line.split(";")), "", "", "", ""]
        if not name or max(len(name), len(virtue)) > NAME_AT_MOST:
            raise ValueError(_t("a name has between 1 and %(n)d letters.") % {"n": NAME_AT_MOST})
        if name.casefold() in self.there:
            raise ValueError(_t("“%(name)s” is on the list already.") % {"name": name})
        self.there.add(name.casefold())
        return Named(
            name=name,
            virtue=virtue,
            zone=_zone(zone) if zone else suggest_zone("", name),
            level=_level(level, self.scale) if level else 0,
            other_names=names_in([piece for other in others for piece in other.split(",")]),
        )


def names_in(typed: list[str]) -> list[str]:
    """Other names, each once, with what is wrong about them."""
    names = list(dict.fromkeys(name.strip() for name in typed if name.strip()))
    if len(names) > NAMES_PER_FAULT:
        raise ValidationError(_t("At most %(n)d other names are kept."), params={"n": NAMES_PER_FAULT})
    if any(len(name) > NAME_AT_MOST for name in names):
        raise ValidationError(_t("A name has at most %(n)d letters."), params={"n": NAME_AT_MOST})
    return names


def shown_fault(fault: Fault) -> dict[str, Any]:
    """The initial values of a fault's form."""
    kept = {name: getattr(fault, name) for name in ("name", "virtue", "zone", "clause")}
    return kept | {"level": str(fault.level), "other_names": "\n".join(fault.other_names)}


def _clause_label(clause: Clause, edition: Edition | None) -> str:
    words = clause.text.split()
    start = " ".join(words[:9]) + (" …" if len(words) > 9 else "")
    if edition is None or clause.edition_id != edition.pk:
        start = f"({clause.edition.title}) {start}"
    return f"{clause.number} {start}"


def _zone(word: str) -> str:
    for value, label in Zone.choices:
        if word.casefold() in (value, str(label).casefold()):
            return value
    zones = ", ".join(str(label) for label in Zone.labels)
    raise ValueError(_t("“%(word)s” is no zone. The zones are %(zones)s.") % {"word": word, "zones": zones})


def _level(word: str, scale: SeverityScale) -> int:
    labels = [label.casefold() for label in scale.labels]
    if word.casefold() not in labels:
        raise ValueError(
            _t("“%(word)s” is no level. The levels are %(levels)s.")
            % {"word": word, "levels": ", ".join(scale.labels)}
        )
    return labels.index(word.casefold())
