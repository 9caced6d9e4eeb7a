"""The shop's own mail server, by one setting; without it nothing is ever sent.

The setting reads `smtps://user@host?from=shop@host` (TLS from the start), `smtp+starttls://...` (TLS before anything
is said) or `smtp://...` (no encryption, for a server on this machine); the password stands in a file of its own.
"""

from dataclasses import dataclass
from pathlib import Path
from urllib.parse import parse_qs, unquote, urlsplit

from django.core.exceptions import ValidationError
from django.core.validators import validate_email

_PORTS = {"smtps": 465, "smtp+starttls": 587, "smtp": 25}


class MailSettingError(ValueError):
    """A setting that names no mail server; says what to write."""


@dataclass(frozen=True, slots=True)
class Mail:
    """The server as Django's own settings have it; an empty host sends nothing."""

    host: str = ""
    port: int = 25
    user: str = ""
    password: str = ""
    tls: bool = False
    ssl: bool = False
    sender: str = ""


def mail_server(setting: str | None, password_file: str | None = None) -> Mail:
    """The server that the setting names. Raises MailSettingError."""
    if not setting:
        return Mail()
    try:
        parts = urlsplit(setting)
        more, port = parse_qs(parts.query), parts.port or _PORTS[parts.scheme]
        (sender,) = more.pop("from")
        validate_email(sender)
        if more or not parts.hostname or parts.password or parts.path.strip("/"):
            raise ValueError
    except (KeyError, ValueError, ValidationError) as error:
        raise MailSettingError(
            "DIALSIDE_MAIL cannot be read. Write smtps://user@host?from=shop@host, with smtp+starttls:// in its place "
            "for a server at port 587, and put the password into the file that DIALSIDE_MAIL_PASSWORD_FILE names."
        ) from error
    return Mail(
        host=parts.hostname,
        port=port,
        user=unquote(parts.username or ""),
        password=_password(password_file),
        tls=parts.scheme == "smtp+starttls",
        ssl=parts.scheme == "smtps",
        sender=sender,
    )


def _password(file):
    if not file:
        return ""
    try:
        return Path(file).read_text(encoding="utf-8").strip("\n")
    except OSError as error:
        raise MailSettingError(f"The password's file {file} cannot be read: {error.strerror}.") from error
