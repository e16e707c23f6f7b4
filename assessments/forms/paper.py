"""Examination papers: regulations, a paper's words and times, its plan, candidates, results."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from typing import Any

from django import forms
from django.utils import timezone
from django.utils.translation import gettext_lazy as _

from assessments.drawable import Bank
from assessments.items import KINDS
from assessments.models import Candidate, Paper, PaperSitting, Regulations
from assessments.rules import PlanRow
from courses.forms.permission import DateBox
from courses.models import Edition, Section
from shared.accounts.models import Club, Membership
from shared.accounts.queries.members import members_of
from shared.accounts.roles import Role
from shared.web.limits import ITEMS_PER_QUIZ


class MomentBox(forms.DateTimeInput):
    """Day and time in the reader's own calendar, where the browser has one."""

    input_type = "datetime-local"

    def __init__(self) -> None:
        super().__init__(format="%Y-%m-%dT%H:%M")


class RegulationsForm(forms.ModelForm):
    """A new version. No number is proposed: registries differ, and the club says which is its own."""

    class Meta:
        model = Regulations
        fields = ["effective_from", "pass_mark", "attempts", "wait_days", "discloses_mark", "basis"]
        widgets = {"effective_from": DateBox()}
        help_texts = {
            "pass_mark": _("In per cent. Registries ask for 70, 75, 80 or, open book, 100: take your own’s."),
            "attempts": _("At papers on one breed, all told. Empty: no limit."),
            "wait_days": _("0: no wait."),
            "discloses_mark": _("Otherwise they are told pass or refer, and no figure."),
            "basis": _("The rule of the registry or the minute of the club, with its date."),
        }

    def clean_effective_from(self) -> Any:
        day = self.cleaned_data["effective_from"]
        if day < timezone.localdate():
            raise forms.ValidationError(_("Today at the earliest: sittings before keep what was in force."))
        return day


