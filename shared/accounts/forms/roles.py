"""The choice of roles."""

from __future__ import annotations

from django import forms
from django.utils.text import capfirst
from django.utils.translation import gettext_lazy as _

from shared.accounts.models import Membership
from shared.accounts.roles import Role


def role_choices() -> list[tuple[str, str]]:
    """Each role with what it does."""
    return [(role.value, f"{capfirst(role.label)}: {role.work}") for role in Role]


class RolesForm(forms.Form):
    """Which roles a member holds."""

    roles = forms.TypedMultipleChoiceField(
        label=_("Roles"),
        coerce=Role,
        choices=role_choices,
        widget=forms.CheckboxSelectMultiple,
        error_messages={"required": _("Leave at least one role, or end the membership below.")},
    )

    @classmethod
    def of(cls, membership: Membership) -> RolesForm:
        """The form as it stands for this member."""
        return cls(initial={"roles": [role.value for role in membership.roles]})
