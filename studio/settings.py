"""Settings: one file, read from the environment, with an error that says how to mend it.

Where things are kept: GARLANDRY_DATA (default `.data` beside manage.py) holds the secret keys, the collected
static files, and the database unless DATABASE_URL names a PostgreSQL. The demo has `.demo` (GARLANDRY_DEMO_DATA)
instead and never opens the other one.
"""

import os
import secrets
from pathlib import Path
from typing import Any

from django.core.exceptions import ImproperlyConfigured

from studio.database import AddressError, postgresql_at, sqlite_in
from studio.folders import alone_in
from studio.mail_server import MailServer, MailServerError, server_from
from studio.sqlite import use_bundled_sqlite

use_bundled_sqlite()

BASE_DIR = Path(__file__).resolve().parent.parent


def env_flag(name: str, default: bool) -> bool:
    """A yes/no variable of the environment; anything but 1 or 0 is refused by name."""
    value = os.environ.get(name, "1" if default else "0")
    if value not in ("0", "1"):
        raise ImproperlyConfigured(f"{name} must be 1 or 0 (got {value!r}).")
    return value == "1"


DEMO = env_flag("GARLANDRY_DEMO", False)
DATA_DIR = (
    Path(os.environ.get("GARLANDRY_DEMO_DATA", BASE_DIR / ".demo"))
    if DEMO
    else Path(os.environ.get("GARLANDRY_DATA", BASE_DIR / ".data"))
)
DATA_DIR.mkdir(mode=0o700, parents=True, exist_ok=True)


def kept_secret(name: str) -> str:
    """A key of 384 random bits, made at the first start and kept in a file only its owner can read.

    Programs that start at once agree on one, and the file is there whole or not at all.
    """
    path = DATA_DIR / name
    if not path.exists():
        with alone_in(DATA_DIR):
            if not path.exists():
                made = path.with_name(f"{name}.making")
                with os.fdopen(os.open(made, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "w") as file:
                    file.write(secrets.token_urlsafe(48))
                    file.flush()
                    os.fsync(file.fileno())
                made.rename(path)
    key = path.read_text().strip()
    if len(key) < 40:
        raise ImproperlyConfigured(f"{path} holds {len(key)} characters; a key of at least 40 is needed.")
    return key


SECRET_KEY = os.environ.get("GARLANDRY_SECRET_KEY") or kept_secret("secret.key")
# Quote links are derived from this key, so a copy of the database alone opens none of them.
LINK_KEY = os.environ.get("GARLANDRY_LINK_KEY") or kept_secret("link.key")

DEBUG = env_flag("GARLANDRY_DEBUG", False)
# Plain HTTP is for the demo and for trying things on one machine: cookies are then not marked secure.
HTTPS = env_flag("GARLANDRY_HTTPS", not (DEMO or DEBUG))
ALLOWED_HOSTS = ["*"] if DEMO else os.environ.get("GARLANDRY_HOSTS", "localhost,127.0.0.1,[::1],testserver").split(",")
CSRF_TRUSTED_ORIGINS = [f"https://{host}" for host in ALLOWED_HOSTS if HTTPS and host != "*"]

INSTALLED_APPS = [
    "studio.apps.StudioConfig",
    "stock.apps.StockConfig",
    "estimating.apps.EstimatingConfig",
    "bookings.apps.BookingsConfig",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "django.forms",
    "django_htmx",
    "template_partials",
]

MIDDLEWARE = [
    "studio.middleware.SecurityHeadersMiddleware",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "studio.middleware.HtmxAnswersMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "studio.middleware.AccessMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "studio.middleware.StudioClockMiddleware",
    "studio.middleware.PaperMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]

ROOT_URLCONF = "studio.urls"
WSGI_APPLICATION = "studio.wsgi.application"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "studio.context.studio",
            ],
        },
    }
]
FORM_RENDERER = "studio.forms.Renderer"
SQLITE_FILE = "garlandry.sqlite3"


def books() -> dict[str, Any]:
    """The PostgreSQL that DATABASE_URL names, else a file in the data folder. The demo is always a file."""
    address = "" if DEMO else os.environ.get("DATABASE_URL", "")
    try:
        return postgresql_at(address) if address else sqlite_in(DATA_DIR / SQLITE_FILE)
    except AddressError as error:
        raise ImproperlyConfigured(str(error)) from None


DATABASES = {"default": books()}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "studio.User"
LOGIN_URL = "login"
LOGIN_REDIRECT_URL = "week"
LOGOUT_REDIRECT_URL = "login"
AUTH_PASSWORD_VALIDATORS = [
    {
        "NAME": "django.contrib.auth.password_validation.MinimumLengthValidator",
        "OPTIONS": {"min_length": 12},
    },
    {"NAME": "django.contrib.auth.password_validation.CommonPasswordValidator"},
    {"NAME": "django.contrib.auth.password_validation.UserAttributeSimilarityValidator"},
]

LANGUAGE_CODE = "en-us"
USE_I18N = False
USE_TZ = True
TIME_ZONE = "UTC"

STATIC_URL = "static/"
STATIC_ROOT = DATA_DIR / "static"
STATIC_ROOT.mkdir(exist_ok=True)
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if DEBUG
        else "studio.static_files.HashedFiles"
    },
}
WHITENOISE_ALLOW_ALL_ORIGINS = False

MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"
SESSION_COOKIE_NAME = "__Host-garlandry" if HTTPS else "garlandry"
CSRF_COOKIE_NAME = "__Host-csrf" if HTTPS else "csrf"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = HTTPS
SESSION_COOKIE_HTTPONLY = CSRF_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Lax"
SECURE_SSL_REDIRECT = HTTPS and env_flag("GARLANDRY_REDIRECT_TO_HTTPS", True)
SECURE_HSTS_SECONDS = 31_536_000 if HTTPS else 0
SECURE_HSTS_INCLUDE_SUBDOMAINS = HTTPS
SECURE_HSTS_PRELOAD = HTTPS
# Only a proxy that always sets this header may stand in front, so trusting it has to be asked for.
if env_flag("GARLANDRY_BEHIND_PROXY", False):
    SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https")
SECURE_REFERRER_POLICY = "same-origin"
X_FRAME_OPTIONS = "DENY"
CSRF_FAILURE_VIEW = "studio.errors.csrf_failure"


def mail_server() -> MailServer | None:
    """Where letters are handed over. The demo has none and prints them."""
    try:
        return None if DEMO else server_from(os.environ)
    except MailServerError as error:
        raise ImproperlyConfigured(str(error)) from None


MAIL_SERVER = mail_server()
# Links in letters begin with it. Without it they begin as the address does that the page was asked under, and letters
# that no page asks for (reminders) have no link to give.
SITE_ADDRESS = os.environ.get("GARLANDRY_ADDRESS", "").rstrip("/")

DATA_UPLOAD_MAX_MEMORY_SIZE = 2_621_440
DATA_UPLOAD_MAX_NUMBER_FIELDS = 2_000
FILE_UPLOAD_HANDLERS = [
    "studio.uploads.NoMoreThanAPhoto",
    "django.core.files.uploadhandler.MemoryFileUploadHandler",
    "django.core.files.uploadhandler.TemporaryFileUploadHandler",
]

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "filters": {"links": {"()": "studio.logs.MaskLinkTokens"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "filters": ["links"]}},
    "root": {"handlers": ["console"], "level": "WARNING"},
    # The development server writes an access log of its own; links are masked in it too.
    "loggers": {"django.server": {"handlers": ["console"], "level": "INFO", "propagate": False}},
}