class NewPaperForm(forms.Form):
    """On which edition, and what it is called."""

    edition = forms.ModelChoiceField(label=_("Edition"), queryset=Edition.objects.none(), empty_label=None)
    title = forms.CharField(label=_("Title"), max_length=120)

    def __init__(self, *args: Any, club: Club, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        editions = Edition.objects.filter(breed__club=club).exclude(state=Edition.State.DRAFT)
        self.fields["edition"].queryset = editions.select_related("breed").order_by("-issued_on", "-pk")


class PaperForm(forms.Form):
    """A paper's words, its time, and when it can be begun."""

    title = forms.CharField(label=_("Title"), max_length=120)
    minutes = forms.IntegerField(label=_("Minutes"), min_value=1, max_value=600)
    opens_at = forms.DateTimeField(label=_("Can be begun from"), widget=MomentBox())
    closes_at = forms.DateTimeField(
        label=_("Can be begun until"),
        widget=MomentBox(),
        help_text=_("Who begins in time has the whole time, also beyond this."),
    )
    introduction = forms.CharField(
        label=_("What candidates read before they begin"),
        widget=forms.Textarea(attrs={"rows": 3}),
        max_length=2000,
        required=False,
    )

    def __init__(self, *args: Any, paper: Paper, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.initial = {
            "title": paper.quiz.title,
            "introduction": paper.quiz.introduction,
            "minutes": paper.minutes,
            "opens_at": paper.opens_at,
            "closes_at": paper.closes_at,
        }

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        opens, closes = cleaned.get("opens_at"), cleaned.get("closes_at")
        if opens and closes and closes <= opens:
            self.add_error("closes_at", _("This must be after it opens."))
        return cleaned


@dataclass(frozen=True)
class Cell:
    """One number of the plan: the kind, its field, and how many items the bank holds for it."""

    kind: str
    field: forms.BoundField
    available: int


class PlanForm(forms.Form):
    """A number for each section and kind of which the bank holds items, and for sound exhibits."""

    def __init__(
        self, *args: Any, bank: Bank, sections: Iterable[Section], plan: Iterable[PlanRow], **kwargs: Any
    ) -> None:
        super().__init__(*args, **kwargs)
        self.available = bank.available()
        self.sections = list(sections)
        planned = {(row.section, row.kind, row.sound): row.wanted for row in plan}
        self.keys: dict[str, tuple[int | None, str, bool]] = {}
        for key in sorted(self.available.keys() | planned.keys(), key=str):
            name = f"{key[0] or 0}-{key[1]}-{'sound' if key[2] else 'faults'}"
            self.keys[name] = key
            self.fields[name] = forms.IntegerField(
                label=self._label(key), required=False, min_value=0, max_value=ITEMS_PER_QUIZ
            )
            self.fields[name].widget.attrs |= {"class": "plan-number", "aria-label": self._label(key)}
            self.initial[name] = planned.get(key)

    def clean(self) -> dict[str, Any]:
        cleaned = super().clean() or {}
        if sum(row.wanted for row in self.plan()) > ITEMS_PER_QUIZ:
            self.add_error(None, _("A paper holds at most %(n)d items.") % {"n": ITEMS_PER_QUIZ})
        return cleaned

    def plan(self) -> list[PlanRow]:
        """The rows in the order of the standard, sound exhibits last."""
        place = {section.pk: n for n, section in enumerate(self.sections)}
        rows = [
            PlanRow(*self.keys[name], wanted=wanted)
            for name, wanted in self.cleaned_data.items()
            if name in self.keys and wanted
        ]
        return sorted(rows, key=lambda row: (row.sound, place.get(row.section, len(place)), row.kind))

    def table(self) -> list[tuple[str, list[Cell]]]:
        """A row for each section that has items, one for those of no section, one for sound exhibits."""
        rows = [(str(section), section.pk, False) for section in self.sections]
        rows += [(str(_("Of no one section")), None, False), (str(_("Sound exhibits")), None, True)]
        table = [(words, list(self._cells(section, sound))) for words, section, sound in rows]
        return [row for row in table if row[1]]

    def without_items(self) -> list[Section]:
        """Sections of which nothing can be asked."""
        held = {section for section, _kind, _sound in self.keys.values()}
        return [section for section in self.sections if section.pk not in held]

    def label_of(self, row: PlanRow) -> str:
        """A row of the plan in words."""
        return self._label((row.section, row.kind, row.sound))

    def _cells(self, section: int | None, sound: bool) -> Iterator[Cell]:
        names = {key: name for name, key in self.keys.items()}
        for kind in KINDS:
            if name := names.get((section, kind, sound)):
                yield Cell(str(KINDS[kind].label), self[name], self.available[section, kind, sound])

    def _label(self, key: tuple[int | None, str, bool]) -> str:
        section, kind, sound = key
        titles = {each.pk: str(each) for each in self.sections}
        where = _("Sound exhibits") if sound else titles.get(section, _("Of no one section"))
        return f"{where}, {str(KINDS[kind].label).lower()}" if kind in KINDS else str(where)


class MemberChoices(forms.ModelMultipleChoiceField):
    """Members by name."""

    def label_from_instance(self, member: Membership) -> str:
        return str(member.person)


class InviteForm(forms.Form):
    """Trainees who are no candidates yet."""

    members = MemberChoices(
        label=_("Trainees"),
        queryset=Membership.objects.none(),
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": _("Tick at least one.")},
    )

    def __init__(self, *args: Any, paper: Paper, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        trainees = members_of(paper.quiz.edition.breed.club, Role.TRAINEE)
        self.fields["members"].queryset = trainees.exclude(candidatures__paper=paper)


class TimeForm(forms.ModelForm):
    """What a candidate is granted beyond the paper's time."""

    class Meta:
        model = Candidate
        fields = ["extra_minutes", "extra_percent"]


class DeclarationForm(forms.Form):
    """Accepted before the time starts."""

    accept = forms.BooleanField(
        label=_("I have read this and accept it"),
        error_messages={"required": _("Tick that you accept the declaration. Your time has not started.")},
    )


class SettleForm(forms.Form):
    """A person's word on a borderline result."""

    settled = forms.ChoiceField(
        label=_("Result"), choices=PaperSitting.Settled.choices, widget=forms.RadioSelect
    )
    note = forms.CharField(
        label=_("Reason"),
        widget=forms.Textarea(attrs={"rows": 2}),
        max_length=1000,
        help_text=_("For the club’s record."),
    )
