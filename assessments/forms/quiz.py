"""Forms of the quiz desk: a quiz, its rules of marking, the exhibits to add."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from django import forms
from django.db.models import Q
from django.http import HttpRequest
from django.utils.translation import gettext_lazy as _

from assessments.models import Quiz
from assessments.queries.quizzes import places_for_quizzes
from assessments.scoring import MarkingRules, SeverityLadder
from courses.models import Edition, Place
from courses.models.choices import Verdict, View
from shared.accounts.models import Club
from shared.web.limits import PAGE_LENGTH


class QuizForm(forms.ModelForm):
    """What a quiz is called and how it introduces itself."""

    class Meta:
        model = Quiz
        fields = ["title", "introduction"]
        widgets = {"introduction": forms.Textarea(attrs={"rows": 4})}
        help_texts = {"introduction": _("Read before the first item. Say what to look for, never how many.")}


class NewQuizForm(QuizForm):
    """A quiz of one edition, at a module's place if it is made from there."""

    edition = forms.ModelChoiceField(label=_("Edition"), queryset=Edition.objects.none(), empty_label=None)

    field_order = ["title", "edition", "introduction"]

    def __init__(self, *args: object, club: Club, place: Place | None = None, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        editions = Edition.objects.filter(breed__club=club).select_related("breed")
        if place is not None:
            editions = editions.filter(pk=place.module.course.edition_id)
            self.fields["title"].initial = place.title
        self.fields["edition"].queryset = editions.order_by("-issued_on", "-pk")
        self.fields["edition"].label_from_instance = lambda edition: f"{edition.breed}, {edition.title}"
        self.fields["edition"].initial = editions.filter(state=Edition.State.RELEASED).first()


class EditionField(forms.Form):
    """The edition that an item is made for: the one named in the address, else the released one."""

    edition = forms.ModelChoiceField(
        label=_("Edition"), queryset=Edition.objects.none(), required=False, empty_label=None
    )

    def __init__(self, request: HttpRequest) -> None:
        editions = Edition.objects.filter(breed__club=request.club).select_related("breed")
        released = editions.filter(state=Edition.State.RELEASED).first() or editions.last()
        super().__init__({"edition": request.GET.get("edition") or (released and released.pk)})
        self.fields["edition"].queryset = editions.order_by("-issued_on", "-pk")
        self.fields["edition"].label_from_instance = lambda edition: f"{edition.breed}, {edition.title}"

    @property
    def chosen(self) -> Edition | None:
        """None while the club has no edition."""
        return self.cleaned_data.get("edition") if self.is_valid() else None


class ExhibitsToAdd(forms.Form):
    """Which exhibits are offered. Nothing chosen offers all; a word that is no choice is ignored."""

    view = forms.ChoiceField(label=_("View"), required=False, choices=[("", _("any")), *View.choices])
    verdict = forms.ChoiceField(
        label=_("Verdict"), required=False, choices=[("", _("any")), *Verdict.choices]
    )

    def wanted(self) -> dict[str, object]:
        self.is_valid()
        return {name: value for name, value in self.cleaned_data.items() if value}


class ChosenExhibits(forms.Form):
    """The exhibits that were ticked."""

    exhibit = forms.TypedMultipleChoiceField(
        coerce=int, error_messages={"required": _("Tick at least one exhibit.")}
    )

    def __init__(self, *args: object, offered: list[int], **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.fields["exhibit"].choices = [(number, number) for number in offered[:PAGE_LENGTH]]


class Share(forms.FloatField):
    """A fraction of 1. Whether it will do is for the rules of marking to say."""

    def __init__(self, **kwargs: Any) -> None:
        super().__init__(widget=forms.NumberInput(attrs={"step": "any", "inputmode": "decimal"}), **kwargs)


class RulesForm(forms.Form):
    """The rules of marking of a quiz; refused for what the rules themselves refuse, beside the field."""

    see = Share(label=_("See"))
    name = Share(label=_("Name"))
    weigh = Share(label=_("Weigh"))
    tolerance = Share(
        label=_("Reach of a pin"),
        help_text=_("How far outside a region a pin still counts for part, of the picture’s longer side."),
    )
    reach_in_heights = forms.BooleanField(
        label=_("Where the exhibit’s points are known, by the height at the withers instead"), required=False
    )
    false_alarm = Share(
        label=_("A fault called where there is none"), help_text=_("What it costs, of its weight.")
    )
    disqualifying_cap = Share(
        label=_("Most for an answer that is wrong about a disqualification"), help_text=_("A share of 1.")
    )
    unweighed_level = forms.TypedChoiceField(
        label=_("Such a fault without a level counts as"), coerce=int, widget=forms.RadioSelect
    )

    def __init__(self, *args: object, ladder: SeverityLadder, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.ladder = ladder
        self.fields["unweighed_level"].choices = [
            (level, label) for level, label in enumerate(ladder.labels) if not ladder.disqualifies(level)
        ]

    def clean(self) -> dict[str, Any]:
        said = super().clean()
        if self.errors:
            return said
        given = {name: value for name, value in said.items() if name != "reach_in_heights"}
        try:
            said["rules"] = MarkingRules(**given)
            said["rules"].check(self.ladder)
        except ValueError as error:
            words = str(error)
            field = next((name for name in self.fields if words.startswith(name)), None)
            self.add_error(field, words)
        return said

    def kept(self) -> dict[str, Any]:
        """The rules as they are kept with a quiz."""
        return asdict(self.cleaned_data["rules"]) | {
            "reach_in_heights": self.cleaned_data["reach_in_heights"]
        }


class QuizPlaceForm(forms.Form):
    """Which quiz is to stand at which place of a module, or at none."""

    quiz = forms.ModelChoiceField(label=_("Quiz"), queryset=Quiz.objects.none(), empty_label=None)
    place = forms.ModelChoiceField(
        label=_("Place"), queryset=Place.objects.none(), required=False, empty_label=_("in no module")
    )

    def __init__(self, *args: object, club: Club, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.fields["quiz"].queryset = Quiz.objects.filter(
            edition__breed__club=club, purpose=Quiz.Purpose.PRACTICE
        )
        self.fields["place"].queryset = places_for_quizzes(club)
        self.fields["place"].label_from_instance = lambda place: f"{place.module}: {place}"

    def of_quiz(self, quiz: Quiz) -> QuizPlaceForm:
        """Only the places at which this quiz can stand."""
        places = self.fields["place"].queryset.filter(module__course__edition=quiz.edition_id)
        self.fields["place"].queryset = places.filter(Q(quiz=None) | Q(quiz=quiz))
        self.initial = {"quiz": quiz, "place": quiz.place_id}
        return self
