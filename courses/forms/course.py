"""Forms about courses, modules and places."""

from __future__ import annotations

from django import forms
from django.utils.translation import gettext_lazy as _

from courses.models import Course, Edition, Module, Place, Plate
from courses.queries.plate import editions_for_plates
from shared.accounts.models import Club


class BeginCourse(forms.Form):
    """A title, what the course is for, and the edition it teaches."""

    edition = forms.ModelChoiceField(label=_("Edition"), queryset=Edition.objects.none(), empty_label=None)
    title = forms.CharField(label=_("Title"), max_length=120)
    summary = forms.CharField(
        label=_("What it is for"), max_length=1000, required=False, widget=forms.Textarea({"rows": 4})
    )

    def __init__(self, *args: object, club: Club, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.fields["edition"].queryset = editions_for_plates(club)


class Worded(forms.Form):
    """Title and summary of a course or a module."""

    title = forms.CharField(label=_("Title"), max_length=120)
    summary = forms.CharField(
        label=_("Summary"), max_length=1000, required=False, widget=forms.Textarea({"rows": 4})
    )

    @classmethod
    def of(cls, thing: Course | Module) -> Worded:
        return cls(initial={"title": thing.title, "summary": thing.summary})


class NewTitle(forms.Form):
    """The title of something new."""

    title = forms.CharField(label=_("Title"), max_length=120)


class NewPlace(forms.Form):
    """A text or a quiz by its title, or a plate of the course's edition."""

    kind = forms.ChoiceField(choices=Place.Kind.choices)
    title = forms.CharField(label=_("Title"), max_length=120, required=False)
    plate = forms.ModelChoiceField(label=_("Plate"), queryset=Plate.objects.none(), required=False)

    def __init__(self, *args: object, module: Module, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.fields["plate"].queryset = Plate.objects.filter(edition=module.course.edition_id)
        self.fields["plate"].label_from_instance = lambda plate: f"{plate}: {plate.title}"

    def clean(self) -> dict[str, object]:
        said = super().clean()
        if said.get("kind") == Place.Kind.PLATE and not said.get("plate"):
            self.add_error("plate", _("Choose a plate."))
        if said.get("kind") in (Place.Kind.TEXT, Place.Kind.QUIZ) and not said.get("title"):
            self.add_error("title", _("Give it a title."))
        return said


class WordPlace(forms.Form):
    """Title and text of a place."""

    title = forms.CharField(label=_("Title"), max_length=120)
    text = forms.CharField(
        label=_("Text"),
        max_length=20_000,
        required=False,
        widget=forms.Textarea,
        help_text=_("Markdown: a blank line begins a paragraph, ## a heading, - a list, *word* leans."),
    )

    def __init__(self, *args: object, place: Place, **kwargs: object) -> None:
        super().__init__(*args, initial={"title": place.title, "text": place.text}, **kwargs)
        if place.kind != Place.Kind.TEXT:
            del self.fields["text"]
