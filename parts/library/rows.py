"""The rows of a part on its page: feet, raised markers, foot holes."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.forms import inlineformset_factory

from parts.library.entries import entries_of, row_fields
from parts.library.sketches import SKETCHES

if TYPE_CHECKING:
    from parts.dimensions.in_hand import InHand
    from parts.library.kinds import Rows


class RowEntries:
    """The rows of one list on the page: feet, furniture or foot holes."""

    def __init__(self, spec: Rows, *, record: Any, data: Any, room: int, hand: InHand, auto_id: str) -> None:
        self.spec, self.record = spec, record
        maker: Any = inlineformset_factory(
            type(record), spec.model, form=spec.form, extra=room, max_num=60, absolute_max=80, validate_max=True
        )
        self.formset = maker(data, instance=record, prefix=spec.name, auto_id=auto_id, form_kwargs={"hand": hand})
        for form in self.formset.forms:
            form.fields["DELETE"].label = f"Remove this {spec.singular}"

    @property
    def forms(self):
        return [(form, entries_of(form, row_fields(form))) for form in self.formset.forms]

    @property
    def sketches(self):
        dimensions = self.spec.model.dimensions.values()
        return [(dimension.path, dimension.input, SKETCHES[dimension.path]) for dimension in dimensions]

    @property
    def has_wrong_source(self):
        return any(entry.source and entry.source.errors for _, entries in self.forms for entry in entries)

    def leave_unjudged(self):
        for form in self.formset.forms:
            form.judged = False

    @property
    def there(self):
        """The forms of the rows that are there, or will be after saving."""
        if not self.formset.is_bound:
            return self.formset.initial_forms
        gone = self.formset.deleted_forms
        return [form for form in self.formset.forms if form not in gone and (form.instance.pk or form.has_changed())]


def with_room(data, name):
    """What was sent, with room for one more row of a list."""
    data = data.copy()
    key = f"{name}-TOTAL_FORMS"
    total = data.get(key, "")
    if total.isdecimal() and len(total) < 4:
        data[key] = str(min(int(total) + 1, 60))
    return data
