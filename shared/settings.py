"""The one settings file. With nothing set it is safe for a laptop; PRODUCTION=true asks for the rest."""

from __future__ import annotations

from pathlib import Path

from csp.constants import NONE, SELF
from django.core.exceptions import ImproperlyConfigured
from django.core.management.utils import get_random_secret_key

from shared import env
from shared.web import limits

BASE_DIR = Path(__file__).resolve().parent.parent
PRODUCTION = env.flag("PRODUCTION")
DEBUG = env.flag("DEBUG")
DEMO = env.flag("STANDPOINT_DEMO")

if DEMO:
    # The demo throws its data away at a fresh start, so it never stands on anyone's own.
    if PRODUCTION:
        raise ImproperlyConfigured("The demo does not run with PRODUCTION set. Unset it, or start elsewhere.")
    env.refuse("The demo keeps a database and files of its own", "DATABASE_URL", "STORAGE", "EMAIL_URL")

_KEPT = Path(env.text("STANDPOINT_DATA", str(BASE_DIR / ".standpoint" / ("" if DEMO else "own"))))
DATA_DIR = _KEPT / "demo" if DEMO else _KEPT
DATA_DIR.mkdir(parents=True, exist_ok=True, mode=0o700)


def _kept_secret() -> str:
    """A secret of this laptop's own, made once and kept beside its database."""
    place = DATA_DIR / "secret"
    if not place.exists():
        place.touch(mode=0o600)
        place.write_text(get_random_secret_key(), encoding="utf-8")
    return place.read_text(encoding="utf-8")


SECRET_KEY = env.text("SECRET_KEY") or ("" if PRODUCTION else _kept_secret())
ALLOWED_HOSTS = env.words("ALLOWED_HOSTS", () if PRODUCTION else ("127.0.0.1", "localhost", "[::1]"))

if PRODUCTION:
    if DEBUG:
        raise ImproperlyConfigured("PRODUCTION and DEBUG exclude one another: unset DEBUG.")
    if len(SECRET_KEY) < 40 or len(set(SECRET_KEY)) < 10 or "insecure" in SECRET_KEY:
        raise ImproperlyConfigured(
            "PRODUCTION needs a SECRET_KEY (or SECRET_KEY_FILE) of 40 or more characters, made by chance."
        )
    if not ALLOWED_HOSTS or "*" in ALLOWED_HOSTS:
        raise ImproperlyConfigured("PRODUCTION needs ALLOWED_HOSTS: the names of this site, never *.")

INSTALLED_APPS = [
    "shared.accounts",
    "shared.web",
    "courses",
    "assessments",
    "media_demo",
    "django.contrib.admin.apps.SimpleAdminConfig",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.humanize",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "allauth",
    "allauth.account",
    "allauth.mfa",
    "csp",
    "django_htmx",
    "django_tasks",
    "django_tasks_db",
]

MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.locale.LocaleMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "allauth.account.middleware.AccountMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "shared.web.htmx.HtmxAnswers",
    "shared.web.errors.SentPagesSaySo",
]

ROOT_URLCONF = "shared.urls"
WSGI_APPLICATION = "shared.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "shared" / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "shared.web.context.running_head",
            ],
        },
    }
]

# Data. SQLite waits for the disk at each commit: what was acknowledged survives a power cut.
DATABASES = {"default": env.database(f"sqlite:///{DATA_DIR / 'standpoint.sqlite3'}")}
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    DATABASES["default"]["OPTIONS"] = {
        "transaction_mode": "IMMEDIATE",
        "timeout": 20,
        "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL; PRAGMA foreign_keys=ON;",
    }
else:
    DATABASES["default"].setdefault("CONN_MAX_AGE", 60)
    DATABASES["default"]["CONN_HEALTH_CHECKS"] = True
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"
CACHES = {"default": env.cache("locmemcache://")}

# Who someone is.
AUTH_USER_MODEL = "accounts.Person"
AUTHENTICATION_BACKENDS = [
    "django.contrib.auth.backends.ModelBackend",
    "allauth.account.auth_backends.AuthenticationBackend",
]
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}},
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
]
ACCOUNT_ADAPTER = "shared.accounts.adapter.InvitedOnly"
ACCOUNT_USER_MODEL_USERNAME_FIELD = None
ACCOUNT_LOGIN_METHODS = {"email"}
ACCOUNT_SIGNUP_FIELDS = ["email*", "password1*"]
ACCOUNT_EMAIL_VERIFICATION = "optional"
ACCOUNT_PREVENT_ENUMERATION = True
ACCOUNT_LOGOUT_ON_GET = False
ACCOUNT_SESSION_REMEMBER = True
ACCOUNT_EMAIL_SUBJECT_PREFIX = ""
ACCOUNT_EMAIL_NOTIFICATIONS = True
ACCOUNT_CHANGE_EMAIL = True
ACCOUNT_REAUTHENTICATION_REQUIRED = True
ACCOUNT_LOGIN_BY_CODE_ENABLED = True
ACCOUNT_LOGIN_BY_CODE_TIMEOUT = 600
ACCOUNT_RATE_LIMITS = limits.RATES
ACCOUNT_FORMS = {
    "login": "shared.accounts.forms.sign_in.LoginForm",
    "reauthenticate": "shared.accounts.forms.sign_in.ReauthenticateForm",
    "request_login_code": "shared.accounts.forms.sign_in.RequestLoginCodeForm",
    "confirm_login_code": "shared.accounts.forms.sign_in.ConfirmLoginCodeForm",
    "reset_password": "shared.accounts.forms.sign_in.ResetPasswordForm",
    "reset_password_from_key": "shared.accounts.forms.sign_in.ResetPasswordKeyForm",
    "change_password": "shared.accounts.forms.sign_in.ChangePasswordForm",
    "set_password": "shared.accounts.forms.sign_in.SetPasswordForm",
    "add_email": "shared.accounts.forms.sign_in.NewEmailForm",
}
MFA_ADAPTER = "shared.accounts.adapter.SecondFactor"
MFA_FORMS = {
    "authenticate": "shared.accounts.forms.sign_in.SecondFactorForm",
    "reauthenticate": "shared.accounts.forms.sign_in.SecondFactorAgainForm",
    "activate_totp": "shared.accounts.forms.sign_in.AppForm",
}
MFA_SUPPORTED_TYPES = ["totp", "recovery_codes"]
MFA_TOTP_ISSUER = "Standpoint"
MFA_TOTP_TOLERANCE = 1
LOGIN_URL = "account_login"
LOGIN_REDIRECT_URL = "home"
ACCOUNT_LOGOUT_REDIRECT_URL = "account_login"

