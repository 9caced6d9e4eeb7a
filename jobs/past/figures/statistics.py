"""The numbers of the shop, reckoned by the database from the records of closed jobs; times in minutes and days."""

from dataclasses import dataclass

from django.db import connection
from django.db.models import Count, F, Max, Q, Sum, Window
from django.db.models.functions import RowNumber

from jobs.models import Job, Past, PastCheck, Stage

FEW = 5
"""Jobs below which a figure says little; common practice, no source."""
_BOTH = Q(quoted__isnull=False, took__isnull=False)
_BY_STAGE = {
    "sqlite": "SELECT one.key, COUNT(*), SUM(one.value) FROM ({spent}) AS jobs, "
    "json_each(jobs.spent) AS one GROUP BY 1",
    "postgresql": "SELECT one.key, COUNT(*), SUM(one.value::float) FROM ({spent}) AS jobs, "
    "jsonb_each(jobs.spent) AS one GROUP BY 1",
}
"""Each job's stages taken apart once; a column of sums for each stage would read every job's stages fourteen times."""
_PLACES = " OR ".join(f"place = (count - 1) * {part} / 4{after}" for part in (1, 2, 3) for after in ("", " + 1"))
_ABOUT_QUARTILES = f"SELECT span, count, place, days FROM ({{numbered}}) AS numbered WHERE {_PLACES}"
"""The two rows about each quartile; the ORM would reckon each window anew for each of the six places."""


@dataclass(frozen=True, slots=True)
class Kind:
    """Finished jobs of one case family or movement; `quoted` and `took` are sums over the `both` jobs with both."""

    name: str
    jobs: int
    both: int
    quoted: float
    took: float

    @property
    def ratio(self):
        """Minutes spent for each one quoted; None where nothing was quoted."""
        return self.took / self.quoted if self.quoted else None


@dataclass(frozen=True, slots=True)
class StageTime:
    """Minutes spent in a stage, over the `jobs` with time recorded there."""

    name: str
    jobs: int
    minutes: float

    @property
    def mean(self):
        return self.minutes / self.jobs if self.jobs else None


@dataclass(frozen=True, slots=True)
class CheckCount:
    """How often a check said no or work, and what the bench said against it."""

    key: str
    title: str
    no: int
    work: int
    too_good: int
    too_bad: int

    @property
    def wrong(self):
        return self.too_good + self.too_bad


@dataclass(frozen=True, slots=True)
class Span:
    """Days from logging to closing in one month, quarter or year: quartiles over `jobs` jobs."""

    name: str
    jobs: int
    low: float
    middle: float
    high: float

    @property
    def few(self):
        return self.jobs < FEW


def finished(since, until):
    """The finished jobs that were closed in these days, both included; None leaves an end open."""
    return _within(Past.objects.filter(state=Job.State.FINISHED), since, until)


def _within(past, since, until):
    past = past.filter(day__gte=since) if since else past
    return past.filter(day__lte=until) if until else past


def by_kind(past, relation):
    """The finished jobs by `relation` ("family" or "movement"), most of them first."""
    rows = (
        past.order_by()
        .values(f"{relation}__name")
        .annotate(
            jobs=Count("pk"),
            both=Count("pk", filter=_BOTH),
            sum_quoted=Sum("quoted", filter=_BOTH),
            sum_took=Sum("took", filter=_BOTH),
        )
        .order_by("-jobs", f"{relation}__name")
    )
    return [
        Kind(
            row[f"{relation}__name"] or "not given",
            row["jobs"],
            row["both"],
            row["sum_quoted"] or 0.0,
            row["sum_took"] or 0.0,
        )
        for row in rows
    ]


def by_stage(past):
    """The time of each stage, in the stages' order."""
    spent, values = past.order_by().values("spent").query.sql_with_params()
    with connection.cursor() as cursor:
        cursor.execute(_BY_STAGE[connection.vendor].format(spent=spent), values)
        known = {stage: (jobs, minutes) for stage, jobs, minutes in cursor.fetchall()}
    kinds = [kind for kind in Stage.Kind if kind != Stage.Kind.INTAKE]
    return [StageTime(kind.label, *known.get(kind.value, (0, 0.0))) for kind in kinds]


def checks(since, until):
    """What the checks said in the kept reports of closed jobs, and what the bench said; those most often wrong first.

    Returns (CheckCounts, how many jobs had a report). Declined and returned jobs count, too: there most checks say no.
    """
    closed = _within(Past.objects.exclude(state=Job.State.OPEN), since, until)
    rows = (
        PastCheck.objects.filter(past__in=closed)
        .order_by()
        .values("check_key")
        .annotate(
            last_title=Max("title"),
            no=Count("pk", filter=Q(said="no")),
            work=Count("pk", filter=Q(said="work")),
            too_good=Count("pk", filter=Q(said="fits", found__in=("work", "no")) | Q(said="work", found="no")),
            too_bad=Count("pk", filter=Q(said="no", found__in=("fits", "work")) | Q(said="work", found="fits")),
        )
    )
    counts = [
        CheckCount(row["check_key"], *(row[name] for name in ("last_title", "no", "work", "too_good", "too_bad")))
        for row in rows
    ]
    counts.sort(key=lambda count: (-count.wrong, -count.no, -count.work, count.key))
    return counts, closed.filter(reported=True).count()


def turnaround(past, step):
    """Quartiles of days from logging to closing, by "month", "quarter" or "year", oldest first.

    The database numbers the jobs of each span by their days; the six rows about the quartiles are read, and between
    two of them the quartile is interpolated, the least and the most counting as 0 and 100 % (as Python's inclusive
    method has it).
    """
    spans = {
        "month": F("month"),
        "quarter": F("month") / 100 * 10 + (F("month") % 100 + 2) / 3,
        "year": F("month") / 100,
    }
    numbered = (
        past.filter(days__isnull=False)
        .order_by()
        .annotate(
            span=spans[step],
            count=Window(Count("pk"), partition_by=spans[step]),
            place=Window(RowNumber(), partition_by=spans[step], order_by="days") - 1,
        )
        .values("span", "count", "place", "days")
    )
    sql, values = numbered.query.sql_with_params()
    with connection.cursor() as cursor:
        cursor.execute(_ABOUT_QUARTILES.format(numbered=sql), values)
        rows = cursor.fetchall()
    days_at = {}
    for span, count, place, days in rows:
        days_at.setdefault((span, count), {})[place] = days
    return [_span(step, span, count, days_at[span, count]) for span, count in sorted(days_at)]


def _span(step, span, count, days):
    def quartile(part):
        whole, rest = divmod((count - 1) * part, 4)
        return days[whole] + (days[whole + 1] - days[whole]) * rest / 4 if rest else days[whole]

    return Span(_span_name(step, span), count, *(quartile(part) for part in (1, 2, 3)))


def _span_name(step, span):
    if step == "month":
        return f"{span // 100}-{span % 100:02d}"
    return f"{span // 10}, quarter {span % 10}" if step == "quarter" else str(span)


def overrun(kinds):
    """Minutes spent for each one quoted over all these Kinds; None where nothing was quoted."""
    quoted, took = sum(kind.quoted for kind in kinds), sum(kind.took for kind in kinds)
    return took / quoted if quoted else None
