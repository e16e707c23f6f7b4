"""The owner's word is recorded whole, and one "no" ends all of it."""

import datetime

import pytest
from django.core.exceptions import ValidationError
from django.core.files.storage import default_storage
from django.core.files.uploadedfile import SimpleUploadedFile
from django.utils import timezone

from courses.actions.permission import withdraw_permission
from courses.models import PicturePermission
from courses.queries.permission import may_be_shown, permission_state
from courses.rules import PermissionState, Use
from tests.makers import make_photograph, make_published, permit


def test_what_the_owner_allowed_is_kept_with_the_form(cast):
    exhibit = make_photograph(cast.club, cast.educator)
    form = SimpleUploadedFile("scan of erlend.pdf", b"%PDF-1.7 signed")
    word = permit(
        exhibit, cast.secretary, uses={"teaching", "print"}, form=form, ends_on=datetime.date(2027, 1, 1)
    )
    word.refresh_from_db()
    assert (word.teaching, word.examination, word.print, word.public) == (True, False, True, False)
    assert word.recorded_by == cast.secretary.person
    assert "erlend" not in word.form.name
    with default_storage.open(word.form.name) as kept:
        assert kept.read() == b"%PDF-1.7 signed"


def test_a_permission_that_ends_before_it_begins_leaves_nothing(cast, settings):
    exhibit = make_photograph(cast.club, cast.educator)
    form = SimpleUploadedFile("form.pdf", b"%PDF-")
    with pytest.raises(ValidationError):
        permit(exhibit, cast.educator, ends_on=datetime.date(2026, 1, 1), form=form)
    assert PicturePermission.objects.count() == 0
    assert not [path for path in settings.MEDIA_ROOT.glob("forms/*/*") if path.is_file()]


def test_one_no_ends_every_permission_until_a_new_one(cast):
    exhibit = make_published(cast.club, cast.educator)
    permit(exhibit, cast.educator, given_by="The photographer")
    today = timezone.localdate()
    assert may_be_shown(exhibit, today)
    assert withdraw_permission(exhibit=exhibit) == 2
    assert permission_state(exhibit, Use.TEACHING, today) == PermissionState.WITHDRAWN
    assert not may_be_shown(exhibit, today)
    permit(exhibit, cast.educator)
    assert may_be_shown(exhibit, today)
