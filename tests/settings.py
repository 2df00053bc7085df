"""Settings for tests: a data folder of their own, a cheap hasher, and a real database file."""

import os
import tempfile

os.environ["EVENSIDE_DATA_DIR"] = tempfile.mkdtemp(prefix="evenside-tests-")
os.environ["EVENSIDE_PROFILE"] = "tests"

from studio.settings import *  # noqa: E402, F403
from studio.settings import DATA_DIR, DATABASES, PASSWORD_HASHERS  # noqa: E402

# A file and not memory, so that locks and pragmas are those of the real thing. No flush to disk: speed.
DATABASES["default"]["TEST"] = {"NAME": DATA_DIR / "tests.sqlite3"}
DATABASES["default"]["OPTIONS"]["init_command"] = "PRAGMA journal_mode=TRUNCATE; PRAGMA synchronous=OFF;"
PASSWORD_HASHERS = ["django.contrib.auth.hashers.MD5PasswordHasher", *PASSWORD_HASHERS]
STORAGES = {
    "default": {"BACKEND": "django.core.files.storage.FileSystemStorage"},
    "staticfiles": {"BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"},
}
WHITENOISE_AUTOREFRESH = True
WHITENOISE_USE_FINDERS = True
