"""The word index of past jobs, asked in the language of each database (made in migration 0006).

SQLite ranks by BM25, PostgreSQL by how often and how near together the words stand; in both a word of the head (watch,
movement, hands) weighs more than one of the body.
"""

from __future__ import annotations

import shutil
from collections.abc import Collection
from pathlib import Path
from typing import TYPE_CHECKING, Any

from django.db import connection
from django.db.models.expressions import OrderBy, RawSQL

if TYPE_CHECKING:
    from django.db.models import QuerySet

    from jobs.models import Past

_HEAD = 4.0
"""How much more a word weighs in the head, for BM25; PostgreSQL's own weights A and D are 1.0 and 0.1."""


def newest(past: QuerySet[Past], terms: Any, *, every: bool, most: int) -> list[int]:
    """Primary keys of the newest of these Past rows whose words hold every term (or any), at most so many."""
    if connection.vendor == "sqlite":
        held = past.extra(
            tables=["jobs_pasttext_index"],
            where=["jobs_pasttext_index MATCH %s", "jobs_pasttext_index.rowid = jobs_past.job_id"],
            params=[_query(terms, every)],
        ).order_by(OrderBy(RawSQL("jobs_pasttext_index.rowid", []), descending=True))
    else:
        held = past.extra(
            tables=["jobs_pasttext"],
            where=["jobs_pasttext.words @@ to_tsquery('simple', %s)", "jobs_pasttext.job_id = jobs_past.job_id"],
            params=[_query(terms, every)],
        ).order_by("-job_id")
    return list(held.values_list("job_id", flat=True)[:most])


def ranked(keys: Collection[int], terms: Any, *, every: bool) -> list[int]:
    """These jobs, best first; of equal ones the newer."""
    if not keys:
        return []
    if connection.vendor == "sqlite":
        sql = f"""SELECT rowid FROM jobs_pasttext_index WHERE jobs_pasttext_index MATCH %s AND rowid >= %s
            ORDER BY bm25(jobs_pasttext_index, {_HEAD}, 1.0), rowid DESC"""
        values = [_query(terms, every), min(keys)]
    else:
        sql = """SELECT job_id FROM jobs_pasttext WHERE job_id = ANY(%s)
            ORDER BY ts_rank(words, to_tsquery('simple', %s), 1) DESC, job_id DESC"""
        values = [list(keys), _query(terms, every)]
    wanted = set(keys)
    with connection.cursor() as cursor:
        cursor.execute(sql, values)
        return [key for (key,) in cursor.fetchall() if key in wanted]


def _query(terms, every):
    """The terms in the database's language; words are letters and digits only, so quoting holds."""
    if connection.vendor == "sqlite":
        starts, either, both = '"{}"*', " OR ", " AND "
        exact = '"{}"'
    else:
        starts, either, both = "'{}':*", " | ", " & "
        exact = "'{}'"
    queries = [
        starts.format(term.starts) if term.starts else f"({either.join(exact.format(word) for word in term.near)})"
        for term in terms
    ]
    return (both if every else either).join(queries)


def room_lacking() -> float:
    """MB that the disk lacks for `compact`, which writes the database once more beside itself and into its log."""
    path = Path(connection.settings_dict["NAME"])
    if connection.vendor != "sqlite" or not path.exists():
        return 0.0
    return max(2 * path.stat().st_size - shutil.disk_usage(path.parent).free, 0) / 1e6


def compact():
    """Write the word index and the database anew, so that nothing of what was taken out is left in the files.

    SQLite keeps what was deleted in free pages, in its log and in the index until then. Others may go on reading.
    """
    if connection.in_atomic_block:
        return
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("INSERT INTO jobs_pasttext_index(jobs_pasttext_index) VALUES ('rebuild')")
            cursor.execute("VACUUM")
            cursor.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        else:
            cursor.execute("VACUUM")
