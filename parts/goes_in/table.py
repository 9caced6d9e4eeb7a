"""The table of cases against movements, a page of rows and of columns at a time."""

from dataclasses import dataclass

import numpy as np
from django.core.paginator import Paginator

from parts.fit.bands import Verdict
from parts.models import Movement

ROWS, COLUMNS = 20, 10
_VERDICTS = {verdict.rank: str(verdict) for verdict in Verdict}


@dataclass(frozen=True, slots=True)
class TableRow:
    """One case with its dial, how many movements go into it, and a (movement, verdict) for each column."""

    case: object
    dial: object
    takes: int
    cells: list


def table_page(table, form, data):
    """The context of one page: columns by how many cases a movement goes into, rows in the order that is asked for."""
    by_use = np.lexsort((table.movements, -table.goes_into))
    order = np.argsort(-table.takes, kind="stable") if form.most_first else np.arange(len(table.cases))
    across = Paginator(by_use, COLUMNS).get_page(data.get("across"))
    down = Paginator(order, ROWS).get_page(data.get("page"))
    records = Movement.objects.in_bulk([int(table.movements[j]) for j in across])
    columns = [(j, records[table.movements[j]]) for j in across if table.movements[j] in records]
    takes, goes_into = table.takes, table.goes_into
    rows = [
        TableRow(
            table.cases[i],
            table.dials[i],
            int(takes[i]),
            [(movement, _VERDICTS.get(int(table.ranks[i, j]))) for j, movement in columns],
        )
        for i in down
    ]
    return {
        "rows": rows,
        "columns": [(movement, int(goes_into[j])) for j, movement in columns],
        "page": down,
        "across": across,
        "movements": len(table.movements),
        "cases": len(table.cases),
        "verdicts": list(_VERDICTS.values()),
    }
