"""Forms about exhibits: which to list, taking photographs in, describing one, the faults it shows."""

from __future__ import annotations

from django import forms
from django.core.files.uploadedfile import UploadedFile
from django.utils.translation import gettext_lazy as _

from courses.models import Breed, Clause, Exhibit, Fault, SeverityScale
from courses.models.choices import Camera, State, Verdict, View
from shared.accounts.models import Club
from shared.pictures.opening import PictureRefused
from shared.web.limits import EXHIBITS_AT_ONCE

REFUSALS = {
    "empty": _("%(name)s is empty."),
    "bytes": _("%(name)s is larger than 40 MB."),
    "kind": _("%(name)s is not a picture in JPEG, PNG, WebP, AVIF, TIFF or HEIC."),
    "damaged": _("%(name)s is cut off or damaged."),
    "pixels": _("%(name)s has more than 60 million pixels."),
    "side": _("%(name)s is longer than 16,000 pixels on one side."),
    "depth": _("%(name)s holds numbers that are not tones of a photograph."),
}


def refusal(error: PictureRefused) -> str:
    """The reason as a sentence in the reader's language."""
    return str(REFUSALS[error.code]) % {"name": error.name or _("The file")}


class ExhibitsWanted(forms.Form):
    """Which exhibits a list shows. Nothing chosen shows all; a word that is no choice is ignored."""

    view = forms.ChoiceField(label=_("View"), required=False, choices=[("", _("any")), *View.choices])
    verdict = forms.ChoiceField(
        label=_("Verdict"), required=False, choices=[("", _("any")), *Verdict.choices]
    )
    state = forms.ChoiceField(label=_("State"), required=False, choices=[("", _("any")), *State.choices])
    uncovered = forms.BooleanField(label=_("Without permission"), required=False)
    ending = forms.BooleanField(label=_("Permission ends soon"), required=False)

    def wanted(self) -> dict[str, object]:
        self.is_valid()
        return {name: value for name, value in self.cleaned_data.items() if value}


class ManyFiles(forms.ClearableFileInput):
    """A file input that takes several."""

    allow_multiple_selected = True


class ManyFilesField(forms.FileField):
    """Cleans to a list of uploads. What they contain is for `take_in_exhibit` to say."""

    widget = ManyFiles

    def clean(self, data: object, initial: object = None) -> list[UploadedFile]:
        files = [each for each in (data if isinstance(data, list | tuple) else [data]) if each]
        if not files:
            raise forms.ValidationError(_("Choose one photograph or several."), code="required")
        if len(files) > EXHIBITS_AT_ONCE:
            raise forms.ValidationError(
                _("Send at most %(most)d at once; you chose %(n)d."),
                params={"most": EXHIBITS_AT_ONCE, "n": len(files)},
                code="many",
            )
        return files


class TakeIn(forms.Form):
    """Photographs of one breed."""

    breed = forms.ModelChoiceField(label=_("Breed"), queryset=Breed.objects.none(), empty_label=None)
    files = ManyFilesField(
        label=_("Photographs"),
        help_text=_("JPEG, PNG, WebP, AVIF, HEIC or TIFF, up to 40 MB each, several at once."),
    )

    def __init__(self, *args: object, club: Club, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        breeds = Breed.objects.filter(club=club)
        self.fields["breed"].queryset = breeds
        only = breeds[:2]
        if len(only) == 1:
            self.fields["breed"].initial = only[0]
            self.fields["breed"].widget = forms.HiddenInput()
        self.fields["files"].widget.attrs["accept"] = "image/*,.heic,.heif,.tif,.tiff"


class DescribeExhibit(forms.ModelForm):
    """What the educator says of an exhibit."""

    class Meta:
        model = Exhibit
        fields = ("view", "sex", "age_class", "verdict", "caption", "description", "camera")
        widgets = {"sex": forms.RadioSelect, "verdict": forms.RadioSelect}
        help_texts = {
            "description": _(
                "Say what is to be seen, not whether it is right: it is read out in quizzes too."
            ),
        }

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.fields["verdict"].choices = Verdict.choices
        self.fields["camera"].choices = [each for each in Camera.choices if each[0] != Camera.EXACT]
        if self.instance.drawn:
            del self.fields["camera"]


class SayFault(forms.Form):
    """One fault that an exhibit shows; clause and severity are the fault's usual ones unless given."""

    fault = forms.ModelChoiceField(label=_("Fault"), queryset=Fault.objects.none())
    clause = forms.ModelChoiceField(
        label=_("Clause"), queryset=Clause.objects.none(), required=False, empty_label=_("the fault’s own")
    )
    level = forms.TypedChoiceField(
        label=_("Severity"), coerce=int, required=False, empty_value=None, widget=forms.RadioSelect
    )

    def __init__(self, *args: object, exhibit: Exhibit, ladder: SeverityScale, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.fields["fault"].queryset = Fault.objects.filter(breed=exhibit.breed_id)
        self.fields["clause"].queryset = Clause.objects.filter(
            edition__breed=exhibit.breed_id, edition__state="released"
        )
        self.fields["level"].choices = list(enumerate(ladder.labels))

    def clean(self) -> dict[str, object]:
        said = super().clean()
        fault = said.get("fault")
        if fault and not said.get("clause"):
            said["clause"] = fault.clause
        if fault and said.get("level") is None:
            said["level"] = fault.level
        return said
