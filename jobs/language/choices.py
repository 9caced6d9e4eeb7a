"""Which languages there are, and which one holds."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.utils import translation

if TYPE_CHECKING:
    from contextlib import AbstractContextManager

LANGUAGES = (("en", "English"), ("de", "German"), ("fr", "French"), ("es", "Spanish"), ("ja", "Japanese"))
"""Codes with their names; the pages' own language is English."""
PLAIN = "en"
"""The language that everything is written in first."""
CODES = tuple(code for code, _ in LANGUAGES)


def settled(*wanted: str) -> str:
    """The first of these codes that is a language of ours; English where none is."""
    return next((code for code in wanted if code in CODES), PLAIN)


def speaking(language: str) -> AbstractContextManager[None]:
    """A context in which words, numbers and dates come in that language."""
    return translation.override(settled(language))


def spoken() -> str:
    """The code of the language that is spoken now; the pages' own is English."""
    return settled((translation.get_language() or "").partition("-")[0])


def language_name(code: str) -> str:
    """The name of a language as the pages call it."""
    return dict(LANGUAGES)[settled(code)]
