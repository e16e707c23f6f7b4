"""Which answers the evidence is of."""

from __future__ import annotations

from typing import Any

from django import forms
from django.db.models import QuerySet
from django.utils.translation import gettext_lazy as _

from assessments.models import Quiz
from assessments.queries.evidence import Within, quizzes_with_answers
from assessments.queries.mentor_agreement import judging
from courses.forms.permission import DateBox
from courses.models import Clause, Course
from shared.accounts.models import Club, Membership
from shared.accounts.queries.members import members_of
from shared.accounts.roles import Role


class MentorChoice(forms.ModelChoiceField):
    """Mentors by name."""

    def label_from_instance(self, member: Membership) -> str:
        return _("trainees of %(name)s") % {"name": member.person}


class WithinForm(forms.Form):
    """One quiz, one mentor's trainees, certain days; all of them where nothing is said."""

    quiz = forms.ModelChoiceField(
        Quiz.objects.none(), label=_("Quiz"), required=False, empty_label=_("all quizzes")
    )
    group = MentorChoice(
        Membership.objects.none(), label=_("Group"), required=False, empty_label=_("everyone")
    )
    since = forms.DateField(label=_("From"), required=False, widget=DateBox())
    until = forms.DateField(label=_("Until"), required=False, widget=DateBox())

    def __init__(self, *args: Any, club: Club, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["quiz"].queryset = quizzes_with_answers(club)
        self.fields["group"].queryset = members_of(club, Role.MENTOR).select_related("person")

    def clean(self) -> dict[str, Any]:
        """The days are in order."""
        cleaned = super().clean() or {}
        since, until = cleaned.get("since"), cleaned.get("until")
        if since and until and since > until:
            self.add_error("until", _("“Until” must not be before “From”."))
        return cleaned

    @property
    def within(self) -> Within:
        """What was chosen, once it is valid."""
        chosen = self.cleaned_data
        return Within(chosen["quiz"], chosen.get("group"), chosen["since"], chosen["until"])


class MentorsForm(WithinForm):
    """The same of those who mark: on which quiz's items and answers, and on which days."""

    def __init__(self, *args: Any, club: Club, **kwargs: Any) -> None:
        super().__init__(*args, club=club, **kwargs)
        del self.fields["group"]
        # Read once, to be offered and to be found again.
        quizzes = {str(quiz.pk): quiz for quiz in self.fields["quiz"].queryset}
        self.fields["quiz"] = forms.TypedChoiceField(
            label=_("Quiz"),
            required=False,
            choices=[("", _("all quizzes")), *quizzes.items()],
            coerce=quizzes.__getitem__,
            empty_value=None,
        )


class BehindMentorForm(MentorsForm):
    """And whose markings and marks stand beside them."""

    beside = forms.ModelChoiceField(Membership.objects.none(), required=False)

    def __init__(self, *args: Any, club: Club, **kwargs: Any) -> None:
        super().__init__(*args, club=club, **kwargs)
        self.fields["beside"].queryset = judging(club)


class MixForm(forms.Form):
    """One course or one quiz; every quiz that was opened where nothing is said."""

    course = forms.ModelChoiceField(
        Course.objects.none(), label=_("Course"), required=False, empty_label=_("all")
    )
    quiz = forms.ModelChoiceField(Quiz.objects.none(), label=_("Quiz"), required=False, empty_label=_("all"))

    def __init__(self, *args: Any, club: Club, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["course"].queryset = Course.objects.filter(edition__breed__club=club)
        self.fields["quiz"].queryset = quizzes_with_answers(club)

    def clean(self) -> dict[str, Any]:
        """A course has its own quizzes."""
        cleaned = super().clean() or {}
        if cleaned.get("course") and cleaned.get("quiz"):
            self.add_error("quiz", _("Choose a course or a quiz, not both."))
        return cleaned

    def quizzes(self, every: QuerySet[Quiz]) -> QuerySet[Quiz]:
        """Those of `every` that were chosen."""
        if self.cleaned_data["quiz"]:
            return every.filter(pk=self.cleaned_data["quiz"].pk)
        if self.cleaned_data["course"]:
            return every.filter(place__module__course=self.cleaned_data["course"])
        return every


class BehindForm(forms.Form):
    """The item or the clause whose answers are wanted, and of which quiz."""

    quiz = forms.ModelChoiceField(Quiz.objects.none(), required=False)
    item = forms.IntegerField(required=False, min_value=1, max_value=2**62)
    clause = forms.ModelChoiceField(Clause.objects.none(), required=False)
    missed = forms.BooleanField(required=False)

    def __init__(self, *args: Any, club: Club, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["quiz"].queryset = Quiz.objects.filter(edition__breed__club=club)
        self.fields["clause"].queryset = Clause.objects.filter(edition__breed__club=club)
