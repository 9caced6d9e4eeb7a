"""The mail link of a page: with the entry's code, and the questions that the shop needs answered."""

from __future__ import annotations

from typing import TYPE_CHECKING
from urllib.parse import quote

from django.utils.translation import gettext as _

if TYPE_CHECKING:
    from jobs.window.site import Piece


def mail_link(email: str, piece: Piece) -> str:
    """The link of a piece in the language that is spoken now; what comes back opens the entry by its code."""
    subject = _("About {title}, {code}").format(title=piece.title.plain, code=piece.code)
    body = _(
        "Which watch do you have, as far as you know?\n\n\nWhat would you like?\n\n\nWhat does it do now?\n\n\n"
        "Please attach photos of the front, the back and, if it is open, the inside."
    )
    return f"mailto:{quote(email, safe='@')}?subject={quote(subject)}&body={quote(body)}"