# What the browser may do.
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": [NONE],
        "script-src": [SELF],
        "style-src": [SELF],
        "img-src": [SELF, "data:", "blob:"],
        "font-src": [SELF],
        "connect-src": [SELF],
        "manifest-src": [SELF],
        "form-action": [SELF],
        "base-uri": [NONE],
        "frame-ancestors": [NONE],
    }
}
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_HTTPONLY = True
CSRF_COOKIE_SAMESITE = "Lax"
CSRF_FAILURE_VIEW = "shared.web.errors.form_expired"
# Where mail that no request brings about leads to.
SITE_ADDRESS = env.text(
    "SITE_ADDRESS", f"https://{ALLOWED_HOSTS[0].lstrip('.')}" if PRODUCTION else "http://127.0.0.1:8000"
).rstrip("/")
if PRODUCTION:
    SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = True
    SECURE_SSL_REDIRECT = env.flag("SECURE_SSL_REDIRECT", True)
    SECURE_HSTS_SECONDS = env.whole("SECURE_HSTS_SECONDS", 31_536_000, 3600, 63_072_000)
    SECURE_HSTS_INCLUDE_SUBDOMAINS = SECURE_HSTS_PRELOAD = True
    CSRF_TRUSTED_ORIGINS = [f"https://{host}" for host in ALLOWED_HOSTS]
    if env.flag("BEHIND_PROXY"):
        SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
        ALLAUTH_TRUSTED_PROXY_COUNT = env.whole("PROXY_COUNT", 1, 1, 5)

# Files.
STATIC_URL = "static/"
STATIC_ROOT = DATA_DIR / "static"
STATICFILES_DIRS = [BASE_DIR / "shared" / "static"]
MEDIA_ROOT = DATA_DIR / "media"
WHITENOISE_USE_FINDERS = not PRODUCTION
WHITENOISE_AUTOREFRESH = not PRODUCTION
STORAGES = {
    "default": {
        "BACKEND": env.text("STORAGE", "django.core.files.storage.FileSystemStorage"),
        "OPTIONS": env.table("STORAGE_OPTIONS"),
    },
    "staticfiles": {
        "BACKEND": (
            "shared.web.storage.StaticFiles"
            if PRODUCTION
            else "django.contrib.staticfiles.storage.StaticFilesStorage"
        )
    },
}
# Behind nginx or another server that knows X-Accel-Redirect, pictures do not pass through Python.
PICTURES_ACCEL_PREFIX = env.text("PICTURES_ACCEL_PREFIX")
# Or they come from private object storage, by links that the storage signs for a few minutes.
PICTURES_LINKED_FROM = env.text("PICTURES_LINKED_FROM").rstrip("/")
if PICTURES_LINKED_FROM:
    CONTENT_SECURITY_POLICY["DIRECTIVES"]["img-src"].append(PICTURES_LINKED_FROM)
FILE_UPLOAD_HANDLERS = [
    "shared.web.uploads.CutAtTheLimit",
    "django.core.files.uploadhandler.MemoryFileUploadHandler",
    "django.core.files.uploadhandler.TemporaryFileUploadHandler",
]
FILE_UPLOAD_MAX_MEMORY_SIZE = 2_500_000
DATA_UPLOAD_MAX_MEMORY_SIZE = 2_500_000
DATA_UPLOAD_MAX_NUMBER_FIELDS = 5_000
DATA_UPLOAD_MAX_NUMBER_FILES = 60

# Mail and work in the background.
vars().update(env.email("consolemail://"))
EMAIL_TIMEOUT = limits.MAIL_SECONDS
DEFAULT_FROM_EMAIL = env.text("MAIL_FROM", "Standpoint <standpoint@localhost>")
TASKS = {"default": {"BACKEND": env.text("TASKS_BACKEND", "django_tasks_db.DatabaseBackend")}}

# Words and times. The club's own time zone is set for each of its pages.
LANGUAGE_CODE = "en-gb"
LANGUAGES = [("en-gb", "British English")]
USE_I18N = USE_TZ = True
TIME_ZONE = env.text("TIME_ZONE", "Europe/London")
FORMAT_MODULE_PATH = ["shared.formats"]

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "root": {"handlers": ["console"], "level": env.text("LOG_LEVEL", "WARNING")},
}
