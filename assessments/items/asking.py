"""The form in which an educator says what an item asks; kinds that ask more than an exhibit extend it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from assessments.models import Item
from courses.models import Clause, Edition, Exhibit
from shared.web.limits import EXHIBITS_OFFERED


class AskingForm(forms.Form):
    """Title, exhibits and clause of an item. `most` and `least` exhibits are the kind's.

    A kind adds its fields and says in `asking` how they are kept; `initial_of` is the way back. `offered` are
    the exhibits that the page shows to be ticked; those ticked before come with them. `asked` is what the
    page's address says.
    """

    title = forms.CharField(
        label=_("Title"),
        max_length=120,
        required=False,
        help_text=_("By which educators find it again; trainees do not see it. May stay empty."),
    )
    exhibits = forms.TypedMultipleChoiceField(label=_("Exhibits"), coerce=int, required=False)
    clause = forms.ModelChoiceField(
        label=_("Clause"), queryset=Clause.objects.none(), required=False, empty_label=_("no single clause")
    )

    def __init__(
        self,
        *args: Any,
        edition: Edition,
        exhibits: tuple[int, int],
        item: Item | None = None,
        wanted: dict[str, object] | None = None,
        ticked: list[str] | None = None,
        asked: Mapping[str, Any] | None = None,
        **kwargs: Any,
    ) -> None:
        self.edition, self.item, self.asked = edition, item, asked or {}
        self.least, self.most = exhibits
        kwargs.setdefault("initial", self.initial_of(item) if item else {})
        super().__init__(*args, **kwargs)
        self.fields["clause"].queryset = edition.clauses.all()
        if self.most == 0:
            del self.fields["exhibits"]
            return
        usable = Exhibit.objects.filter(breed=edition.breed_id).exclude(state="withdrawn")
        usable = usable.prefetch_related("renditions", "permissions")
        ticked = self._ticked(ticked)
        first = list(usable.filter(number__in=ticked)) if ticked else []
        first.sort(key=lambda exhibit: ticked.index(exhibit.number))
        others = usable.filter(**(wanted or {})).exclude(number__in=ticked).order_by("-number")
        self.offered = [*first, *others[:EXHIBITS_OFFERED]]
        self.ticked = ticked
        self.fields["exhibits"].choices = [(exhibit.number, exhibit.number) for exhibit in self.offered]

    def _ticked(self, kept: list[str] | None) -> list[int]:
        given = kept if kept is not None else self.initial.get("exhibits", [])
        if self.is_bound:
            given = self.data.getlist("exhibits")
        return list(dict.fromkeys(int(n) for n in given if str(n).isdecimal() and len(str(n)) < 10))[
            : max(self.most, 1) * 2
        ]

    def clean_exhibits(self) -> list[Exhibit]:
        """The exhibits in the order of the ticks, as many as the kind shows."""
        by_number = {exhibit.number: exhibit for exhibit in self.offered}
        chosen = [by_number[number] for number in self.cleaned_data["exhibits"]]
        if not self.least <= len(chosen) <= self.most:
            raise forms.ValidationError(self.how_many())
        return chosen

    def how_many(self) -> str:
        """How many exhibits are to be ticked, in words."""
        if self.least == self.most:
            return ngettext("Tick one exhibit.", "Tick %(n)d exhibits.", self.most) % {"n": self.most}
        if self.least == 0:
            return ngettext("Tick one exhibit or none.", "Tick at most %(n)d exhibits.", self.most) % {
                "n": self.most
            }
        return _("Tick %(least)d to %(most)d exhibits.") % {"least": self.least, "most": self.most}

    def asking(self) -> dict[str, Any]:
        """What the item keeps as `asking`, from the cleaned fields of the kind."""
        return {}

    def initial_of(self, item: Item) -> dict[str, Any]:
        """The fields as the item has them; a kind adds its own."""
        several = [row.exhibit.number for row in item.item_exhibits.all()]
        one = [item.exhibit.number] if item.exhibit else []
        return {"title": item.title, "clause": item.clause_id, "exhibits": several or one}

    def said(self) -> dict[str, Any]:
        """All that `make_item` and `change_asking` take of it."""
        return {
            "title": self.cleaned_data["title"],
            "exhibits": self.cleaned_data.get("exhibits", []),
            "clause": self.cleaned_data["clause"],
            "asking": self.asking(),
        }
