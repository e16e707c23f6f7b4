"""How the club reads words of degree, as a form: one choice for each phrase, and room for more phrases."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from django import forms
from django.utils.translation import gettext as _

from courses.models import SeverityScale
from courses.queries.readings import Phrase
from courses.queries.severity import level_of
from shared.prose.degree_words import LEVELS, plain_phrase

ROOM = 3
PHRASE_AT_MOST = 60


class ReadingsForm(forms.Form):
    """Where the ladder has fewer levels than there are readings, equal ones are offered once."""

    def __init__(self, *args: Any, phrases: list[Phrase], scale: SeverityScale, **kwargs: Any) -> None:
        super().__init__(*args, auto_id=False, **kwargs)
        self.phrases, self.scale = phrases, scale
        choices = [("", _("weighs nothing")), *self._levels()]
        for each in phrases:
            self.fields[f"level:{each.phrase}"] = forms.ChoiceField(
                choices=choices,
                required=False,
                initial=self._offered(each.level),
                label=each.phrase,
                widget=forms.Select(
                    attrs={"aria-label": _("Reading of “%(phrase)s”") % {"phrase": each.phrase}}
                ),
            )
        for n in range(1, ROOM + 1):
            said = {"n": n}
            self.fields[f"phrase_{n}"] = forms.CharField(
                label=_("Another phrase, %(n)d") % said,
                required=False,
                max_length=PHRASE_AT_MOST,
                widget=forms.TextInput(attrs={"aria-label": _("Another phrase, %(n)d") % said}),
            )
            self.fields[f"reading_{n}"] = forms.ChoiceField(
                choices=choices,
                required=False,
                label=_("Its reading, %(n)d") % said,
                widget=forms.Select(attrs={"aria-label": _("Its reading, %(n)d") % said}),
            )

    def clean(self) -> dict[str, Any]:
        given = super().clean()
        for n in range(1, ROOM + 1):
            phrase = given.get(f"phrase_{n}", "")
            if phrase and not plain_phrase(phrase).replace(" ", "").replace("-", "").isalpha():
                self.add_error(f"phrase_{n}", _("A phrase of degree is made of words alone."))
        return given

    @property
    def used(self) -> Iterator[tuple[Phrase, forms.BoundField]]:
        """Phrases that the standard uses, or that the club reads in its own way."""
        return ((e, self[f"level:{e.phrase}"]) for e in self.phrases if e.used_in or e.level != e.usual)

    @property
    def others(self) -> Iterator[tuple[Phrase, forms.BoundField]]:
        """Phrases that the standard does not use."""
        return ((e, self[f"level:{e.phrase}"]) for e in self.phrases if not e.used_in and e.level == e.usual)

    @property
    def room(self) -> list[tuple[forms.BoundField, forms.BoundField]]:
        """Fields for phrases that are not on the list."""
        return [(self[f"phrase_{n}"], self[f"reading_{n}"]) for n in range(1, ROOM + 1)]

    @property
    def readings(self) -> dict[str, str | None]:
        """Phrase to one of the four readings or None, for every phrase on the form."""
        given = self.cleaned_data
        found = {}
        for each in self.phrases:
            chosen = given[f"level:{each.phrase}"]
            found[each.phrase] = each.level if chosen == self._offered(each.level) else chosen or None
        for n in range(1, ROOM + 1):
            if phrase := plain_phrase(given[f"phrase_{n}"]):
                found[phrase] = given[f"reading_{n}"] or None
        return found

    def _levels(self) -> list[tuple[str, str]]:
        return [
            (key, self.scale.label(level_of(key, self.scale))) for key in LEVELS if self._offered(key) == key
        ]

    def _offered(self, key: str | None) -> str:
        """The first reading that falls on the same level of the ladder."""
        if key is None:
            return ""
        level = level_of(key, self.scale)
        return next(other for other in LEVELS if level_of(other, self.scale) == level)
