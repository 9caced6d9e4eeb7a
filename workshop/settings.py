"""Django's settings for one workshop: the demo or a person's own.

The environment decides: DIALSIDE_DEMO=1 serves the demo, DIALSIDE_DATA moves the data folder,
DIALSIDE_DATABASE puts one's own workshop on PostgreSQL, DIALSIDE_FILES its files into S3-compatible storage,
DIALSIDE_LAN=1 serves it encrypted on the bench's network (or names the address there), DIALSIDE_PROXY is the address of
a proxy on this machine that does, DIALSIDE_BACKUP_PASSPHRASE_FILE encrypts backups, DIALSIDE_MAIL names the shop's mail
server, DIALSIDE_DEBUG=1 is for developers.
"""

import os
import sys
from pathlib import Path
from typing import Any

import dj_database_url
import tzlocal

from workshop.mail import MailSettingError, mail_server
from workshop.safekeeping.filestore import FilesSettingError, file_storage
from workshop.secret import secret_key
from workshop.serving.lan import NoNetwork, lan_address, lan_hosts
from workshop.serving.proxy import HEALTH, WrongAddress, proxied_host

BASE_DIR = Path(__file__).resolve().parent.parent

DEBUG = os.environ.get("DIALSIDE_DEBUG") == "1"
DIALSIDE_DEMO = os.environ.get("DIALSIDE_DEMO") == "1"
DIALSIDE_DATA = Path(os.environ.get("DIALSIDE_DATA") or BASE_DIR / "data").resolve()
DIALSIDE_BACKUP_PASSPHRASE_FILE = os.environ.get("DIALSIDE_BACKUP_PASSPHRASE_FILE", "")
DIALSIDE_FOLDER = DIALSIDE_DATA / ("demo" if DIALSIDE_DEMO else "workshop")

try:
    SECRET_KEY = secret_key(DIALSIDE_FOLDER)
except OSError as error:
    sys.exit(
        f"Dialside cannot use its data folder: {error.strerror}, {error.filename or DIALSIDE_FOLDER}. Make it a folder "
        "that Dialside's user may write, or name another in DIALSIDE_DATA."
    )
try:
    DIALSIDE_LAN = lan_address(os.environ["DIALSIDE_LAN"]) if os.environ.get("DIALSIDE_LAN") else ""
except NoNetwork as error:
    sys.exit(f"Dialside cannot start. {error}")
DIALSIDE_PROXY = os.environ.get("DIALSIDE_PROXY", "").rstrip("/")
ON_NETWORK = bool(DIALSIDE_LAN or DIALSIDE_PROXY)
if ON_NETWORK and DIALSIDE_DEMO:
    sys.exit("Dialside cannot start. The demo signs its visitor in by itself, so it is served on this machine only.")
if DIALSIDE_LAN and DIALSIDE_PROXY:
    sys.exit("Dialside cannot start. Behind a proxy it is the proxy that serves the network: start without LAN.")
ALLOWED_HOSTS = ["127.0.0.1", "localhost", "[::1]"]
if DIALSIDE_LAN:
    ALLOWED_HOSTS = lan_hosts(DIALSIDE_LAN)
elif DIALSIDE_PROXY:
    try:
        ALLOWED_HOSTS = [proxied_host(DIALSIDE_PROXY), "127.0.0.1"]
    except WrongAddress as error:
        sys.exit(f"Dialside cannot start. {error}")

INSTALLED_APPS = [
    "workshop",
    "parts",
    "jobs",
    "django_htmx",
    "django.forms",
    "workshop.apps.MaintenanceConfig",
    "django.contrib.auth",
    "django.contrib.contenttypes",
    "django.contrib.sessions",
    "django.contrib.messages",
    "django.contrib.staticfiles",
]

MIDDLEWARE = [
    "workshop.serving.proxy.BehindProxy",
    "django.middleware.security.SecurityMiddleware",
    "whitenoise.middleware.WhiteNoiseMiddleware",
    "workshop.requests.middleware.ContentSecurityPolicy",
    "workshop.outside_errors.TellTroubles",
    "django.contrib.sessions.middleware.SessionMiddleware",
    "django.middleware.common.CommonMiddleware",
    "django.contrib.auth.middleware.AuthenticationMiddleware",
    "django_htmx.middleware.HtmxMiddleware",
    "workshop.requests.middleware.DemoSignIn",
    "workshop.requests.middleware.Devices",
    "django.contrib.messages.middleware.MessageMiddleware",
    "workshop.requests.access.Access",
    "workshop.requests.middleware.NoStore",
    "django.middleware.csrf.CsrfViewMiddleware",
    "workshop.requests.proof.Proof",
    "workshop.requests.double_submit.Once",
    "workshop.requests.quota.Quotas",
    "django.middleware.clickjacking.XFrameOptionsMiddleware",
]

ROOT_URLCONF = "workshop.urls"

TEMPLATES = [
    {
        "BACKEND": "django.template.backends.django.DjangoTemplates",
        "DIRS": [BASE_DIR / "templates"],
        "APP_DIRS": True,
        "OPTIONS": {
            "builtins": ["django.templatetags.i18n"],
            "context_processors": [
                "django.template.context_processors.request",
                "django.contrib.auth.context_processors.auth",
                "django.contrib.messages.context_processors.messages",
                "workshop.requests.navigation.navigation",
                "workshop.requests.access.seen_by",
                "workshop.safekeeping.backup_failure.for_pages",
            ],
        },
    },
]
FORM_RENDERER = "workshop.renderer.Renderer"

DATABASES: dict[str, Any]
if os.environ.get("DIALSIDE_DATABASE") and not DIALSIDE_DEMO:
    DATABASES = {
        "default": dj_database_url.parse(os.environ["DIALSIDE_DATABASE"], conn_max_age=600, conn_health_checks=True)
    }
