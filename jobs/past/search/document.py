"""Everything written about a job, gathered for the search: texts with their source and place, and their words."""

from jobs.models import PastText, Stage
from jobs.past.search.words import words_of

_MOST = 60_000
"""Letters of one job that are searched; PostgreSQL's word index holds no more than 1 MB of a job."""
JOB, QUOTE = "job", "quote"
"""The sources of texts: quotes are the owner's alone."""
_FOUND = {"fits": "fitted as it was", "work": "needed work", "no": "did not fit"}


def text_of(job, parts):
    """The PastText of a job that `record.loaded` gave; `parts` are the names of what went in."""
    texts = [(source, where, text) for source, where, text in _texts(job, parts) if text and text.strip()]
    head = " ".join(words_of(" ".join([job.number, job.title, job.watch, *parts])))
    body = " ".join(words_of(" ".join(text for *_, text in texts))[:_MOST])
    return PastText(job=job, head=head[:_MOST], body=body[:_MOST], told=texts)


def _texts(job, parts):
    """(source, where, text): the source is for programs, the place for people."""
    yield from ((JOB, *text) for text in _of_the_job(job, parts))
    yield from ((QUOTE, *text) for text in _quotes(job))
    yield from ((JOB, *text) for text in _of_the_work(job))


def _of_the_job(job, parts):
    yield "", ", ".join(filter(None, (job.title, job.watch if job.case_family else "", *parts)))
    yield from _outcome(job)
    yield "wish", job.wish
    yield "remarks", job.remarks
    for stage in job.stages.all():
        yield str(stage), stage.remarks
        yield f"{stage} skipped", stage.reason if stage.state == Stage.State.SKIPPED else ""
        for time in stage.work_times.all():
            yield f"time in {stage}", time.note
    yield "kept", job.keep
    yield "came with", job.came_with
    yield (
        "condition",
        "; ".join(
            f"{condition}, {condition.remark}" if condition.remark else str(condition)
            for condition in job.conditions.all()
        ),
    )
    for option in job.options.all():
        yield "pairing", option.pairing.name
        yield "notes of the fit check", option.pairing.notes


def _of_the_work(job):
    for order in job.orders.all():
        yield "ordered", ", ".join(filter(None, (order.text, order.supplier)))
    for photo in job.photos.all():
        yield f"photo, {Stage.Kind(photo.stage).label}" if photo.stage in Stage.Kind.values else "photo", photo.caption
    for run in job.timing_runs.all():
        yield "timing run", run.note
    for said in (*job.clearances.all(), *job.go_aheads.all()):
        yield str(said), said.note
    yield "serial number", job.serial
    yield "customer", job.customer.name


def _outcome(job):
    if outcome := getattr(job, "outcome", None):
        yield "what went wrong", outcome.went_wrong
        yield "for next time", outcome.next_time
        yield "to learn", outcome.learn_why
    for hindsight in job.hindsights.all():
        if hindsight.found:
            said = {"unclear": "undecided"}.get(hindsight.said, _FOUND.get(hindsight.said, hindsight.said))
            yield (
                "in hindsight",
                f"{hindsight.title}: the report said {said}, the bench {_FOUND[hindsight.found]}. {hindsight.note}",
            )


def _quotes(job):
    quoted = set()
    for quote in job.quotes.all():
        yield f"quote, version {quote.version}", quote.note
        yield f"answer to version {quote.version}", quote.decision_note
        for part in quote.parts.all():
            lines = [line.text for line in part.lines.all() if line.text not in quoted]
            quoted.update(lines)
            yield "quote", "; ".join(lines)


RELATIONS = (
    "stages__work_times",
    "conditions",
    "hindsights",
    "quotes__parts__lines",
    "photos",
    "timing_runs",
    "clearances",
    "go_aheads",
    "orders",
)
"""What `text_of` reads of a job besides its options."""
