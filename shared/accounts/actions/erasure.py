"""Erasing somebody from a club: what is theirs goes, what they did for the club stays without their name."""

from __future__ import annotations

import functools
import operator
import re
import uuid
from collections.abc import Callable
from typing import Any

from django.contrib.admin.models import LogEntry
from django.contrib.auth import SESSION_KEY
from django.contrib.sessions.models import Session
from django.db import models, transaction
from django.utils import timezone
from django.utils.translation import gettext as _

from shared.accounts.erasure import (
    AGAINST,
    FIRST,
    POINTS,
    WORDS,
    Way,
    Words,
    fields_that_point_to,
    fields_with_words,
    label_of,
    of_club,
)
from shared.accounts.models import Club, Erasure, ErasureRequest, Invitation, Membership, Person
from shared.accounts.names import FORMER, FormerName
from shared.accounts.roles import Role
from shared.accounts.rules import LAST_SECRETARY, Refused, has_another_secretary, lock_members

ROWS_AT_ONCE = 500
Rewrite = Callable[[str], str]


def reasons_against(membership: Membership) -> list[str]:
    """What must be done before this member can be erased, in words; empty if nothing stands against it."""
    last = membership.secretary and membership.left_at is None and not has_another_secretary(membership)
    found = [str(LAST_SECRETARY)] if last else []
    return found + [reason for ask in AGAINST.values() for reason in ask(membership)]


@transaction.atomic
def erase_member(*, membership: Membership, by: Membership | None) -> Erasure:
    """Take a person out of a club for good. `by` is None where the club's period has ended.

    Answers move to somebody nameless, so that figures stay as they are; whatever else is of the person goes;
    what they did for the club points to another nameless one. Without any other club the person goes too.
    Raises Refused with what must be done first.
    """
    lock_members(membership.club_id)
    held = Membership.objects.select_related("person", "club").get(pk=membership.pk)
    if held.nameless:
        raise Refused(_("There is nobody to erase any more."))
    if reasons := reasons_against(held):
        raise Refused(" ".join(reasons))
    asked = held.erasure_requests.filter(withdrawn_at=None, declined_at=None).first()
    person, itself = held.person, by is not None and by.pk == held.pk
    for step in FIRST.values():
        step(held)
    _delete_rows(held)
    nameless = make_nameless_person(role=_foremost(held))
    _point_elsewhere(held, nameless)
    _take_name_out(held)
    _leave(held, nameless)
    _delete_person(person)
    return Erasure.objects.create(
        club=held.club, by=None if itself else by, asked_on=asked and timezone.localdate(asked.asked_at)
    )


def make_nameless_person(*, role: Role) -> Person:
    """Somebody who never signs in, to stand where an erased person stood."""
    kept = f"{FORMER}{role.value}"
    nameless = Person(email=f"{uuid.uuid4().hex}@erased.invalid", name=FormerName(kept), is_active=False)
    nameless.set_unusable_password()
    nameless.save()
    return nameless


@transaction.atomic
def make_nameless_member(*, club: Club, role: Role) -> Membership:
    """The same as somebody who has left the club."""
    now = timezone.now()
    roles = {role.value: True}
    return Membership.objects.create(
        club=club,
        person=make_nameless_person(role=role),
        nameless=True,
        joined_at=now,
        left_at=now,
        **roles,
    )


@transaction.atomic
def ask_to_be_erased(*, membership: Membership) -> ErasureRequest:
    """The member's own wish, for the secretary to see; asked twice, it is one request."""
    lock_members(membership.club_id)
    waiting = membership.erasure_requests.filter(withdrawn_at=None, declined_at=None).first()
    return waiting or ErasureRequest.objects.create(membership=membership)


@transaction.atomic
def withdraw_request(*, membership: Membership) -> None:
    """The member thinks better of it."""
    waiting = membership.erasure_requests.filter(withdrawn_at=None, declined_at=None)
    waiting.update(withdrawn_at=timezone.now())


@transaction.atomic
def decline_request(*, membership: Membership, by: Membership, reason: str) -> None:
    """The club cannot do it, and says why; the member may ask again."""
    waiting = membership.erasure_requests.filter(withdrawn_at=None, declined_at=None)
    waiting.update(declined_at=timezone.now(), declined_by=by, reason=reason)


def called(person: Person) -> list[str]:
    """The person's address and every name they have had here."""
    return [person.email, *filter(None, [str(person.name), *person.earlier_names])]


