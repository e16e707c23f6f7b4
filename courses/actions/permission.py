"""Owners give their word on a picture, and take it back."""

from __future__ import annotations

from datetime import date

from django.core.files.uploadedfile import UploadedFile
from django.db import transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from courses.actions.files import all_or_none
from courses.models import Exhibit, PicturePermission
from courses.models.exhibit import form_path
from courses.refusals import Refused
from shared.accounts.models import Person
from shared.web.limits import PERMISSIONS_PER_EXHIBIT


def record_permission(
    *,
    exhibit: Exhibit,
    given_by: str,
    how: str,
    starts_on: date,
    ends_on: date | None,
    uses: set[str],
    recorded_by: Person,
    form: UploadedFile | None = None,
    note: str = "",
) -> PicturePermission:
    """Record the owner's word; `uses` are names of `rules.Use`."""
    if exhibit.permissions.count() >= PERMISSIONS_PER_EXHIBIT:
        raise Refused(_("There are too many permissions for this exhibit already."))
    permission = PicturePermission(
        exhibit=exhibit,
        given_by=given_by,
        how=how,
        starts_on=starts_on,
        ends_on=ends_on,
        note=note,
        recorded_by=recorded_by,
        **{use: use in uses for use in ("teaching", "examination", "print", "public")},
    )
    with all_or_none() as keep, transaction.atomic():
        if form:
            permission.form.name = keep(form_path(permission, form.name or ""), form)
        permission.full_clean(exclude=["recorded_by", "exhibit", "form"])
        permission.save()
    return permission


@transaction.atomic
def withdraw_permission(*, exhibit: Exhibit) -> int:
    """The owner takes the word back: no permission given so far holds from now on. Returns how many ended.

    Whoever gave it, one "no" counts against all of them, until a new permission is recorded.
    """
    return exhibit.permissions.filter(withdrawn_at=None).update(withdrawn_at=timezone.now())
