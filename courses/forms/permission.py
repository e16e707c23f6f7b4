"""The owner's permission as a form."""

from __future__ import annotations

from django import forms
from django.core.files.uploadedfile import UploadedFile
from django.utils.formats import date_format
from django.utils.translation import gettext_lazy as _

from courses.models import PicturePermission
from courses.rules import Use
from shared.web.limits import FORM_BYTES

# How a signed form may begin: PDF, JPEG, PNG.
FORM_BEGINNINGS = (b"%PDF-", b"\xff\xd8\xff", b"\x89PNG\r\n\x1a\n")


class DateBox(forms.DateInput):
    """The reader's own calendar, where the browser has one."""

    input_type = "date"

    def __init__(self) -> None:
        super().__init__(format="%Y-%m-%d")


class RecordPermission(forms.Form):
    """Who gave permission, how, from when until when, and for what."""

    given_by = forms.CharField(label=_("Who gave permission"), max_length=160)
    starts_on = forms.DateField(label=_("From"), widget=DateBox())
    ends_on = forms.DateField(label=_("Until"), required=False, widget=DateBox())
    how = forms.ChoiceField(
        label=_("How it was given"),
        choices=PicturePermission.How.choices,
        widget=forms.RadioSelect,
        error_messages={"required": _("Choose one. Without it the picture cannot be published.")},
    )
    uses = forms.MultipleChoiceField(
        label=_("May be used for"),
        choices=[(use.value, PicturePermission._meta.get_field(use.value).verbose_name) for use in Use],
        widget=forms.CheckboxSelectMultiple,
        initial=["teaching"],
        error_messages={"required": _("Choose at least one use.")},
    )
    form = forms.FileField(label=_("Signed form"), required=False)
    note = forms.CharField(label=_("Note"), max_length=400, required=False)

    def clean_form(self) -> UploadedFile | None:
        form = self.cleaned_data["form"]
        if form is None:
            return None
        if form.size > FORM_BYTES:
            raise forms.ValidationError(
                _("It is larger than 5 MB. Scan it again with fewer pixels."), "bytes"
            )
        start = form.read(8)
        form.seek(0)
        if not start.startswith(FORM_BEGINNINGS):
            raise forms.ValidationError(_("It is not a PDF, JPEG or PNG."), "kind")
        return form

    def clean(self) -> dict[str, object]:
        said = super().clean()
        begins, ends = said.get("starts_on"), said.get("ends_on")
        if begins and ends and ends <= begins:
            self.add_error(
                "ends_on",
                forms.ValidationError(
                    _("“Until” must be after %(day)s, or left empty if it has no end."),
                    params={"day": date_format(begins)},
                    code="order",
                ),
            )
        return said
