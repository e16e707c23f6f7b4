"""The operators' pages: people, clubs and memberships. Exhibits, answers and keys are never shown here."""

from __future__ import annotations

from allauth.account.decorators import secure_admin_login
from django.contrib import admin
from django.http import HttpRequest
from django.utils.decorators import method_decorator

from shared.accounts.models import Club, Membership, Person


class OperatorsSite(admin.AdminSite):
    """Signed in to like the rest of the site: with its limits on guessing, and the second factor."""

    site_title = site_header = "Standpoint, operators"
    index_title = "People and clubs"
    site_url = "/"
    login = method_decorator(secure_admin_login)(admin.AdminSite.login)


class Kept(admin.ModelAdmin):
    """Rows are not deleted here: answers, keys and marks name them."""

    list_per_page = 50

    def has_delete_permission(self, request: HttpRequest, obj: object = None) -> bool:
        return False


class PersonPage(Kept):
    """A person is made by an invitation or by createsuperuser; a password is set by its owner alone."""

    list_display = ["name", "email", "is_active", "is_staff", "date_joined"]
    list_filter = ["is_active", "is_staff"]
    search_fields = ["name", "email"]
    fields = ["name", "email", "is_active", "is_staff", "is_superuser", "date_joined", "last_login"]
    readonly_fields = ["email", "is_superuser", "date_joined", "last_login"]

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False


class ClubPage(Kept):
    """A club's name, address and time zone."""

    list_display = ["name", "slug", "time_zone", "created_at"]
    search_fields = ["name", "slug"]
    fields = ["name", "slug", "time_zone"]

    def has_add_permission(self, request: HttpRequest) -> bool:
        return False


class MembershipPage(Kept):
    """Who holds which roles where, for the case that a club has lost its secretary."""

    list_display = ["person", "club", "trainee", "educator", "mentor", "secretary", "left_at"]
    list_filter = ["club"]
    list_select_related = ["person", "club"]
    search_fields = ["person__name", "person__email", "club__name"]
    autocomplete_fields = ["club", "person"]
    fields = ["club", "person", "trainee", "educator", "mentor", "secretary", "left_at"]

    def get_readonly_fields(self, request: HttpRequest, obj: object = None) -> list[str]:
        return ["club", "person"] if obj else []


site = OperatorsSite(name="admin")
site.register(Person, PersonPage)
site.register(Club, ClubPage)
site.register(Membership, MembershipPage)
