"""Asking a panel: whom, with what word, until when."""

from __future__ import annotations

import datetime

from django import forms
from django.db.models import QuerySet
from django.utils import timezone
from django.utils.translation import gettext_lazy as _
from django.utils.translation import ngettext

from assessments.models import Item, KeyPanel
from assessments.queries.key_panels import possible_panellists
from courses.forms.permission import DateBox
from shared.accounts.models import Club, Membership


class MembersField(forms.ModelMultipleChoiceField):
    """Members by name."""

    widget = forms.CheckboxSelectMultiple

    def label_from_instance(self, obj: Membership) -> str:
        """The name; and who has drawn up a version of the key, since that one has seen what is to be found."""
        return (
            f"{obj.person} ({self.notes[obj.person_id]})" if obj.person_id in self.notes else str(obj.person)
        )

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.notes: dict[int, str] = {}


class AskMoreForm(forms.Form):
    """Members who may mark for a key and are not on the panel yet."""

    members = MembersField(
        Membership.objects.none(),
        label=_("Whom do you ask?"),
        error_messages={
            "required": _("Choose at least one member."),
            "invalid_choice": _("Choose members of the club who may mark for a key."),
            "invalid_pk_value": _("Choose members of the club who may mark for a key."),
        },
    )

    def __init__(
        self,
        *args: object,
        club: Club,
        panel: KeyPanel | None = None,
        notes: dict[int, str] | None = None,
        **kwargs: object,
    ) -> None:
        super().__init__(*args, **kwargs)
        able = possible_panellists(club)
        self.fields["members"].queryset = able.exclude(key_panels__panel=panel) if panel else able
        self.fields["members"].notes = notes or {}


class AskPanelForm(AskMoreForm):
    """A new panel. Three or more make its key fit for examination if they agree."""

    word = forms.CharField(
        label=_("A word to the panel"),
        help_text=_("Each of them reads it above the exhibit. Do not say what you see in it."),
        required=False,
        max_length=500,
        widget=forms.Textarea({"rows": 2}),
    )
    wanted_by = forms.DateField(label=_("Wanted by"), required=False, widget=DateBox())

    def clean_wanted_by(self) -> datetime.date | None:
        wanted: datetime.date | None = self.cleaned_data["wanted_by"]
        if wanted and wanted < timezone.localdate():
            raise forms.ValidationError(_("This day is past."), "past")
        return wanted


class ItemsField(forms.ModelMultipleChoiceField):
    """Items by what educators call them."""

    widget = forms.CheckboxSelectMultiple

    def label_from_instance(self, obj: Item) -> str:
        """Its name, and how many panels have marked it."""
        marked = obj.panels_count
        if not marked:
            return obj.name
        times = ngettext("marked by a panel", "marked by %(n)d panels", marked) % {"n": marked}
        return f"{obj.name} ({times})"


class AskAboutAllForm(AskPanelForm):
    """A panel about several items of one quiz; those that no panel has marked yet are chosen to begin with."""

    items = ItemsField(
        Item.objects.none(),
        label=_("About which items?"),
        error_messages={
            "required": _("Choose at least one item."),
            "invalid_choice": _("Choose items of this quiz about which a panel can be asked."),
            "invalid_pk_value": _("Choose items of this quiz about which a panel can be asked."),
        },
    )
    field_order = ["items", "members", "word", "wanted_by"]

    def __init__(self, *args: object, items: QuerySet[Item], **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.fields["items"].queryset = items
        self.fields["items"].initial = [item.pk for item in items if not item.panels_count]
