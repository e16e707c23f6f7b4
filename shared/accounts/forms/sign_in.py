"""The sign-in forms in our words: labels that stay, our own hints, each password asked for once."""

from __future__ import annotations

from allauth.account import forms as account
from allauth.mfa.base import forms as mfa
from allauth.mfa.totp import forms as totp
from django import forms
from django.utils.translation import gettext_lazy as _

from shared.accounts.forms.passwords import HINT

# Field name to label and hint, wherever the field occurs.
WORDS = {
    "login": (_("Email address"), ""),
    "email": (_("Email address"), ""),
    "password": (_("Password"), ""),
    "oldpassword": (_("Present password"), ""),
    "password1": (_("New password"), HINT),
    "code": (_("Code"), ""),
}


class OurWords(forms.Form):
    """Puts our labels and hints in, takes placeholders and the second password out."""

    def __init__(self, *args: object, **kwargs: object) -> None:
        super().__init__(*args, **kwargs)
        self.fields.pop("password2", None)
        for name, field in self.fields.items():
            field.label, field.help_text = WORDS[name]
            field.widget.attrs.pop("placeholder", None)


class LoginForm(OurWords, account.LoginForm):
    """Address and password."""


class ReauthenticateForm(OurWords, account.ReauthenticateForm):
    """The password again, before something that matters."""


class RequestLoginCodeForm(OurWords, account.RequestLoginCodeForm):
    """Where to send a code."""


class ConfirmLoginCodeForm(OurWords, account.ConfirmLoginCodeForm):
    """The code that came by mail."""


class ResetPasswordForm(OurWords, account.ResetPasswordForm):
    """Where to send the link to a new password."""


class ResetPasswordKeyForm(OurWords, account.ResetPasswordKeyForm):
    """A new password, by the link that came by mail."""


class ChangePasswordForm(OurWords, account.ChangePasswordForm):
    """A new password, knowing the present one."""


class SetPasswordForm(OurWords, account.SetPasswordForm):
    """A first password."""


class NewEmailForm(OurWords, account.AddEmailForm):
    """The address to sign in with from now on, once it is confirmed."""


class SecondFactorForm(OurWords, mfa.AuthenticateForm):
    """The code of the app, or one of the codes kept for a lost phone."""


class SecondFactorAgainForm(OurWords, mfa.ReauthenticateForm):
    """The same, before something that matters."""


class AppForm(OurWords, totp.ActivateTOTPForm):
    """The first code that the app shows."""
