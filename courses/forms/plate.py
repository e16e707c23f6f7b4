"""Forms about plates."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from courses.models import Clause, Edition, Exhibit, Plate, PlateExhibit
from courses.models.choices import State
from courses.queries.plate import editions_for_plates
from shared.accounts.models import Club


class BeginPlate(forms.Form):
    """A title, and the edition whose clauses the plate shows."""

    edition = forms.ModelChoiceField(label=_("Edition"), queryset=Edition.objects.none(), empty_label=None)
    title = forms.CharField(label=_("Title"), max_length=120)

    def __init__(self, *args: object, club: Club, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.fields["edition"].queryset = editions_for_plates(club)


class WordPlate(forms.Form):
    """Number, title and note of a plate."""

    number = forms.IntegerField(label=_("Number"), min_value=1, max_value=9999)
    title = forms.CharField(label=_("Title"), max_length=120)
    note = forms.CharField(
        label=_("The club’s note"),
        max_length=4000,
        required=False,
        widget=forms.Textarea,
        help_text=_(
            "Markdown. Call exhibits by their letters, as in *7 a*: on a phone there is no left and right."
        ),
    )

    @classmethod
    def of(cls, plate: Plate) -> WordPlate:
        return cls(initial={"number": plate.number, "title": plate.title, "note": plate.note})


class ClauseOnPlate(forms.Form):
    """A clause of the plate's edition."""

    clause = forms.ModelChoiceField(queryset=Clause.objects.none())

    def __init__(self, *args: object, plate: Plate, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.fields["clause"].queryset = Clause.objects.filter(edition=plate.edition_id)


class ExhibitOnPlate(forms.Form):
    """An exhibit of the plate's breed, on one side."""

    exhibit = forms.ModelChoiceField(queryset=Exhibit.objects.none())
    side = forms.ChoiceField(choices=PlateExhibit.Side.choices)

    def __init__(self, *args: object, plate: Plate, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.fields["exhibit"].queryset = Exhibit.objects.filter(breed=plate.edition.breed_id).exclude(
            state=State.WITHDRAWN
        )


class Direction(forms.Form):
    """Which way a row moves."""

    direction = forms.ChoiceField(choices=[("up", "up"), ("down", "down")])


class Caption(forms.Form):
    """What an exhibit shows on this plate."""

    caption = forms.CharField(max_length=200, required=False)
