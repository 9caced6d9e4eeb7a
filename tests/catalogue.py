"""The messages of customers' papers and of the show window: collected from jobs and templates, compiled in jobs/locale.

`.venv/bin/python tests/catalogue.py` renews the .po files, keeping every translation whose message still stands, and
compiles each to the .mo beside it, so that a machine without gettext's own tools has them too.
"""

from __future__ import annotations

import io
import sys
from datetime import UTC, datetime
from pathlib import Path
from typing import TYPE_CHECKING

from babel.messages import Catalog
from babel.messages.extract import extract
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po
from django.utils.translation.template import templatize

if TYPE_CHECKING:
    from collections.abc import Iterator

ROOT = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(ROOT))

from jobs.language.choices import CODES, PLAIN  # noqa: E402 - after the path to it

FOLDER = ROOT / "jobs" / "locale"
COMMAND = ".venv/bin/python tests/catalogue.py"
OTHERS = tuple(code for code in CODES if code != PLAIN)
_KEYWORDS = {
    **dict.fromkeys(("_", "gettext", "gettext_noop"), None),
    "ngettext": (1, 2),
    "pgettext": ((1, "c"), 2),
    "npgettext": ((1, "c"), 2, 3),
}
_DAY = datetime(2026, 1, 1, tzinfo=UTC)


def messages() -> Iterator[tuple[str | tuple[str, ...], str | None]]:
    """Every (message or singular and plural, context) in the order of the sources."""
    for path in sorted((ROOT / "jobs").rglob("*.py")):
        yield from _messages_in(path.read_text())
    for room in ("papers", "window"):
        for path in sorted((ROOT / "templates" / room).glob("*.html")):
            yield from _messages_in("\n".join(map(str.strip, templatize(path.read_text()).splitlines())))


def _messages_in(source):
    for _line, message, _comments, context in extract("python", io.BytesIO(source.encode()), keywords=_KEYWORDS):
        yield tuple(message) if isinstance(message, tuple) else message, context


def path_of(code: str) -> Path:
    """The .po file of a language."""
    return FOLDER / code / "LC_MESSAGES" / "django.po"


def read(code: str) -> Catalog:
    """The catalogue of a language as it is written."""
    with path_of(code).open("rb") as file:
        return read_po(file, locale=code)


def renewed(code: str) -> Catalog:
    """The catalogue with the messages of the sources and their translations as far as there are any."""
    old = read(code) if path_of(code).exists() else Catalog(code)
    ours = {"project": "Dialside", "version": "1", "last_translator": "Dialside", "language_team": "Dialside"}
    made = Catalog(code, msgid_bugs_address="none", creation_date=_DAY, revision_date=_DAY, fuzzy=False, **ours)
    made.header_comment = "# Customers' papers."
    for message, context in messages():
        known = old.get(message[0] if isinstance(message, tuple) else message, context)
        made.add(message, known.string if known else None, context=context)
    return made


def compiled(catalogue: Catalog) -> bytes:
    """The .mo file's bytes."""
    out = io.BytesIO()
    write_mo(out, catalogue)
    return out.getvalue()


def renew() -> None:
    """Write every .po and .mo anew."""
    for code in OTHERS:
        catalogue = renewed(code)
        path_of(code).parent.mkdir(parents=True, exist_ok=True)
        with path_of(code).open("wb") as file:
            write_po(file, catalogue, width=110, omit_header=False)
        path_of(code).with_suffix(".mo").write_bytes(compiled(read(code)))
        lacking = sum(1 for each in catalogue if each.id and not each.string)
        sys.stdout.write(f"{code}: {lacking} to translate\n")


if __name__ == "__main__":
    renew()