else:
    DATABASES = {
        "default": {
            "ENGINE": "django.db.backends.sqlite3",
            "NAME": DIALSIDE_FOLDER / "dialside.sqlite3",
            "CONN_MAX_AGE": None,
            "OPTIONS": {
                "timeout": 20,
                "transaction_mode": "IMMEDIATE",
                # FULL: a write that was answered survives a power cut too, not only a killed process.
                "init_command": "PRAGMA journal_mode=WAL; PRAGMA synchronous=FULL;",
            },
        }
    }
DEFAULT_AUTO_FIELD = "django.db.models.BigAutoField"

LOGIN_URL = "sign-in"
LOGIN_REDIRECT_URL = "jobs:bench"
LOGOUT_REDIRECT_URL = "sign-in"
AUTH_PASSWORD_VALIDATORS: list[dict[str, Any]] = [
    {"NAME": f"django.contrib.auth.password_validation.{name}"}
    for name in (
        "UserAttributeSimilarityValidator",
        "CommonPasswordValidator",
        "NumericPasswordValidator",
    )
]
AUTH_PASSWORD_VALIDATORS += [
    {"NAME": "django.contrib.auth.password_validation.MinimumLengthValidator", "OPTIONS": {"min_length": 10}}
]

SESSION_ENGINE = "workshop.accounts.sessions"
SESSION_COOKIE_AGE = 12 * 3600
SESSION_EXPIRE_AT_BROWSER_CLOSE = True

# The demo and one's own workshop share the host name, so their cookies need names of their own.
# On the network they are bound to TLS and to this one host, which their prefix has browsers hold.
_PREFIX = "__Host-" if ON_NETWORK else ""
SESSION_COOKIE_NAME = f"{_PREFIX}dialside_{DIALSIDE_FOLDER.name}_session"
CSRF_COOKIE_NAME = f"{_PREFIX}dialside_{DIALSIDE_FOLDER.name}_csrf"
CSRF_COOKIE_HTTPONLY = True
SESSION_COOKIE_SECURE = CSRF_COOKIE_SECURE = SECURE_SSL_REDIRECT = ON_NETWORK
SECURE_REDIRECT_EXEMPT = [f"^{HEALTH[1:]}$"] if DIALSIDE_PROXY else []

# One hour: browsers keep to TLS while the workshop is used, and a renewed certificate locks nobody out for longer.
SECURE_HSTS_SECONDS = 3600 if ON_NETWORK else 0
# On this machine only, nothing leaves it: no TLS, so none of what asks for it (HSTS, redirect, secure cookies). On the
# network the host is an address or this machine's own name: it has no subdomains, and no list to be preloaded from.
SILENCED_SYSTEM_CHECKS = (
    ["security.W005", "security.W021"]
    if ON_NETWORK
    else ["security.W004", "security.W008", "security.W012", "security.W016"]
)

STATIC_URL = "/static/"
STATIC_ROOT = DIALSIDE_FOLDER / "static"
STATICFILES_DIRS = [BASE_DIR / "static"]
MEDIA_ROOT = DIALSIDE_FOLDER / "files"
DIALSIDE_FILES = "" if DIALSIDE_DEMO else os.environ.get("DIALSIDE_FILES", "")
try:
    _FILES = file_storage(DIALSIDE_FILES)
except FilesSettingError as error:
    sys.exit(f"Dialside cannot start. {error}")
# More than any page takes, so that the page itself says how many it does.
DATA_UPLOAD_MAX_NUMBER_FILES = 500
FILE_UPLOAD_PERMISSIONS, FILE_UPLOAD_DIRECTORY_PERMISSIONS = 0o600, 0o700
STORAGES = {
    "default": _FILES,
    "staticfiles": {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
        if DEBUG
        else "whitenoise.storage.CompressedManifestStaticFilesStorage"
    },
}

try:
    _MAIL = mail_server(
        "" if DIALSIDE_DEMO else os.environ.get("DIALSIDE_MAIL"), os.environ.get("DIALSIDE_MAIL_PASSWORD_FILE")
    )
except MailSettingError as error:
    sys.exit(f"Dialside cannot start. {error}")
EMAIL_HOST, EMAIL_PORT, EMAIL_HOST_USER, EMAIL_HOST_PASSWORD = _MAIL.host, _MAIL.port, _MAIL.user, _MAIL.password
EMAIL_USE_TLS, EMAIL_USE_SSL, DEFAULT_FROM_EMAIL = _MAIL.tls, _MAIL.ssl, _MAIL.sender
EMAIL_TIMEOUT = 15

LANGUAGE_CODE = "en-gb"
TIME_ZONE = tzlocal.get_localzone_name() or "UTC"
USE_TZ = True

LOGGING = {
    "version": 1,
    "disable_existing_loggers": False,
    "formatters": {"impersonal": {"()": "workshop.log.Impersonal"}},
    "handlers": {
        "console": {"class": "logging.StreamHandler"},
        "file": {
            "class": "workshop.log.LogFile",
            "filename": DIALSIDE_FOLDER / "dialside.log",
            "maxBytes": 1_000_000,
            "backupCount": 5,
            "delay": True,
            "encoding": "utf-8",
            "formatter": "impersonal",
        },
    },
    "loggers": {
        "django": {"handlers": ["console", "file"], "level": "WARNING", "propagate": False},
        "workshop": {"handlers": ["console", "file"], "level": "WARNING", "propagate": False},
        "django.request": {"level": "ERROR"},
        "django.security.DisallowedHost": {"level": "CRITICAL"},
    },
}
