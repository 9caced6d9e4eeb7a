"""Finding a part by typing some of its name: a form field that stays quick with thousands of parts.

The field holds the part's key in a hidden input; the list of hits comes from the address `parts:pick` while typing. It
works without a script too: words typed and sent are looked up, and the hits come back as buttons that choose.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django import forms

from parts.library.kinds import KINDS
from parts.library.part_records import find, key_of
from parts.models import Hand, HandSet
from parts.models.pairing import OTHER_HANDS, SMALL_SECONDS

if TYPE_CHECKING:
    from collections.abc import Mapping

    from django.db.models import QuerySet

    from parts.library.kinds import Kind

HITS = 8
"""Parts that are offered at once; more are found by more letters."""
PICK = "pick"
"""A button of this name says "field:key": that part is chosen in that field, none where the key is empty."""


def kind_of(model: type[Any]) -> Kind:
    """The kind of part that a model holds."""
    return next(kind for kind in KINDS.values() if kind.model is model)


def hits(*, kind: Kind, words: str, role: str = "") -> tuple[list[Any], bool]:
    """The parts whose names hold all the words, at most HITS, and whether there are more; only sets with that hand."""
    records = find(kind=kind, words=words)
    if kind.model is HandSet:
        records = with_hand(records, role)
    matching = list(records.prefetch_related(None)[: HITS + 1])
    return matching[:HITS], len(matching) > HITS


def with_hand(records: QuerySet[Any], role: str) -> QuerySet[Any]:
    """The hand sets that have the hand of this role; all where it is none."""
    if role == role_of(SMALL_SECONDS):
        return records.filter(subsidiary__isnull=False)
    if role in Hand.Role.values:
        return records.filter(pk__in=Hand.objects.filter(role=role).values("hand_set"))
    return records


class PartPicker(forms.Widget):
    """The input of a PartField: what is chosen, and a box that looks for another."""

    template_name = "parts/library/_picker.html"

    stays = False
    """Set to True where the page's answers bring the picker along and the one on the page is to stay."""

    def __init__(self, kind: Kind, role: str = "", empty: str = "not chosen") -> None:
        super().__init__()
        self.kind, self.role, self.empty, self.words = kind, role, empty, ""
        self.record: Any = None
        """The record that is known to be chosen, where one is at hand; any other is looked up."""

    def value_from_datadict(self, data: Mapping[str, Any], _files: Any, name: str) -> str:
        self.words = data.get(f"{name}-words", "").strip()
        field, _, key = data.get(PICK, "").partition(":")
        return key if field == name else data.get(name, "")

    def get_context(self, name: str, value: Any, attrs: Any) -> dict[str, Any]:
        chosen = self._chosen(key_of(str(value or "")))
        context = {"kind": self.kind, "role": self.role, "name": name, "chosen": chosen, "empty": self.empty}
        context |= {
            "stays": self.stays,
            "attrs": self.attrs | (attrs or {}),
            "words": self.words if chosen is None else "",
        }
        if context["words"]:
            context["hits"], context["more"] = hits(kind=self.kind, words=self.words, role=self.role)
        return super().get_context(name, value, attrs) | context

    def _chosen(self, key: int | None) -> Any:
        if key is None:
            return None
        if self.record and self.record.pk == key:
            return self.record
        records = self.kind.model.objects
        return (records.select_related("family") if self.kind.has_family else records).filter(pk=key).first()

    def id_for_label(self, id_: str, _index: str | None = None) -> str:
        return f"{id_}-words"


class PartField(forms.ModelChoiceField):
    """One part of the library, found by typing; cleans to the record, as a select of all would."""

    def __init__(self, queryset: QuerySet[Any], *, role: str = "", empty: str = "not chosen", **kwargs: Any) -> None:
        kwargs.setdefault("required", False)
        super().__init__(queryset, widget=PartPicker(kind_of(queryset.model), role, empty), **kwargs)
        self.error_messages["invalid_choice"] = "That part is no longer in the library. Choose another."

    def clean(self, value):
        record = super().clean(value)
        words = self.widget.words
        if record is None and words:
            matching, more = hits(kind=self.widget.kind, words=words, role=self.widget.role)
            if len(matching) == 1 and not more:
                return matching[0]
            raise forms.ValidationError(
                f"Choose one of the {self.widget.kind.plural} found for “{words}”, or clear the box."
                if matching
                else f"No {self.widget.kind.singular} found for “{words}”. Try fewer letters, or clear the box.",
                code="not_picked",
            )
        return record


def role_of(field: str) -> str:
    """The hand that a field of a pairing asks a set for; empty for any other part."""
    return field.removesuffix("_hand_from") if field in OTHER_HANDS else ""
