"""Settings of the one process that serves the studio. Values come from the data folder or the environment."""

import os
import secrets
from pathlib import Path

from studio.setup.folders import data_folder, make_private

BASE_DIR = Path(__file__).resolve().parent.parent
VERSION = "0.1.0"

PROFILE = os.environ.get("EVENSIDE_PROFILE", "studio")
DATA_DIR = Path(os.environ.get("EVENSIDE_DATA_DIR") or data_folder(PROFILE))
NO_PDF_REASON = os.environ.get("EVENSIDE_NO_PDF", "")


def _secret_key() -> str:
    """Read the folder's own key, or make it on first use. Each data folder has its own."""
    path = DATA_DIR / "secret.key"
    if not path.exists():
        make_private(DATA_DIR)
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
        with os.fdopen(handle, "w") as file:
            file.write(secrets.token_urlsafe(48))
    return path.read_text().strip()


SECRET_KEY = _secret_key()
DEBUG = False
ALLOWED_HOSTS = ["127.0.0.1", "localhost", "[::1]"]

INSTALLED_APPS = [
    "studio.apps.StudioConfig",
    "library.apps.LibraryConfig",
    "clients.apps.ClientsConfig",
    "sessions.apps.SessionsConfig",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.humanize",
    "whitenoise.runserver_nostatic",
    "django.contrib.staticfiles",
    "crispy_forms",
    "crispy_bootstrap5",
    "django_htmx",
    "csp",
]

MIDDLEWARE = [
    "studio.transport.TransportMiddleware",
    "django.middleware.security.SecurityMiddleware",
    "csp.middleware.CSPMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
    "studio.middleware.HeadersMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    # Inside of WhiteNoise, whose files are packed already. It pads each page by chance, and the form token is
    # masked anew each time, so that the length of a page tells nothing.
    "django.middleware.gzip.GZipMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "studio.middleware.StudioMiddleware",
    "studio.middleware.LockMiddleware",
    "studio.middleware.AccessMiddleware",
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
                "django.contrib.messages.context_processors.messages",
                "studio.context.frame",
            ],
        },
    }
]

# One ordinary file, rollback journal: safe on SQLite versions that carry the write-ahead fault
# (3.7.0 to 3.51.2), and one file to copy. IMMEDIATE makes a check and the write after it one step.
DATABASES = {
    "default": {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": DATA_DIR / "evenside.sqlite3",
        "CONN_MAX_AGE": None,
        "OPTIONS": {
            "timeout": 10,
            "transaction_mode": "IMMEDIATE",
            "init_command": "PRAGMA journal_mode=TRUNCATE; PRAGMA synchronous=FULL;",
        },
    }
}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

AUTH_USER_MODEL = "studio.Staff"
AUTHENTICATION_BACKENDS = ["django.contrib.auth.backends.ModelBackend"]
LOGIN_URL = "studio:sign_in"
LOGIN_REDIRECT_URL = "sessions:today"
PASSWORD_HASHERS = ["studio.hashers.StudioArgon2"]
AUTH_PASSWORD_VALIDATORS = [{"NAME": "studio.passphrases.LengthValidator"}]

SESSION_ENGINE = "django.contrib.sessions.backends.db"
SESSION_COOKIE_NAME = f"evenside_{PROFILE}"
SESSION_COOKIE_AGE = 12 * 60 * 60
SESSION_EXPIRE_AT_BROWSER_CLOSE = True
SESSION_COOKIE_HTTPONLY = True
SESSION_COOKIE_SAMESITE = "Lax"
CSRF_COOKIE_NAME = f"evenside_{PROFILE}_form"
CSRF_COOKIE_HTTPONLY = True
CSRF_COOKIE_SAMESITE = "Lax"
CSRF_FAILURE_VIEW = "studio.views.errors.stale_form"
# Names of people must not travel in a cookie.
MESSAGE_STORAGE = "django.contrib.messages.storage.session.SessionStorage"

X_FRAME_OPTIONS = "DENY"
SECURE_CONTENT_TYPE_NOSNIFF = True
SECURE_REFERRER_POLICY = "same-origin"
SECURE_CROSS_ORIGIN_OPENER_POLICY = "same-origin"
CONTENT_SECURITY_POLICY = {
    "DIRECTIVES": {
        "default-src": ["'none'"],
        "script-src": ["'self'"],
        "style-src": ["'self'"],
        "font-src": ["'self'"],
        "connect-src": ["'self'"],
        "img-src": ["'self'", "data:"],
        "object-src": ["'none'"],
        "form-action": ["'self'"],
        "base-uri": ["'none'"],
        "frame-ancestors": ["'none'"],
    }
}

USE_I18N = True
USE_TZ = True
TIME_ZONE = "UTC"
LANGUAGE_CODE = "en-gb"
LANGUAGES = [("en-gb", "English (UK)"), ("en-us", "English (US)"), ("en-au", "English (Australia)")]
LOCALE_PATHS = [BASE_DIR / "studio" / "locale"]

STATIC_URL = "/static/"
STATICFILES_DIRS = [BASE_DIR / "static"]
STATIC_ROOT = DATA_DIR / "static"
# No other site reads our files: the static files are for these pages alone.
WHITENOISE_ALLOW_ALL_ORIGINS = False
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "whitenoise.storage.CompressedManifestStaticFilesStorage"},
}

WHITENOISE_KEEP_ONLY_HASHED_FILES = True
# Fonts and pictures are packed already; packing them again takes seconds and saves nothing.
WHITENOISE_SKIP_COMPRESS_EXTENSIONS = ["woff", "woff2", "ttf", "png", "jpg", "ico"]

CRISPY_ALLOWED_TEMPLATE_PACKS = "bootstrap5"
CRISPY_TEMPLATE_PACK = "bootstrap5"
CRISPY_FAIL_SILENTLY = False

DATA_UPLOAD_MAX_MEMORY_SIZE = 2 * 1024 * 1024

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"line": {"format": "{asctime} {levelname} {name}: {message}", "style": "{"}},
    "handlers": {"console": {"class": "logging.StreamHandler", "formatter": "line"}},
    "root": {"handlers": ["console"], "level": "WARNING"},
}
