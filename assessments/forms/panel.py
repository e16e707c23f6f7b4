"""Forms of a panel: who sits on it, what each decides and why, what the trainee is told."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import partial
from typing import Any

from django import forms
from django.forms import BaseFormSet, formset_factory
from django.utils.translation import gettext_lazy as _

from assessments.actions.panels import Reason
from assessments.models import Answer, Sitting
from assessments.queries.panels import possible_assessors
from courses.models import Clause
from shared.accounts.models import Membership
from shared.web.limits import REASONS_PER_DECISION, WORDS_OF_A_PANEL

LINE = 60  # letters of a clause in a list


class AssessorsForm(forms.Form):
    """As many assessors as the club's panels have."""

    assessors = forms.ModelMultipleChoiceField(
        Membership.objects.none(),
        label=_("Assessors"),
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": _("Choose the assessors.")},
    )

    def __init__(self, *args: Any, sitting: Sitting, of: int, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.of = of
        self.fields["assessors"].queryset = possible_assessors(sitting)
        self.fields["assessors"].label_from_instance = _name

    def clean_assessors(self) -> list[Membership]:
        """So many, no fewer and no more."""
        chosen = list(self.cleaned_data["assessors"])
        if len(chosen) != self.of:
            raise forms.ValidationError(
                _("A panel of this club has %(of)s assessors; %(n)s are chosen."),
                params={"of": self.of, "n": len(chosen)},
            )
        return chosen


def _name(member: Membership) -> str:
    if member.mentors_them:
        return _("%(name)s, who mentors the trainee") % {"name": member.person}
    return str(member.person)


def _one_of(found: Mapping[int, Any], pk: str | int) -> Any:
    if int(pk) not in found:
        raise ValueError(pk)
    return found[int(pk)]


def _line(clause: Clause) -> str:
    words = clause.text if len(clause.text) <= LINE else clause.text[: LINE - 1] + "…"
    return f"{clause.number} {words}"


class ReplaceForm(forms.Form):
    """Somebody else for one seat."""

    assessor = forms.ModelChoiceField(
        Membership.objects.none(), label=_("In place of them"), empty_label=_("Choose a mentor")
    )

    def __init__(self, *args: Any, sitting: Sitting, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.fields["assessor"].queryset = possible_assessors(sitting)
        self.fields["assessor"].label_from_instance = _name


class DecisionForm(forms.Form):
    """Pass or not yet."""

    passes = forms.TypedChoiceField(
        label=_("Your decision"),
        choices=[("pass", _("Pass")), ("not yet", _("Not yet"))],
        coerce=lambda said: said == "pass",
        widget=forms.RadioSelect,
        error_messages={"required": _("Choose one of the two.")},
    )


class ReasonForm(forms.Form):
    """Words, and the clause or the answer on which they rest; a row without words says nothing.

    `clauses` and `answers` are given once for all rows, in order.
    """

    text = forms.CharField(
        label=_("What is found"), max_length=1000, required=False, widget=forms.Textarea(attrs={"rows": 2})
    )
    clause = forms.TypedChoiceField(label=_("Clause"), required=False, empty_value=None)
    answer = forms.TypedChoiceField(label=_("Answer"), required=False, empty_value=None)

    def __init__(
        self,
        *args: Any,
        clauses: Sequence[Clause],
        answers: Sequence[Answer],
        drops: bool = False,
        **kwargs: Any,
    ) -> None:
        super().__init__(*args, **kwargs)
        self.drops = drops  # whether a row is left out by emptying its words
        by_pk: dict[str, dict[int, Any]] = {
            "clause": {clause.pk: clause for clause in clauses},
            "answer": {answer.pk: answer for answer in answers},
        }
        for name, found in by_pk.items():
            self.fields[name].coerce = partial(_one_of, found)
        self.fields["clause"].choices = [("", _("no clause"))] + [(each.pk, _line(each)) for each in clauses]
        self.fields["answer"].choices = [("", _("none"))] + [
            (each.pk, _("item %(n)d") % {"n": each.position + 1}) for each in answers
        ]

    def clean(self) -> dict[str, Any]:
        """Words rest on something, and what is chosen has words."""
        cleaned = super().clean() or {}
        rests = cleaned.get("clause") or cleaned.get("answer")
        if cleaned.get("text") and not rests and not self.errors:
            self.add_error("clause", _("Choose the clause or the answer on which this rests."))
        if rests and not cleaned.get("text") and "text" not in self.errors and not self.drops:
            self.add_error("text", _("Say what is found, or choose nothing here."))
        return cleaned


class Reasons(BaseFormSet):
    """Several reasons, at least one of them said."""

    def clean(self) -> None:
        """There is at least one."""
        if not any(self.errors) and not self.said:
            raise forms.ValidationError(_("Give at least one reason, tied to a clause or an answer."))

    @property
    def said(self) -> list[Reason]:
        """Those with words, for the actions."""
        rows = [form.cleaned_data for form in self.forms if hasattr(form, "cleaned_data")]
        return [Reason(row["text"], row.get("clause"), row.get("answer")) for row in rows if row.get("text")]


def _rows(extra: int, most: int) -> type[Reasons]:
    return formset_factory(ReasonForm, formset=Reasons, extra=extra, max_num=most, absolute_max=most)


ReasonSet = _rows(3, REASONS_PER_DECISION)
WordSet = _rows(1, WORDS_OF_A_PANEL)
