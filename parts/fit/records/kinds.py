"""The kinds of field that a record of the sheet has, besides its numbers (`parts.fit.inputs`)."""

from dataclasses import field
from typing import Any


def part(cls: type[Any], label: str) -> Any:
    """A nested record, always there although its numbers may be unknown."""
    return field(default=None, metadata={"part": cls, "label": label})


def optional(cls: type[Any], label: str) -> Any:
    """A nested record that may be absent altogether (the seconds hand of a watch with two)."""
    return field(default=None, metadata={"part": cls, "label": label, "optional": True})


def feature(cls: type[Any], label: str) -> Any:
    """A nested record of what a part may have: None where nobody looked, False where there is none."""
    return field(default=None, metadata={"part": cls, "label": label, "optional": True, "feature": True})


def flag_or(cls: type[Any], label: str) -> Any:
    """A nested record of what a part may have, or true where it is only said to be there; else false."""
    return field(default=False, metadata={"part": cls, "label": label, "optional": True, "feature": True, "flag": True})


def rows(cls: type[Any], label: str, absent: tuple[()] | None = None) -> Any:
    """A list of records; `absent` is what an absent key means."""
    return field(default=None, metadata={"rows": cls, "label": label, "absent": absent})


def pairs(cls: type[Any], label: str) -> Any:
    """A list of records of two numbers each, written as pairs: [[radius, height], ...]; absent, there is none."""
    return field(default=None, metadata={"rows": cls, "label": label, "absent": (), "pairs": True})


def points(label: str) -> Any:
    """The points of an outline, [[x, y], ...], as they were drawn or scanned: without plus-minus."""
    return field(default=None, metadata={"points": True, "label": label})


def by_name(cls: type[Any], label: str) -> Any:
    """Records under names that the sheet gives them: {name: record}; each carries its name."""
    return field(default=None, metadata={"rows": cls, "label": label, "absent": (), "by_name": True})


def named(label: str) -> Any:
    """What tells one row from another: words of whoever wrote the sheet."""
    return field(default="", metadata={"text": True, "label": label})


def choice(label: str, options: tuple[str, ...], default: str | None = None) -> Any:
    return field(default=default, metadata={"choice": options, "label": label})


def yes_no(label: str) -> Any:
    return field(default=False, metadata={"yes_no": True, "label": label})
