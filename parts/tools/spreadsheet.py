"""Text that a spreadsheet reads as text: what looks like a formula is guarded."""

import re

_RISKY = ("=", "+", "-", "@", "\t", "\r")
_PLAIN_NUMBER = re.compile(r"-?[0-9]+(\.[0-9]+)?")


def guarded(text):
    """The text as it is safe in a spreadsheet: what looks like a formula gets a ' in front."""
    if _PLAIN_NUMBER.fullmatch(text):
        return text
    return f"'{text}" if text.startswith((*_RISKY, "'")) else text


def unguarded(text):
    """The text without the ' that `guarded` put in front."""
    return text[1:] if text[:1] == "'" and text[1:].startswith((*_RISKY, "'")) else text
