"""Entering and changing one record with its rows: the forms of one page, judged and saved together."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.forms import inlineformset_factory

from parts.dimensions.in_hand import NOTHING_IN_HAND, InHand
from parts.dimensions.text import show_dimension
from parts.library.entries import EntryGroup, Fault, entries_of, faults_of, row_fields
from parts.library.forms import HandForm
from parts.library.sketches import SKETCHES
from parts.models import Hand
from parts.sheets import contradiction
from parts.tools.stale_guard import refuse_stale, stamp_of

if TYPE_CHECKING:
    from parts.library.kinds import Kind, Rows


class RowEntries:
    """The rows of one list on the page: feet, furniture or foot holes."""

    def __init__(self, spec: Rows, *, record: Any, data: Any, room: int, hand: InHand) -> None:
        self.spec, self.record = spec, record
        maker: Any = inlineformset_factory(
            type(record), spec.model, form=spec.form, extra=room, max_num=60, absolute_max=80, validate_max=True
        )
        self.formset = maker(data, instance=record, prefix=spec.name, form_kwargs={"hand": hand})
        for form in self.formset.forms:
            form.fields["DELETE"].label = f"Remove this {spec.singular}"

    @property
    def forms(self):
        return [(form, entries_of(form, row_fields(form))) for form in self.formset.forms]

    @property
    def sketches(self):
        dimensions = self.spec.model.dimensions.values()
        return [(dimension.input, SKETCHES[dimension.path]) for dimension in dimensions]

    def leave_unjudged(self):
        for form in self.formset.forms:
            form.judged = False

    @property
    def remaining(self):
        """The forms of the rows that will be there after saving."""
        gone = self.formset.deleted_forms
        return [form for form in self.formset.forms if form not in gone and (form.instance.pk or form.has_changed())]


class Editor:
    """The page's forms for one record of a kind.

    Pass `data` (a POST) to judge and save; `add_row` names a list that gets one more empty row instead. `stamp` is the
    stamp of what is saved now, `hand` the instrument that bare numbers are taken with; `sees_money` shows the cost.
    """

    def __init__(
        self,
        *,
        kind: Kind,
        record: Any,
        data: Any = None,
        add_row: str = "",
        hand: InHand = NOTHING_IN_HAND,
        sees_money: bool = False,
    ) -> None:
        self.kind, self.record, self.hand = kind, record, hand
        data = _with_room(data, add_row) if add_row else data
        self.form = kind.form(data, instance=record, hand=hand, sees_money=sees_money)
        self.rows = {
            spec.name: RowEntries(spec, record=record, data=data, room=0 if record.pk else spec.room, hand=hand)
            for spec in kind.rows
        }
        self.hands = self._hand_forms(data) if kind.has_hands else {}
        self.stamp: str = (
            stamp_of(*self._saved_forms())
            if data is None
            else Editor(kind=kind, record=record, sees_money=sees_money).stamp
        )
        if add_row:
            for form in self._plain_forms():
                form.judged = False
            for rows in self.rows.values():
                rows.leave_unjudged()
            self._focus_last_row(add_row)

    def is_valid(self):
        """Judge everything that was typed; False puts every fault on its field."""
        judged = [*self._plain_forms(), *(rows.formset for rows in self.rows.values())]
        sound = not [form for form in judged if not form.is_valid()]
        if self.record.pk and refuse_stale(self.form, self.stamp, self._saved_forms()):
            sound = False
        if sound and self.hands:
            sound = self._seconds_agree()
        if sound:
            self._record_lists()
            sound = self._no_contradiction()
        if not sound:
            self._focus_first_fault()
        return sound

    @transaction.atomic
    def save(self):
        """Save the record with its rows."""
        record = self.form.save()
        for rows in self.rows.values():
            rows.formset.instance = record
            rows.formset.save()
        for role, form in self.hands.items():
            if role == Hand.Role.SECONDS and not self.form.cleaned_data["has_seconds"]:
                record.hands.filter(role=role).delete()
                continue
            form.instance.hand_set = record
            form.save()
        return record

    @property
    def groups(self):
        """The page's groups in the order in which a person measures."""
        return [self._group(group) for group in self.kind.groups]

    @property
    def faults(self):
        """Everything to correct, in the page's order."""
        faults = []
        for shown in self.groups:
            for entry in shown.entries:
                faults += faults_of(entry, prefix=f"{shown.group.title}: " if shown.group.role else "")
            if shown.rows:
                faults += [Fault(shown.group.title, "", text) for text in shown.rows.formset.non_form_errors()]
                for number, (form, entries) in enumerate(shown.rows.forms, start=1):
                    word = f"{shown.rows.spec.singular.capitalize()} {number}: "
                    faults += [Fault(word, "", text) for text in form.non_field_errors()]
                    faults += [fault for entry in entries for fault in faults_of(entry, prefix=word)]
        return [Fault("", "", text) for text in self.form.non_field_errors()] + faults

    def _group(self, group):
        if group.role:
            own = [name for name in group.fields if name in self.form.fields]
            hand = self.hands[group.role]
            entries = entries_of(self.form, own) + entries_of(hand, [n for n in group.fields if n in hand.fields])
        else:
            entries = entries_of(self.form, [name for name in group.fields if name in self.form.fields])
        return EntryGroup(group, entries, self.rows.get(group.rows))

    def _plain_forms(self):
        return [self.form, *self.hands.values()]

    def _hand_forms(self, data):
        there = {hand.role: hand for hand in self.record.hands.all()} if self.record.pk else {}
        self.form.fields["has_seconds"].initial = not self.record.pk or Hand.Role.SECONDS in there
        return {
            role: HandForm(data, instance=there.get(role, Hand(role=role)), prefix=role, hand=self.hand)
            for role in Hand.Role.values
        }

    def _saved_forms(self):
        """The forms of what is saved already: the record's, its hands', its rows'."""
        return [*self._plain_forms(), *(form for rows in self.rows.values() for form in rows.formset.initial_forms)]

    def _seconds_agree(self):
        typed = [name for name in Hand.dimensions if self.hands["seconds"].cleaned_data.get(name) is not None]
        if typed and not self.form.cleaned_data["has_seconds"]:
            label = Hand.dimensions[typed[0]].label
            self.form.add_error(
                "has_seconds",
                f"You entered the {label} of a seconds hand. Tick that there is one, or clear its dimensions.",
            )
            return False
        return True

    def _record_lists(self):
        for rows in self.rows.values():
            if rows.spec.flag and rows.remaining:
                setattr(self.form.instance, rows.spec.flag, True)

    def _no_contradiction(self):
        lists = {name: [form.instance for form in rows.remaining] for name, rows in self.rows.items()}
        if self.hands:
            roles = [role for role in self.hands if role != "seconds" or self.form.cleaned_data["has_seconds"]]
            lists["hands"] = [self.hands[role].instance for role in roles]
        error = contradiction(self.form.instance, **lists)
        if error is None:
            return True
        form, name = self._place(error.key)
        form.add_error(name, f"{show_dimension(error.value)} does not work: {error.reason}. It must be {error.limit}.")
        return False

    def _place(self, path):
        """The form and field that a path of the sheet was typed into."""
        for role, form in self.hands.items():
            if path.startswith(f"hands.{role}."):
                return form, path.rpartition(".")[2]
        for name, rows in self.rows.items():
            if f".{name}[" in path:
                index = int(path.partition("[")[2].partition("]")[0])
                return rows.remaining[index], path.rpartition(".")[2]
        names = (name for name, dimension in self.form.instance.dimensions.items() if dimension.path == path)
        return self.form, next(names, None)

    def _focus_last_row(self, name):
        forms = self.rows[name].formset.forms if name in self.rows else []
        if forms:
            next(iter(forms[-1].fields.values())).widget.attrs["autofocus"] = True

    def _focus_first_fault(self):
        for shown in self.groups:
            rows = [entry for _, entries in shown.rows.forms for entry in entries] if shown.rows else []
            for entry in [*shown.entries, *rows]:
                if entry.field.errors:
                    entry.field.field.widget.attrs["autofocus"] = True
                    return


def _with_room(data, name):
    data = data.copy()
    key = f"{name}-TOTAL_FORMS"
    total = data.get(key, "")
    if total.isdecimal() and len(total) < 4:
        data[key] = str(min(int(total) + 1, 60))
    return data
