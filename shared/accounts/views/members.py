"""The club's members: the list, one member's roles, the end of a membership and its undoing."""

from __future__ import annotations

from django.contrib import messages
from django.core.paginator import Paginator
from django.http import HttpRequest, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods, require_POST

from shared.accounts.actions.members import change_roles, end_membership, take_back_end
from shared.accounts.forms.roles import RolesForm
from shared.accounts.models import Membership
from shared.accounts.permissions import Ability, club_page
from shared.accounts.queries.invitations import open_invitations
from shared.accounts.queries.members import known_members, lately_ended, members_by_role, members_of
from shared.accounts.roles import Role
from shared.accounts.rules import Refused
from shared.web import limits
from shared.web.slots import fillings


@club_page(Ability.MANAGE_MEMBERS)
def members(request: HttpRequest) -> HttpResponse:
    """Who belongs to the club, in which roles; those who left lately can be taken back."""
    role = Role(request.GET["role"]) if request.GET.get("role") in Role.values else None
    page = Paginator(members_of(request.club, role), limits.PAGE_LENGTH).get_page(request.GET.get("page"))
    filled = fillings("member", request, list(page.object_list))
    ended = list(lately_ended(request.club)[: limits.ENDED_SHOWN])
    filled_former = fillings("former member", request, ended)
    context = {
        "page": page,
        "rows": [(member, filled[member]) for member in page.object_list],
        "role": role,
        "counts": members_by_role(request.club),
        "open_invitations": open_invitations(request.club).count(),
        "ended": [(member, filled_former[member]) for member in ended],
    }
    return render(request, "accounts/member/list.html", context)


@require_http_methods(["GET", "HEAD", "POST"])
@club_page(Ability.MANAGE_MEMBERS)
def member(request: HttpRequest, member: int) -> HttpResponse:
    """One member's roles."""
    found = _present(request, member)
    form = RolesForm(request.POST) if request.method == "POST" else RolesForm.of(found)
    if form.is_bound and form.is_valid():
        try:
            change_roles(membership=found, roles=form.cleaned_data["roles"])
        except Refused as refusal:
            form.add_error("roles", str(refusal))
        else:
            messages.success(request, _("Saved. %(name)s is now %(roles)s.") % _named(found))
            return redirect("members", request.club.slug)
    context = {"member": found, "form": form, "fillings": fillings("member", request, [found])[found]}
    return render(request, "accounts/member/one.html", context, status=422 if form.errors else 200)


@require_POST
@club_page(Ability.MANAGE_MEMBERS)
def member_end(request: HttpRequest, member: int) -> HttpResponse:
    """End a membership. It can be taken back from the list."""
    found = _present(request, member)
    try:
        end_membership(membership=found)
    except Refused as refusal:
        messages.error(request, str(refusal))
        return redirect("member", request.club.slug, found.pk)
    messages.success(request, _("%(name)s is no longer a member.") % _named(found))
    return redirect("home") if found.person == request.user else redirect("members", request.club.slug)


@require_POST
@club_page(Ability.MANAGE_MEMBERS)
def member_back(request: HttpRequest, member: int) -> HttpResponse:
    """Undo the end of a membership."""
    found = get_object_or_404(known_members(request.club), pk=member)
    take_back_end(membership=found)
    messages.success(request, _("%(name)s is a member again: %(roles)s.") % _named(found))
    return redirect("members", request.club.slug)


@club_page(Ability.MANAGE_MEMBERS)
def members_left(request: HttpRequest) -> HttpResponse:
    """Everyone who left and is not erased, the last first."""
    page = Paginator(lately_ended(request.club), limits.PAGE_LENGTH).get_page(request.GET.get("page"))
    filled = fillings("former member", request, list(page.object_list))
    rows = [(member, filled[member]) for member in page.object_list]
    return render(request, "accounts/member/left.html", {"page": page, "rows": rows})


def _present(request: HttpRequest, pk: int) -> Membership:
    return get_object_or_404(members_of(request.club), pk=pk)


def _named(member: Membership) -> dict[str, str]:
    return {"name": str(member.person), "roles": member.role_words}
