"""Cut-outs, keys and notches as lines of text: numbers with spaces between, then what it is for."""

from dataclasses import fields

MOST_ROWS = 24
_NONE = ("none", "-")
_AS_LABELLED = {"low": "from", "high": "to"}


def rows_to_text(rows):
    """The rows as lines that `text_to_rows` reads back; "none" for no rows."""
    return "\n".join(_line(row) for row in rows) or "none"


def text_to_rows(text, cls):
    """The rows of lines such as "45 1.0 1.1 0 1.5 dial foot". Raises ValueError with what to type."""
    if text.strip().casefold() in _NONE:
        return ()
    lines = [line for line in text.splitlines() if line.strip()]
    if len(lines) > MOST_ROWS:
        raise ValueError(f"{len(lines)} lines are too many: {MOST_ROWS} at most.")
    return tuple(_row(line, cls) for line in lines)


def _line(row):
    numbers = [f"{getattr(row, item.name):g}" for item in fields(row) if item.name != "name"]
    return " ".join([*numbers, row.name]).strip()


def _row(line, cls):
    names = [item.name for item in fields(cls) if item.name != "name"]
    words = line.replace(";", " ").split()
    numbers, rest = words[: len(names)], words[len(names) :]
    try:
        values = [float(word.replace(",", ".").removesuffix("°")) for word in numbers]
    except ValueError:
        values = []
    if len(values) != len(names) or any(value != value or abs(value) > 1000 for value in values):
        wanted = ", ".join(_AS_LABELLED.get(name, name) for name in names)
        raise ValueError(f"Cannot read “{line.strip()}”. Type {wanted} with spaces between, then what it is for.")
    return cls(*values, " ".join(rest)[:40])
