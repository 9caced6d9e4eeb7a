"""A part with its rows outside the database: what one line of a CSV file holds."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from django.core.exceptions import ValidationError
from django.db import models

from parts.models import CaseFamily, Hand
from parts.sheets import contradiction

if TYPE_CHECKING:
    from parts.library.kinds import Kind


@dataclass
class Draft:
    """A record, saved or not, with its lists by name, its hands by role, its family's name and its cell `taken`."""

    record: models.Model
    lists: dict = field(default_factory=dict)
    hands: dict = field(default_factory=dict)
    family: str = ""
    has_seconds: bool = False
    taken: str = ""


def draft_of(*, kind: Kind, record: Any) -> Draft:
    """The draft of a saved record, whose rows are read already."""
    hands = {hand.role: hand for hand in record.hands.all()} if kind.has_hands else {}
    return Draft(
        record,
        {rows.name: list(getattr(record, rows.name).all()) for rows in kind.rows},
        hands,
        record.family.name if kind.has_family and record.family else "",
        Hand.Role.SECONDS in hands,
    )


def empty_draft(kind):
    """A draft to read one line into."""
    roles = Hand.Role.values if kind.has_hands else []
    return Draft(kind.model(), {rows.name: [] for rows in kind.rows}, {role: Hand(role=role) for role in roles})


def faults_of(*, kind: Kind, draft: Draft) -> list[tuple[str, str]]:
    """What is wrong with a draft as (column, message) pairs; the column is named as in the file."""
    faults = [(name, text) for name, text in _judge(draft.record, "family")]
    for rows in kind.rows:
        for item in draft.lists[rows.name]:
            faults += [(rows.name, text) for _, text in _judge(item, *_links(item))]
    for role, hand in draft.hands.items():
        faults += [(f"{role}_{name}", text) for name, text in _judge(hand, "hand_set")]
    if not draft.has_seconds and _known(draft.hands.get("seconds")):
        faults.append(("has_seconds", "You gave a dimension of the seconds hand. Write yes, or clear it."))
    if not faults and (error := contradiction(draft.record, **_lists(draft))):
        faults.append((_column(kind, draft, error.key), f"{error.reason}; it must be {error.limit}"))
    return faults


def save(*, draft: Draft, families: dict[str, CaseFamily]) -> None:
    """Save a draft with its rows; `families` maps names to families and gets those that are new."""
    record: Any = draft.record
    if draft.family:
        if draft.family not in families:
            families[draft.family] = CaseFamily.objects.create(name=draft.family)
        record.family = families[draft.family]
    record.save()
    for item in [item for items in draft.lists.values() for item in items]:
        setattr(item, _links(item)[0], record)
        item.save()
    for role, hand in draft.hands.items():
        if role != Hand.Role.SECONDS or draft.has_seconds:
            hand.hand_set = record
            hand.save()


def _judge(record, *excluded):
    try:
        record.full_clean(exclude=excluded, validate_unique=False, validate_constraints=False)
    except ValidationError as error:
        return [(name, text) for name, texts in error.message_dict.items() for text in texts]
    return []


def _links(item):
    return [field.name for field in item._meta.fields if field.is_relation]


def _known(hand):
    return hand is not None and any(dimension.text(hand) for dimension in hand.dimensions.values())


def _lists(draft):
    if not draft.hands:
        return draft.lists
    return {"hands": [hand for role, hand in draft.hands.items() if role != "seconds" or draft.has_seconds]}


def _column(kind, draft, path):
    names = [name for name, dimension in draft.record.dimensions.items() if dimension.path == path]
    parts = path.split(".")
    if kind.has_hands:
        return f"{parts[1]}_{parts[2]}"
    return names[0] if names else parts[1].partition("[")[0]
