"""A mail as it is stored, with its head and its parts, as plain lines that a person reads."""

from __future__ import annotations

import html
import re
from email import message_from_string, policy
from typing import TYPE_CHECKING

from django.utils.html import strip_tags

if TYPE_CHECKING:
    from email.message import EmailMessage

_OF_MAIL_ALONE = ("message-id", "mime-version", "content-type", "received")
_HEAD = ("From", "Reply-To", "Date", "Subject")
_ENDS_A_LINE = re.compile(r"<br\s*/?>|</(?:p|div|li|tr|h\d)>", re.IGNORECASE)
_UNSEEN = re.compile(r"<(style|script|head)\b.*?</\1>", re.IGNORECASE | re.DOTALL)


def as_read(words: str) -> str:
    """A mail's source as its reader sees it: From, Reply-To, Date, Subject, then its text; anything else as it is."""
    message = message_from_string(words.lstrip(), policy=policy.default)
    if not (message["from"] and any(message[name] for name in _OF_MAIL_ALONE)):
        return words
    try:
        body = _body(message)
        head = [f"{name}: {str(message[name]).strip()}" for name in _HEAD if message[name]]
    except (LookupError, ValueError, AttributeError):  # a charset or a part that nobody can read
        return words
    return "\n".join([*head, "", body])


def _body(message: EmailMessage) -> str:
    part = message.get_body(("plain", "html"))
    text = str(part.get_content()) if part else ""
    if part and part.get_content_subtype() == "html":
        text = html.unescape(strip_tags(_ENDS_A_LINE.sub("\n", _UNSEEN.sub("", text))))
    return text.replace("\r\n", "\n").strip()
