"""Forms for making an invitation and for accepting one."""

from __future__ import annotations

from django import forms
from django.contrib.auth.password_validation import validate_password
from django.core.exceptions import ValidationError
from django.utils.translation import gettext_lazy as _

from shared.accounts.forms.passwords import NewPasswordField
from shared.accounts.forms.roles import role_choices
from shared.accounts.models import Person
from shared.accounts.roles import Role


class InviteForm(forms.Form):
    """One role, and an address if the secretary wants to note or mail it."""

    role = forms.TypedChoiceField(
        label=_("Role"), coerce=Role, choices=role_choices, widget=forms.RadioSelect, initial=Role.TRAINEE
    )
    email = forms.EmailField(
        label=_("Email address"), required=False, help_text=_("To know later whom the link was for.")
    )
    send = forms.BooleanField(label=_("Send the link to this address"), required=False)

    def clean(self) -> dict[str, object]:
        given = super().clean()
        if given.get("send") and not given.get("email") and "email" not in self.errors:
            self.add_error("email", _("Say where to send the link, or copy it yourself."))
        return given


class JoinForm(forms.Form):
    """What an invited person says of themselves."""

    name = forms.CharField(
        label=_("Name"),
        max_length=120,
        help_text=_("As the club knows you. It stands on your answers and papers."),
        widget=forms.TextInput(attrs={"autocomplete": "name"}),
    )
    email = forms.EmailField(
        label=_("Email address"),
        help_text=_("You sign in with it."),
        widget=forms.EmailInput(attrs={"autocomplete": "username"}),
    )
    password = NewPasswordField()

    def clean_email(self) -> str:
        email = self.cleaned_data["email"].lower()
        if Person.objects.filter(email__iexact=email).exists():
            raise ValidationError(_("There is an account with this address already. Sign in with it."))
        return email

    def clean(self) -> dict[str, object]:
        given = super().clean()
        if given.get("password"):
            person = Person(name=given.get("name", ""), email=given.get("email", ""))
            try:
                validate_password(given["password"], person)
            except ValidationError as error:
                self.add_error("password", error)
        return given
