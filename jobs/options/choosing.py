"""The pairings that a job weighs: added, chosen, dropped; their reports kept as they were computed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction
from django.db.models import Prefetch

from jobs.history import record
from jobs.models import Option, OptionReport
from parts.copies import plain_name
from parts.models import Pairing
from parts.pairings.answer import answer, changes_since, save_with_report

if TYPE_CHECKING:
    from django.contrib.auth.models import User

    from jobs.models import Job


def chosen_option(job):
    """The job's chosen option with all parts of its pairing; None where none is chosen."""
    return _with_parts(job.options.filter(chosen=True)).first()


def options_of(job):
    """The options that are still weighed."""
    return list(_with_parts(job.options.filter(dropped=False)))


def _with_parts(options):
    pairings = Pairing.objects.with_parts()
    return options.prefetch_related(Prefetch("pairing", queryset=pairings))


def report_of(option):
    """The fit report of an option as its parts stand now; None without an option or for a sheet that is refused."""
    return answer(option.pairing).report if option else None


@transaction.atomic
def add_option(*, job: Job, pairing: Pairing, by: User) -> Option:
    """Weigh a pairing: a copy of it of the job's own, with its report kept."""
    made = Option.objects.create(job=job, pairing=_own_copy(job, pairing))
    keep_report(option=made, why="added to the job")
    record(job=job, by=by, what="Option added", after=made.pairing.name)
    return made


def _own_copy(job, pairing):
    if pairing.pk and not pairing.name.endswith(job.number):
        pairing.pk, pairing._state.adding = None, True
    pairing.name = f"{plain_name(pairing.name)[:66]}, {job.number}"
    pairing.archived = False
    pairing.save()
    return pairing


def keep_report(*, option: Option, why: str) -> list[str]:
    """Keep the option's report as it is computed now; returns what changed since the last one that was kept.

    Changes are (title of the check, verdict then, verdict now). An unchanged report is not kept again.
    """
    found = answer(option.pairing)
    last = option.reports.first()
    save_with_report(pairing=option.pairing, found=found)
    if found.report is None:
        return []
    told = option.pairing.report
    if last is None or last.report != told:
        OptionReport.objects.create(option=option, report=told, why=why)
    return changes_since(last.report if last else None, found.report)


@transaction.atomic
def choose(*, option: Option, by: User) -> None:
    """Choose an option in place of the one chosen before."""
    before = option.job.options.filter(chosen=True).first()
    if before == option:
        return
    option.job.options.filter(chosen=True).update(chosen=False)
    option.chosen, option.dropped = True, False
    option.save(update_fields=["chosen", "dropped"])
    record(job=option.job, by=by, what="Option chosen", before=before or "", after=option.pairing.name)


@transaction.atomic
def drop(*, option: Option, by: User, dropped: bool = True) -> None:
    """Stop weighing an option, or weigh it again; a dropped one is no longer the chosen one."""
    if option.dropped == dropped:
        return
    option.dropped = dropped
    option.chosen = option.chosen and not dropped
    option.save(update_fields=["chosen", "dropped"])
    record(
        job=option.job, by=by, what="Option dropped" if dropped else "Option weighed again", after=option.pairing.name
    )
