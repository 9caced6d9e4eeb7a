"""Whole CSV files: export, check and all-or-nothing import."""

from __future__ import annotations

import csv
import io
from collections.abc import Iterable
from dataclasses import dataclass
from datetime import timedelta
from typing import TYPE_CHECKING, NamedTuple

from django.db import transaction
from django.utils import timezone

from parts.csv import draft as drafts
from parts.csv import taken
from parts.csv.cells import CellError
from parts.csv.columns import columns_of
from parts.library import part_records
from parts.models import CaseFamily, CsvFile
from parts.tools.spreadsheet import guarded, unguarded

if TYPE_CHECKING:
    from django.db.models import Model

    from parts.library.kinds import Kind

MAX_BYTES = 2_000_000
MAX_ROWS = 5_000
KEPT = timedelta(days=2)


class CsvError(ValueError):
    """A file that cannot be read as a whole; says why and what to do."""


class CellFault(NamedTuple):
    """One thing to correct in a file; `row` counts as a spreadsheet does, the headings being row 1."""

    row: int
    column: str
    value: str
    reason: str


@dataclass(frozen=True, slots=True)
class Checked:
    """What a file holds: the drafts that are fine, and every fault."""

    drafts: list
    faults: list

    @property
    def bad_rows(self):
        return len({fault.row for fault in self.faults})


def export(*, kind: Kind, records: Iterable[Model], sees_money: bool = False) -> str:
    """The text of a CSV file with these records, whose rows are read already."""
    columns = columns_of(kind, sees_money=sees_money)
    lines = [[column.heading for column in columns]]
    for record in records:
        draft = drafts.draft_of(kind=kind, record=record)
        lines.append([guarded(column.write(draft)) for column in columns])
    out = io.StringIO(newline="")
    csv.writer(out).writerows(lines)
    return out.getvalue()


def exports(*, kind: Kind, records: Iterable[Model], sees_money: bool = False) -> list[str]:
    """The texts of as many CSV files as it takes for the import to accept each."""
    records = list(records)
    text = export(kind=kind, records=records, sees_money=sees_money)
    if len(records) < 2 or (len(records) <= MAX_ROWS and len(text.encode("utf-8-sig")) <= MAX_BYTES):
        return [text]
    middle = len(records) // 2
    halves = (records[:middle], records[middle:])
    return [text for half in halves for text in exports(kind=kind, records=half, sees_money=sees_money)]


def keep(*, kind: Kind, name: str, data: bytes, sees_money: bool = False) -> CsvFile:
    """Keep an uploaded file's text until it is imported; raises CsvError where it is no such file."""
    if len(data) > MAX_BYTES:
        raise CsvError("This file is larger than 2 MB. Split it into several files.")
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        raise CsvError(
            "This file is not UTF-8 text. Save it from your spreadsheet as “CSV UTF-8” and try again."
        ) from error
    if "\0" in text:
        raise CsvError("This is not a text file. Save it from your spreadsheet as “CSV UTF-8” and try again.")
    _read_lines(kind, text, sees_money)
    CsvFile.objects.filter(created__lt=timezone.now() - KEPT).delete()
    return CsvFile.objects.create(kind=kind.slug, name=name[:200], text=text)


def check(*, kind: Kind, text: str, sees_money: bool = False) -> Checked:
    """Read every row of a file without saving anything; raises CsvError."""
    columns, lines = _read_lines(kind, text, sees_money)
    fine, faults = [], []
    for number, line in lines:
        draft, wrong = _read_line(kind, columns, number, line)
        faults += wrong
        if not wrong:
            fine.append(draft)
    return Checked(fine, faults)


@transaction.atomic
def import_all(*, kind: Kind, file: CsvFile, sees_money: bool = False) -> int:
    """Import every row of a kept file and forget the file; returns how many.

    Raises CsvError, and then imports nothing, where a row is wrong or the file has been imported already.
    """
    if not CsvFile.objects.filter(pk=file.pk).delete()[0]:
        raise CsvError("This file is already imported.")
    checked = check(kind=kind, text=file.text, sees_money=sees_money)
    if checked.faults:
        raise CsvError(f"Nothing imported: {checked.bad_rows} rows need correcting.")
    families = {family.name: family for family in CaseFamily.objects.in_drawers().order_by("-pk")}
    for draft in checked.drafts:
        drafts.save(draft=draft, families=families)
    return len(checked.drafts)


def names_already_there(*, kind: Kind, checked: Checked) -> int:
    """How many of the drafts have a name that the library has already."""
    there = set(part_records.find(kind=kind).values_list("name", flat=True))
    return len([draft for draft in checked.drafts if draft.record.name in there])


def _read_lines(kind, text, sees_money):
    try:
        lines = list(csv.reader(io.StringIO(text, newline=""), delimiter=_delimiter(text), strict=True))
    except csv.Error as error:
        raise CsvError(f"This is not a CSV file ({error}). Save it again from your spreadsheet.") from error
    if not lines or not any(lines[0]):
        raise CsvError("This file has no headings. Row 1 must name the columns; start from the template.")
    columns = _columns(kind, lines[0], sees_money)
    filled = [(number, line) for number, line in enumerate(lines[1:], start=2) if any(map(str.strip, line))]
    if not filled:
        raise CsvError(f"This file has headings but no {kind.singular} below them.")
    if len(filled) > MAX_ROWS:
        raise CsvError(f"This file has {len(filled)} rows, and {MAX_ROWS} is the limit. Split it into several files.")
    return columns, filled


def _delimiter(text):
    first = text.lstrip("\r\n").partition("\n")[0]
    return max(",;\t", key=first.count)


def _columns(kind, headings, sees_money):
    known = {column.heading: column for column in columns_of(kind, sees_money=sees_money)}
    names = [" ".join(unguarded(heading).replace("_", " ").casefold().split()) for heading in headings]
    while names and not names[-1]:
        names.pop()
    for name, heading in zip(names, headings, strict=False):
        if name not in known:
            raise CsvError(
                f"There is no {kind.singular} column “{heading.strip()[:60]}”. "
                "Use the template's headings, or remove this column."
            )
        if names.count(name) > 1:
            raise CsvError(f"The column “{name}” is there twice. Remove one.")
    if "name" not in names:
        raise CsvError("The column “name” is missing. Add it; every part needs a name.")
    return [known[name] for name in names]


def _read_line(kind, columns, number, line):
    draft, faults, typed = drafts.empty_draft(kind), [], {}
    if any(cell.strip() for cell in line[len(columns) :]):
        return draft, [CellFault(number, "", line[len(columns)][:60], "This row has more cells than headings.")]
    for column, cell in zip(columns, [*line, *[""] * (len(columns) - len(line))], strict=False):
        text = unguarded(cell.strip())
        typed[column.name] = cell.strip()
        try:
            column.read(draft, text)
        except CellError as error:
            faults.append(CellFault(number, column.heading, cell.strip()[:60], str(error)))
    try:
        taken.settle(draft)
    except CellError as error:
        faults.append(CellFault(number, "taken", draft.taken[:60], str(error)))
    if not faults:
        faults = [
            CellFault(number, name.replace("_", " "), typed.get(name, "")[:60], reason)
            for name, reason in drafts.faults_of(kind=kind, draft=draft)
        ]
    return draft, faults
