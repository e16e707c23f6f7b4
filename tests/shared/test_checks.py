"""Misconfigurations that a start finds."""

import pytest
from django.conf import settings as present
from django.core.checks import registry

from shared.checks import (
    database_keeps_what_it_acknowledged,
    mail_leaves_the_house,
    pictures_have_one_way_out,
)


def test_mail_to_the_console_is_a_warning(settings):
    settings.EMAIL_BACKEND = "django.core.mail.backends.console.EmailBackend"
    assert [found.id for found in mail_leaves_the_house(None)] == ["standpoint.W001"]
    settings.EMAIL_BACKEND = "django.core.mail.backends.smtp.EmailBackend"
    assert mail_leaves_the_house(None) == []


@pytest.mark.parametrize(
    ("engine", "options", "ids"),
    [
        ("sqlite3", {}, ["standpoint.E001"]),
        ("sqlite3", {"init_command": "PRAGMA synchronous=NORMAL;"}, ["standpoint.E001"]),
        ("sqlite3", {"init_command": "PRAGMA synchronous=FULL;"}, []),
        ("postgresql", {}, []),
    ],
)
def test_a_database_that_may_forget_is_an_error(monkeypatch, engine, options, ids):
    there = {"ENGINE": f"django.db.backends.{engine}", "OPTIONS": options}
    monkeypatch.setitem(present.DATABASES, "default", there)
    assert [found.id for found in database_keeps_what_it_acknowledged(None)] == ids


def test_both_are_asked_at_each_start():
    assert database_keeps_what_it_acknowledged in registry.registry.registered_checks
    assert mail_leaves_the_house in registry.registry.deployment_checks


@pytest.mark.parametrize(
    ("linked", "accel", "backend", "ids"),
    [
        ("", "", "django.core.files.storage.FileSystemStorage", []),
        ("", "/kept", "django.core.files.storage.FileSystemStorage", []),
        ("https://bucket.example", "", "tests.courses.signed_storage.SignedStorage", []),
        ("https://bucket.example", "", "django.core.files.storage.FileSystemStorage", ["standpoint.E003"]),
        (
            "https://bucket.example",
            "/kept",
            "tests.courses.signed_storage.SignedStorage",
            ["standpoint.E002"],
        ),
        ("http://bucket.example", "", "tests.courses.signed_storage.SignedStorage", ["standpoint.E004"]),
    ],
)
def test_pictures_leave_by_one_way_that_is_signed(settings, linked, accel, backend, ids):
    settings.PICTURES_LINKED_FROM, settings.PICTURES_ACCEL_PREFIX = linked, accel
    settings.STORAGES = settings.STORAGES | {"default": {"BACKEND": backend}}
    assert [found.id for found in pictures_have_one_way_out(None)] == ids
