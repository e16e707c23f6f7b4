"""The cast of the tests: one club with a person for each role, a second club, and a stranger; the edition."""

from __future__ import annotations

from dataclasses import dataclass

import pytest
from django.test import Client
from hypothesis import settings as hypothesis_settings

from courses.models import Edition
from shared.accounts.models import Club, Membership
from tests.makers import make_edition, make_member

# Nothing in the suite is timed: a busy computer must not fail it.
# The suite tries the same examples each time; `--hypothesis-profile=search` looks for others.
hypothesis_settings.register_profile("suite", deadline=None, derandomize=True)
hypothesis_settings.register_profile("search", deadline=None)
hypothesis_settings.load_profile("suite")


@dataclass
class Cast:
    """Everyone is a member of `club` but `stranger`, who is the whole committee of `other_club`."""

    club: Club
    other_club: Club
    educator: Membership
    mentor: Membership
    trainee: Membership
    secretary: Membership
    stranger: Membership

    def client(self, who: str) -> Client:
        """A browser in which the named member is signed in; "nobody" is signed out."""
        client = Client()
        if who != "nobody":
            client.force_login(getattr(self, who).person, "django.contrib.auth.backends.ModelBackend")
        return client


@pytest.fixture
def cast(db: None) -> Cast:
    club = Club.objects.create(name="Skerry Drover Club", slug="skerry-drover")
    other = Club.objects.create(name="Holm Spaniel Club", slug="holm-spaniel")
    return Cast(
        club=club,
        other_club=other,
        educator=make_member(club, "Ishbel Rendall", educator=True),
        mentor=make_member(club, "Magnus Flett", mentor=True),
        trainee=make_member(club, "Una Halcro", trainee=True),
        secretary=make_member(club, "Bruce Isbister", secretary=True),
        stranger=make_member(other, "Sanna Voe", educator=True, mentor=True, trainee=True, secretary=True),
    )


@pytest.fixture
def edition(cast: Cast) -> Edition:
    """In force, and nothing in it yet; modules about drafts have their own."""
    return make_edition(cast.club)


@pytest.fixture(autouse=True)
def media(settings: object, tmp_path: object) -> None:
    """Each test has an empty media folder of its own."""
    settings.MEDIA_ROOT = tmp_path / "media"
