"""Times of past swaps with 100,000 jobs against 1,000; called by tests/bench.py."""

PAGES = {
    "past swaps, newest first": "/past/",
    "past swaps of a case family": "/past/?family=brambleg&state=any",
    "past swaps to learn from": "/past/?learn=on",
    "a common word": "/past/?q=quartz",
    "several words": "/past/?q=crystal+rubbed+bramblegate",
    "a mistyped word": "/past/?q=quarzt",
    "numbers of one year": "/past/numbers/?since=2012-01-09&until=2012-12-31",
    "numbers of all years": "/past/numbers/?since=&until=",
}
COUNTS = (1_000, 100_000)


def past_rows(best_ms, client, by):
    """(what, ms with the larger count, ms with the smaller) for each page."""
    from django.db import connection

    from tests.jobs.past.generate import generate_records

    times, before = [], 0
    for count in COUNTS:
        generate_records(count, by=by, first=before)
        with connection.cursor() as cursor:
            cursor.execute("ANALYZE")
        times.append([best_ms(lambda url=url: client.get(url), calls=3, rounds=4) for url in PAGES.values()])
        before = count
    return [(what, many, few) for what, few, many in zip(PAGES, *times, strict=True)]
