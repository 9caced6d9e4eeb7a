"""Entering and changing one record with its rows: the forms of one page, judged and saved together."""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property
from typing import TYPE_CHECKING, Any

from django.db import transaction
from django.utils.translation import gettext_lazy as lazy

from parts.dimensions.cards import unusual
from parts.dimensions.field import refused_words
from parts.dimensions.in_hand import NOTHING_IN_HAND, InHand
from parts.library.entries import EntryGroup, Fault, entries_of, faults_of
from parts.library.forms import FROM_FILE, HandForm
from parts.library.part_records import key_of
from parts.library.rows import RowEntries, with_room
from parts.models import Case, Hand
from parts.sheets import contradiction, doubts_among
from parts.tools.stale_guard import refuse_stale, stamp_of

if TYPE_CHECKING:
    from parts.library.kinds import Kind


AUTO_ID = "id_%s"
"""How the inputs of a page are numbered; a form within another page needs its own way."""


class Editor:
    """The page's forms for one record of a kind.

    Pass `data` (a POST) to judge and save; `add_row` names a list that gets one more empty row instead. `stamp` is the
    stamp of what is saved now, `hand` the instrument that bare numbers are taken with; `sees_money` shows the cost.
    `files` are the drawings that outlines are read from, `into` the key of the case that a new part is for. `auto_id`
    is how its inputs are called, for a form within a page that has others.
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
        auto_id: str = AUTO_ID,
        files: Any = None,
        into: str = "",
    ) -> None:
        self.into = into
        self.kind, self.record, self.hand, self.auto_id = kind, record, hand, auto_id
        data = with_room(data, add_row) if add_row else data
        self.form = kind.form(data, files, instance=record, hand=hand, sees_money=sees_money, auto_id=auto_id)
        self.rows = {
            spec.name: RowEntries(
                spec, record=record, data=data, room=0 if record.pk else spec.room, hand=hand, auto_id=auto_id
            )
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
        elif data is None:
            self._focus_first_field()

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
            self.tell_doubts()
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
        shown = [self._group(group) for group in self.kind.groups]
        return [group for group in shown if group.group.only in ("", self._construction) or group.is_filled]

    @cached_property
    def _construction(self):
        """From which side the case is loaded: this one, or one that the part goes into in some fit check."""
        if "loading" in self.form.fields:
            return self.form["loading"].value()
        constructions = {group.wanted_by for group in self.kind.groups} - {""}
        if not constructions:
            return ""
        if not self.record.pk:
            case = Case.objects.filter(pk=key_of(self.into)).first() if self.into else None
            return case.loading if case else ""
        pairings = self.record.pairings.filter(case__loading__in=constructions)
        return pairings.values_list("case__loading", flat=True).first() or ""

    @property
    def measured(self):
        """Every dimension on the page."""
        entries = [entry for shown in self.groups for entry in shown.entries]
        entries += [entry for rows in self.rows.values() for _, row in rows.forms for entry in row]
        return [entry for entry in entries if entry.dimension]

    @property
    def has_wrong_source(self):
        return any(group.has_wrong_source for group in self.groups)

    @property
    def in_all(self):
        """How many numbers are to be looked at, for who does not see the page."""
        wrong = sum(bool(entry.wrong) for entry in self.measured)
        doubted = sum(bool(entry.doubts) for entry in self.measured)
        counts = [f"{wrong} to correct" if wrong else "", f"{doubted} to look at again" if doubted else ""]
        return ", ".join(filter(None, counts))

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
            names = [name for own in group.fields for name in (own, f"{own}{FROM_FILE}")]
            entries = entries_of(self.form, [name for name in names if name in self.form.fields])
        if group.wanted_by and group.wanted_by == self._construction:
            group = replace(group, seldom=())
        return EntryGroup(group, entries, self.rows.get(group.rows))

    def _plain_forms(self):
        return [self.form, *self.hands.values()]

    def _hand_forms(self, data):
        there = {hand.role: hand for hand in self.record.hands.all()} if self.record.pk else {}
        self.form.fields["has_seconds"].initial = not self.record.pk or Hand.Role.SECONDS in there
        return {
            role: HandForm(
                data, instance=there.get(role, Hand(role=role)), prefix=role, hand=self.hand, auto_id=self.auto_id
            )
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
                lazy(
                    "You entered the {label} of a seconds hand. Tick that there is one, or clear its dimensions."
                ).format(label=label),
            )
            return False
        return True

    def _record_lists(self):
        for rows in self.rows.values():
            if rows.spec.flag and rows.there:
                setattr(self.form.instance, rows.spec.flag, True)

    def look(self):
        """Judge what is typed so far: faults and contradictions on their fields, and what is only unlikely."""
        for judged in [*self._plain_forms(), *(rows.formset for rows in self.rows.values())]:
            judged.is_valid()
        self._record_lists()
        self._no_contradiction()
        self.tell_doubts()

    def tell_doubts(self):
        """Put what is only unlikely to its fields; it blocks nothing."""
        for doubt in doubts_among(self.form.instance, **self._lists):
            form, name = self._place(doubt.inputs[0])
            if name:
                form.doubts.setdefault(name, []).append(doubt.sentence)
        measured = [*self._plain_forms(), *(form for rows in self.rows.values() for form in rows.there)]
        for form in measured:
            for name, dimension in form.instance.dimensions.items():
                value, path = getattr(form.instance, name), form.fields[name].path
                if value is not None and name not in form.doubts and (name not in form.errors):
                    form.doubts |= {name: [text]} if (text := unusual(path, value, unit=dimension.input.unit)) else {}

    @property
    def _lists(self):
        """The rows that a part has, and the hands of a set, as they are typed."""
        lists = {name: [form.instance for form in rows.there] for name, rows in self.rows.items()}
        if self.hands:
            has_seconds = self.form["has_seconds"].value()
            lists["hands"] = [form.instance for role, form in self.hands.items() if role != "seconds" or has_seconds]
        return lists

    def _no_contradiction(self):
        error = contradiction(self.form.instance, **self._lists)
        if error is None:
            return True
        form, name = self._place(error.key)
        if name not in form.errors:
            form.add_error(name, refused_words(error))
        return False

    def _place(self, path):
        """The form and field that a path of the sheet was typed into."""
        for role, form in self.hands.items():
            if path.startswith(f"hands.{role}."):
                return form, path.rpartition(".")[2]
        for name, rows in self.rows.items():
            if f".{name}[" in path:
                index = int(path.partition("[")[2].partition("]")[0])
                return rows.there[index], path.rpartition(".")[2]
        part = self.form.instance
        names = [name for name, dimension in part.dimensions.items() if dimension.path == path]
        names += [name for name, piece in part.pieces.items() if path.startswith((f"{piece.path}.", f"{piece.path}["))]
        return self.form, next(iter(names), None)

    def _focus_first_field(self):
        """The name of a new part, else the first number."""
        entries = [entry for shown in self.groups for entry in shown.leading if entry.dimension]
        first = entries[0].field if entries and self.form.instance.name else self.form["name"]
        first.field.widget.attrs["autofocus"] = True

    def _focus_last_row(self, name):
        forms = self.rows[name].formset.forms if name in self.rows else []
        if forms:
            next(iter(forms[-1].fields.values())).widget.attrs["autofocus"] = True
