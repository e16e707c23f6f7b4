"""Forms of the item bank: what is looked for, and what is to be done with the items that were ticked."""

from __future__ import annotations

from typing import Any

from django import forms
from django.utils.translation import gettext_lazy as _

from assessments.items import KINDS
from assessments.models import Fit, Item, Quiz
from courses.models import Clause, Edition, Section
from courses.models.choices import Zone
from shared.accounts.models import Club
from shared.web.limits import PAGE_LENGTH

ANY = ("", _("any"))


class BankForm(forms.Form):
    """What is looked for. Nothing chosen shows everything; a word that is no choice is passed over."""

    words = forms.CharField(
        label=_("Words"),
        required=False,
        max_length=80,
        widget=forms.TextInput(attrs={"type": "search", "placeholder": _("title, fault, exhibit")}),
    )
    edition = forms.TypedChoiceField(label=_("Edition"), required=False, coerce=int)
    about = forms.ChoiceField(label=_("Section or clause"), required=False)
    zone = forms.ChoiceField(label=_("Zone"), required=False, choices=[ANY, *Zone.choices])
    kind = forms.ChoiceField(label=_("Kind"), required=False)
    state = forms.ChoiceField(label=_("State"), required=False, choices=[ANY, *Item.State.choices])
    difficulty = forms.ChoiceField(
        label=_("Difficulty"),
        required=False,
        choices=[
            ANY,
            ("too hard", _("too hard: under 20 % won")),
            ("hard", _("hard: 20 to 50 %")),
            ("middling", _("middling: 50 to 80 %")),
            ("easy", _("easy: 80 to 95 %")),
            ("too easy", _("too easy: over 95 %")),
            ("unknown", _("not known yet")),
        ],
    )
    fit = forms.ChoiceField(
        label=_("Panel"), required=False, choices=[ANY, *Fit.choices, ("none", _("no panel"))]
    )
    holds = forms.ChoiceField(
        label=_("Exhibit"),
        required=False,
        choices=[ANY, ("sound", _("sound")), ("faulty", _("with something to find"))],
    )
    use = forms.ChoiceField(
        label=_("Use"),
        required=False,
        choices=[ANY, ("used", _("asked somewhere")), ("unused", _("asked nowhere"))],
    )
    sort = forms.ChoiceField(
        label=_("Order"),
        required=False,
        choices=[
            ("newest", _("newest first")),
            ("exhibit", _("by exhibit")),
            ("clause", _("by clause")),
            ("hardest", _("hardest first")),
            ("easiest", _("easiest first")),
            ("most used", _("most used first")),
        ],
    )

    def __init__(self, *args: Any, club: Club, quiz: Quiz | None = None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["kind"].choices = [ANY, *((name, kind.label) for name, kind in KINDS.items())]
        if quiz is not None:
            del self.fields["edition"]
            edition: int | None = quiz.edition_id
        else:
            editions = editions_of(club)
            self.fields["edition"].choices = [ANY, *((each.pk, told(each, editions)) for each in editions)]
            edition = self._edition(editions)
        self.fields["about"].choices = [ANY, *_sections(edition)]

    def _edition(self, editions: list[Edition]) -> int | None:
        """Whose clauses are offered: the edition that is asked for, else the one in force."""
        asked = self.data.get("edition", "")
        known = {str(each.pk): each.pk for each in editions}
        in_force = next((each.pk for each in editions if each.state == Edition.State.RELEASED), None)
        return known.get(asked, in_force)

    def wanted(self) -> dict[str, Any]:
        """The filters that are set."""
        self.is_valid()
        return {name: value for name, value in self.cleaned_data.items() if value and name != "sort"}

    def order(self) -> str:
        """The order asked for, "" for the usual one."""
        self.is_valid()
        return str(self.cleaned_data.get("sort", ""))

    @property
    def first_fields(self) -> list[forms.BoundField]:
        """Those that are always in sight."""
        return [self[name] for name in ("words", "about", "kind", "state", "sort")]

    @property
    def further_fields(self) -> list[forms.BoundField]:
        """Those that are opened where they are wanted."""
        names = ("edition", "zone", "difficulty", "fit", "holds", "use")
        return [self[name] for name in names if name in self.fields]

    @property
    def further_set(self) -> bool:
        """Whether one of those narrows the list."""
        return any(field.name in self.wanted() for field in self.further_fields)


class ChosenItems(forms.Form):
    """The items that were ticked on a page."""

    item = forms.TypedMultipleChoiceField(
        coerce=int, error_messages={"required": _("Tick at least one item.")}
    )

    def __init__(self, *args: Any, offered: list[int], **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["item"].choices = [(pk, pk) for pk in offered[:PAGE_LENGTH]]


class ChangeForm(forms.Form):
    """What is to be done with the items that were ticked."""

    DEEDS = [
        ("add", _("Add to a quiz")),
        ("file", _("File under a clause")),
        ("title", _("Give a title")),
        ("edition", _("Copy to a newer edition")),
        ("retire", _("Retire")),
        ("bring back", _("Bring back")),
    ]
    what = forms.ChoiceField(choices=DEEDS, error_messages={"required": _("Choose what to do.")})
    quiz = forms.ModelChoiceField(
        label=_("Quiz"), queryset=Quiz.objects.none(), required=False, empty_label=_("choose a quiz")
    )
    clause = forms.ModelChoiceField(
        label=_("Clause"), queryset=Clause.objects.none(), required=False, empty_label=_("choose a clause")
    )
    title = forms.CharField(label=_("Title"), required=False, max_length=120)
    edition = forms.ModelChoiceField(
        label=_("Edition"),
        queryset=Edition.objects.none(),
        required=False,
        empty_label=_("choose an edition"),
    )
    NEEDS = {"add": "quiz", "file": "clause", "title": "title", "edition": "edition"}

    def __init__(self, *args: Any, club: Club, edition: int | None, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        quizzes = Quiz.objects.filter(edition__breed__club=club, purpose=Quiz.Purpose.PRACTICE)
        self.fields["quiz"].queryset = quizzes.order_by("title", "pk")
        clauses = Clause.objects.filter(edition__breed__club=club, edition=edition)
        self.fields["clause"].queryset = clauses.order_by("section__position", "position", "pk")
        self.fields["edition"].queryset = Edition.objects.filter(breed__club=club).select_related("breed")

    def clean(self) -> dict[str, Any]:
        """Each deed has what it needs."""
        said = super().clean() or {}
        needed = self.NEEDS.get(said.get("what", ""))
        if needed and not said.get(needed) and needed not in self.errors:
            words = {
                "quiz": _("Choose the quiz."),
                "clause": _("Choose the clause."),
                "title": _("Write the title."),
                "edition": _("Choose the edition."),
            }
            self.add_error(needed, words[needed])
        return said


def editions_of(club: Club) -> list[Edition]:
    """The club's editions, the newest of each breed first."""
    found = Edition.objects.filter(breed__club=club).select_related("breed")
    return list(found.order_by("breed__name", "-issued_on", "-pk"))


def told(edition: Edition, among: list[Edition]) -> str:
    """An edition's title, with its breed where there are several."""
    several = len({each.breed_id for each in among}) > 1
    return f"{edition.breed}, {edition.title}" if several else edition.title


def _sections(edition: int | None) -> list[tuple[Any, Any]]:
    """Each section as a group: all of it, then its clauses."""
    sections = Section.objects.filter(edition=edition).prefetch_related("clauses")
    return [
        (
            str(section),
            [
                (f"s{section.pk}", _("all of %(section)s") % {"section": section}),
                *((f"c{clause.pk}", clause.number) for clause in section.clauses.all()),
            ],
        )
        for section in sections
    ]
