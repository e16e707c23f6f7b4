"""Misconfigurations that a start finds."""

import pytest
from django.conf import settings as present
from django.core.checks import registry

from shared.checks import database_keeps_what_it_acknowledged, mail_leaves_the_house


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
