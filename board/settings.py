"""Settings. With no environment at all: one machine, SQLite, files on disk, an embedded broker. See README, "Grown"."""

from contextlib import suppress
from pathlib import Path

import environ

from board.embedded_broker.run_folder import socket_url
from board.upload_limits import UploadLimits

BASE_DIR = Path(__file__).resolve().parent.parent
env = environ.Env()

# Everything that the program writes lies in one folder, and no other account of the machine reads it.
VAR_DIR = Path(env("UNDERBLUE_VAR", default=str(BASE_DIR / ".var")))
VAR_DIR.mkdir(mode=0o700, parents=True, exist_ok=True)
if VAR_DIR.resolve().is_relative_to(BASE_DIR):  # one from before; of a folder elsewhere whoever made it decides
    with suppress(PermissionError):
        VAR_DIR.chmod(0o700)

DEBUG = env.bool("UNDERBLUE_DEBUG", default=False)
SECRET_FILE = VAR_DIR / "secret_key"


def kept_secret() -> str:
    """One secret for this machine, made at the first start; a grown set-up gives its own."""
    from django.core.management.utils import get_random_secret_key

    if not SECRET_FILE.exists():
        SECRET_FILE.touch(mode=0o600)
        SECRET_FILE.write_text(get_random_secret_key())
    return SECRET_FILE.read_text()


SECRET_KEY = env("UNDERBLUE_SECRET_KEY", default="") or kept_secret()
ALLOWED_HOSTS = env.list("UNDERBLUE_HOSTS", default=["localhost", "127.0.0.1", "[::1]", "testserver"])
CSRF_TRUSTED_ORIGINS = env.list("UNDERBLUE_ORIGINS", default=[])
HTTPS = env.bool("UNDERBLUE_HTTPS", default=False)

INSTALLED_APPS = [
    "django.contrib.admin",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
    "rest_framework",
    "django_filters",
    "drf_spectacular",
    "lucide",
    "board.apps.BoardConfig",
    "api.apps.ApiConfig",
]
MIDDLEWARE = [
    "django.middleware.security.SecurityMiddleware",
    "board.static_first.FilesFoundOnce",
    "board.content_security.ContentSecurityMiddleware",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.middleware.csrf.CsrfViewMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django.contrib.messages.middleware.MessageMiddleware",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]
ROOT_URLCONF = "board.urls"
ASGI_APPLICATION = "board.asgi.application"
WSGI_APPLICATION = "board.wsgi.application"
TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "APP_DIRS": True,
        "OPTIONS": {
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
            ]
        },
    }
]

# SQLite under several writers needs all four: without them "database is locked" comes up at once.
SQLITE_OPTIONS = {
    "transaction_mode": "IMMEDIATE",
    "timeout": 20,
    "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=NORMAL;",
}
DATABASES = {"default": env.db("DATABASE_URL", default=f"sqlite:///{VAR_DIR / 'board.sqlite3'}")}
if DATABASES["default"]["ENGINE"].endswith("sqlite3"):
    DATABASES["default"]["OPTIONS"] = SQLITE_OPTIONS
    # Tests run against a file too: an in-memory database cannot be shared with a worker process.
    DATABASES["default"]["TEST"] = {"NAME": str(VAR_DIR / "test.sqlite3")}
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

PASSWORD_HASHERS = ["django.contrib.auth.hashers.Argon2PasswordHasher", "django.contrib.auth.hashers.PBKDF2PasswordHasher"]
AUTHENTICATION_BACKENDS = [
    "board.slow_guessing.RefusesTooMany", "django.contrib.auth.backends.ModelBackend", "board.slow_guessing.CountsFailures",
]
SIGN_IN_RATE = env("UNDERBLUE_SIGN_IN_RATE", default="20/min")
# How many proxies of ours stand before it: only what they say of a client's address is believed.
PROXIES = env.int("UNDERBLUE_PROXIES", default=0)
AUTH_PASSWORD_VALIDATORS = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in ("UserAttributeSimilarityValidator", "MinimumLengthValidator", "CommonPasswordValidator")
]
LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "boards"
LOGOUT_REDIRECT_URL = "sign-in"
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = HTTPS
SECURE_HSTS_SECONDS = 31_536_000 if HTTPS else 0
SECURE_PROXY_SSL_HEADER = ("HTTP_X_FORWARDED_PROTO", "https") if HTTPS else None
SESSION_COOKIE_SAMESITE = CSRF_COOKIE_SAMESITE = "Lax"
X_FRAME_OPTIONS = "DENY"
SECURE_CONTENT_TYPE_NOSNIFF = True

USE_TZ = True
TIME_ZONE = env("UNDERBLUE_TIME_ZONE", default="UTC")

