"""What somebody changed on the page of a saved fit check and did not save: there again when they come back to it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.http import QueryDict

from parts.models.pairing import OTHER_HANDS, PARTS, TRIED
from parts.pairings.worksheet import PREFIX

if TYPE_CHECKING:
    from django.http import HttpRequest

_KEY = "unsaved fit checks"
_MOST = 10
"""Fit checks of which a session remembers the changes; those before them are forgotten."""
_FIELDS = frozenset((*PARTS, *OTHER_HANDS, *TRIED, "no_seconds_hand", "placement", "name", "notes"))


def remember(request: HttpRequest, pk: int, data: QueryDict) -> None:
    """Remember what the page's form says now."""
    fields = {name: text for name, text in data.items() if name in _FIELDS or (name.startswith(PREFIX) and text)}
    others = {key: value for key, value in request.session.get(_KEY, {}).items() if key != str(pk)}
    latest = dict(list(others.items())[-(_MOST - 1) :])
    request.session[_KEY] = latest | {str(pk): fields}


def remembered(request: HttpRequest, pk: int) -> QueryDict | None:
    """What the page's form said when it was left; None where nothing was changed."""
    fields = request.session.get(_KEY, {}).get(str(pk))
    if fields is None:
        return None
    data = QueryDict(mutable=True)
    data.update(fields)
    return data


def forget(request: HttpRequest, pk: int) -> None:
    """Forget the changes: they are saved, or discarded."""
    if str(pk) in request.session.get(_KEY, {}):
        request.session[_KEY] = {key: value for key, value in request.session[_KEY].items() if key != str(pk)}
