"""Educators and secretaries hear in time of permissions that end."""

from __future__ import annotations

from datetime import date

from django.conf import settings
from django.core.mail import EmailMessage, get_connection
from django.db import transaction
from django.db.models import Q
from django.template.loader import render_to_string
from django.urls import reverse
from django.utils import timezone
from django.utils.translation import ngettext

from courses.models import PicturePermission
from courses.queries.permission import endings_to_tell
from courses.queries.plate import plates_showing
from shared.accounts.models import Club, Membership


@transaction.atomic
def remind_of_endings(*, club: Club, on: date) -> int:
    """Mail those who keep permissions, once for each that ends within a fortnight. Returns how many it told.

    If the mail server refuses, nothing is noted, and the next run tries again.
    """
    words = list(endings_to_tell(club, on).select_for_update(of=("self",)))
    people = _keepers(club)
    if not words or not people:
        return 0
    subject = ngettext(
        "%(club)s: a permission ends soon", "%(club)s: %(n)s permissions end soon", len(words)
    ) % {"club": club.name, "n": len(words)}
    text = render_to_string("courses/mail/permissions_end.txt", {"club": club, "lines": _lines(club, words)})
    # One message for each person: nobody learns the others' addresses.
    with get_connection() as connection:
        for member in people:
            EmailMessage(subject, text, to=[member.person.email], connection=connection).send()
    PicturePermission.objects.filter(pk__in=[word.pk for word in words]).update(reminded_at=timezone.now())
    return len(words)


def _keepers(club: Club) -> list[Membership]:
    members = club.memberships.filter(
        Q(educator=True) | Q(secretary=True), left_at=None, person__is_active=True
    )
    return list(members.select_related("person").order_by("pk"))


def _lines(club: Club, words: list[PicturePermission]) -> list[dict[str, object]]:
    return [
        {
            "word": word,
            "plates": ", ".join(str(number) for number in plates_showing([word.exhibit])),
            "address": settings.SITE_ADDRESS + reverse("exhibit", args=[club.slug, word.exhibit.number]),
        }
        for word in words
    ]