def without_name_of(membership: Membership) -> Rewrite:
    """Puts "a former mentor" where words name the person in full, by a name of any time, or give their address.

    A name of several words is known in any case of its letters, a single one as it is written.
    """
    put = str(FormerName(f"{FORMER}{_foremost(membership).value}"))
    email, *names = called(membership.person)
    patterns = [f"(?i:{re.escape(email)})"]
    patterns += [
        rf"(?<!\w){f'(?i:{re.escape(name)})' if ' ' in name else re.escape(name)}(?!\w)" for name in names
    ]
    pattern = re.compile("|".join(patterns))
    return lambda words: pattern.sub(put, words)


def _take_name_out(held: Membership) -> None:
    rewrite = without_name_of(held)
    for field in fields_with_words():
        if WORDS.get(label_of(field)) is Words.MAY_NAME:
            _rewrite_rows(field, held, rewrite)


def _rewrite_rows(field: models.Field, held: Membership, rewrite: Rewrite) -> None:
    rows = of_club(field.model, held.club).only("pk", field.name)
    # JSON is kept with letters escaped, in which a name cannot be looked for.
    if not isinstance(field, models.JSONField):
        looks = [models.Q(**{f"{field.name}__icontains": name}) for name in called(held.person)]
        rows = rows.filter(functools.reduce(operator.or_, looks))
    changed = []
    for row in rows.iterator(ROWS_AT_ONCE):
        before = getattr(row, field.name)
        after = _rewritten(before, rewrite)
        if after != before:
            setattr(row, field.name, after[: field.max_length] if isinstance(after, str) else after)
            changed.append(row)
    field.model._base_manager.bulk_update(changed, [field.name], ROWS_AT_ONCE)


def _rewritten(value: Any, rewrite: Rewrite) -> Any:
    if isinstance(value, str):
        return rewrite(value)
    if isinstance(value, list):
        return [_rewritten(each, rewrite) for each in value]
    if isinstance(value, dict):
        return {key: _rewritten(each, rewrite) for key, each in value.items()}
    return value


def _delete_rows(held: Membership) -> None:
    for field in fields_that_point_to(Membership):
        if POINTS.get(label_of(field)) is Way.GOES:
            field.model._base_manager.filter(**{field.name: held}).delete()
    for field in fields_that_point_to(Person):
        if POINTS.get(label_of(field)) is Way.GOES:
            of_club(field.model, held.club).filter(**{field.name: held.person}).delete()
    Invitation.objects.filter(club=held.club, email__iexact=held.person.email).delete()


def _point_elsewhere(held: Membership, nameless: Person) -> None:
    for field in fields_that_point_to(Person):
        if POINTS.get(label_of(field)) is Way.STAYS:
            rows = of_club(field.model, held.club).filter(**{field.name: held.person})
            rows.update(**{field.name: nameless})


def _leave(held: Membership, nameless: Person) -> None:
    """The membership is nobody's now; where nothing rests on it, it is gone altogether."""
    now = timezone.now()
    Membership.objects.filter(pk=held.pk).update(person=nameless, nameless=True, joined_at=now, left_at=now)
    held.refresh_from_db()
    if not _points_at(held):
        held.delete()
        if not _points_at(nameless):
            nameless.delete()


def _points_at(row: models.Model) -> bool:
    """Whether any row of any table points at this one."""
    relations: list[Any] = [
        relation for relation in row._meta.get_fields(include_hidden=True) if relation.auto_created
    ]
    return any(
        relation.field.model._base_manager.filter(**{relation.field.name: row}).exists()
        for relation in relations
        if relation.one_to_many or relation.one_to_one
    )


def _delete_person(person: Person) -> None:
    """A person of no club any more, with their addresses, second factor, sessions; not one who runs the site."""
    if person.is_staff or person.is_superuser or person.memberships.exists():
        return
    named = models.Q(object_repr__icontains=person.email) | models.Q(object_repr=str(person))
    LogEntry.objects.filter(named | models.Q(object_repr__startswith=f"{person}, ")).delete()
    for session in Session.objects.iterator(ROWS_AT_ONCE):
        if session.get_decoded().get(SESSION_KEY) == str(person.pk):
            session.delete()
    person.delete()


def _foremost(held: Membership) -> Role:
    """As whom the person is remembered: by the work that the club's record is likeliest to rest on."""
    order = [Role.EDUCATOR, Role.MENTOR, Role.SECRETARY, Role.TRAINEE]
    return next(role for role in order if getattr(held, role.value))
