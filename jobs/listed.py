"""Rows of a list by what they wait for."""

from __future__ import annotations

from collections.abc import Callable, Iterable
from typing import TYPE_CHECKING, Any, NamedTuple

if TYPE_CHECKING:
    from django.db.models import QuerySet

_MOST = 200


class Group(NamedTuple):
    """Rows that wait for the same; `number` counts those that are not listed too."""

    head: str
    rows: list[Any]
    number: int
    is_folded: bool


def groups_of(
    some: Iterable[tuple[str, QuerySet[Any], bool]], *, ready: Callable[[QuerySet[Any]], QuerySet[Any]]
) -> list[Group]:
    """The groups that hold something, of (head, rows, whether it is folded); `ready` adds what a line shows."""
    made = [_group(head, rows, ready(rows), is_folded) for head, rows, is_folded in some]
    return [group for group in made if group.number]


def _group(head, rows, ready, is_folded):
    listed = list(ready[:_MOST])
    return Group(head, listed, len(listed) if len(listed) < _MOST else rows.count(), is_folded)
