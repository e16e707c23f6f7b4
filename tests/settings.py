"""The site's settings with what makes tests quick: cheap passwords, work in the background done at once."""

import os
import tempfile

os.environ.setdefault("STANDPOINT_DATA", tempfile.mkdtemp(prefix="standpoint-tests-"))

from shared.settings import *  # noqa: F403

PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher"]
EMAIL_BACKEND = "django.core.mail.backends.locmem.EmailBackend"
TASKS = {"default": {"BACKEND": "django_tasks.backends.immediate.ImmediateBackend"}}
ACCOUNT_RATE_LIMITS = False

# A file, since the threads of the running site and of its tests would lock each other out of one in memory.
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):  # noqa: F405
    DATABASES["default"]["TEST"] = {"NAME": DATA_DIR / "tests.sqlite3"}  # noqa: F405