STATIC_URL = "static/"
STATIC_ROOT = VAR_DIR / "static"
STATICFILES_DIRS = [BASE_DIR / "static"]
STATICFILES_FINDERS = [
    "django.contrib.staticfiles.finders.FileSystemFinder",
    "django.contrib.staticfiles.finders.AppDirectoriesFinder",
    "board.font_files.FontFinder",
]
STORAGES = {
    "default": {"BACKEND": "board.file_storage.WholeFileStorage", "OPTIONS": {"location": str(VAR_DIR / "files")}},
    "staticfiles": {"BACKEND": "board.static_storage.HashedStaticStorage"},
}
if env("UNDERBLUE_S3_BUCKET", default=""):
    STORAGES["default"] = {
        "BACKEND": "storages.backends.s3.S3Storage",
        "OPTIONS": {"bucket_name": env("UNDERBLUE_S3_BUCKET"), "endpoint_url": env("UNDERBLUE_S3_ENDPOINT", default=None)},
    }

# Uploads are written to disk as they arrive; only small form fields are held in memory.
FILE_UPLOAD_HANDLERS = ["board.limited_upload.LimitedUploadHandler"]
UPLOAD_LIMITS = UploadLimits(
    most_bytes=env.int("UNDERBLUE_UPLOAD_MB", default=200) * 1024 * 1024,
    longest_side_px=env.int("UNDERBLUE_LONGEST_SIDE_PX", default=30_000),
    most_pixels=env.int("UNDERBLUE_MOST_MEGAPIXELS", default=120) * 1_000_000,
)
FILE_UPLOAD_TEMP_DIR = str(VAR_DIR / "incoming")
Path(FILE_UPLOAD_TEMP_DIR).mkdir(exist_ok=True)

REST_FRAMEWORK = {
    "DEFAULT_AUTHENTICATION_CLASSES": [
        "api.token_authentication.TokenAuthentication",
        "api.session_authentication.SessionAuthentication",
    ],
    "DEFAULT_PERMISSION_CLASSES": ["rest_framework.permissions.IsAuthenticated"],
    "DEFAULT_PAGINATION_CLASS": "api.paging.Paging",
    "DEFAULT_FILTER_BACKENDS": ["api.choices.StrictFilters"],
    "DEFAULT_RENDERER_CLASSES": ["rest_framework.renderers.JSONRenderer"],
    "DEFAULT_PARSER_CLASSES": ["api.json_body.JsonBody"],
    "URL_FORMAT_OVERRIDE": None,  # Accept says what is wanted
    "DEFAULT_SCHEMA_CLASS": "drf_spectacular.openapi.AutoSchema",
    "EXCEPTION_HANDLER": "api.problems.problem_from_exception",
    "NUM_PROXIES": PROXIES,
    "DEFAULT_THROTTLE_RATES": {"sign-in": SIGN_IN_RATE},
    "TEST_REQUEST_DEFAULT_FORMAT": "json",
}
SPECTACULAR_SETTINGS = {
    "TITLE": "Underblue",
    "DESCRIPTION": "A review board for comic pages: notes pinned on panels, every upload measured.",
    "VERSION": "1",
    "OAS_VERSION": "3.1.0",
    "SERVE_INCLUDE_SCHEMA": False,
    "COMPONENT_SPLIT_REQUEST": True,
    "SCHEMA_PATH_PREFIX": "/api/v1",
    "POSTPROCESSING_HOOKS": [],  # enums stay where they are used: their own components would get names by chance
}

# With REDIS_URL set, that server carries the messages; without, the embedded broker on a socket in VAR_DIR.
REDIS_URL = env("REDIS_URL", default="")
BROKER_URL = REDIS_URL or socket_url(VAR_DIR)
WORKER_PROCESSES = env.int("UNDERBLUE_WORKER_PROCESSES", default=2)
# A worker that was not heard of for this long is taken for dead, and its job is given to another.
HEARTBEAT_SECONDS = env.float("UNDERBLUE_HEARTBEAT_SECONDS", default=5)
DEAD_AFTER_SECONDS = env.float("UNDERBLUE_DEAD_AFTER_SECONDS", default=20)
LOST_AFTER_SECONDS = env.float("UNDERBLUE_LOST_AFTER_SECONDS", default=15)
SWEEP_SECONDS = env.float("UNDERBLUE_SWEEP_SECONDS", default=5)
MOST_TRIES = env.int("UNDERBLUE_MOST_TRIES", default=3)
JOB_SECONDS = env.float("UNDERBLUE_JOB_SECONDS", default=120)
JOB_MEMORY_MB = env.int("UNDERBLUE_JOB_MEMORY_MB", default=3000)

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "handlers": {"console": {"class": "logging.StreamHandler"}},
    "root": {"handlers": ["console"], "level": env("UNDERBLUE_LOG_LEVEL", default="WARNING")},
}
