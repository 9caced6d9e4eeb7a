"""Lists in sentences."""

from collections.abc import Iterable


def in_a_sentence(words: Iterable[str]) -> str:
    """Words with commas and one "and": "the case", "the case and the dial", "the case, the dial and the stem"."""
    *first, last = words or [""]
    return f"{', '.join(first)} and {last}" if first else last
