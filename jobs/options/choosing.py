"""The pairings that a job weighs: added, chosen, ruled out; their reports kept as they were computed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.db import transaction
from django.db.models import Prefetch

from jobs.history import record
from jobs.models import Event, Option, OptionReport
from parts.copies import unsaved_copy
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
    return list(_with_parts(job.options.filter(ruled_out=False)))


def all_options(job):
    """Every option of the job with its parts and reports, the chosen one first, those ruled out last."""
    return list(_with_parts(job.options.order_by("-chosen", "ruled_out", "pk")).prefetch_related("reports"))


def _with_parts(options):
    pairings = Pairing.objects.with_parts()
    return options.prefetch_related(Prefetch("pairing", queryset=pairings))


def report_of(option):
    """The fit report of an option as its parts stand now; None without an option or for a sheet that is refused."""
    return answer(option.pairing).report if option else None


@transaction.atomic
def add_option(*, job: Job, pairing: Pairing, by: User) -> Option:
    """Weigh a pairing, kept or not: a copy of it of the job's own, with its report kept."""
    original = pairing.original if pairing.pk else None
    own = unsaved_copy(pairing, archived=False, made_for=job.number, copied_from=original)
    own.draft_key = pairing.draft_key if original is None else None
    own.save()
    made = Option.objects.create(job=job, pairing=own)
    keep_report(option=made, why="added to the job")
    record(job=job, by=by, kind=Event.Kind.OPTION_ADDED, data={"option": made.pk}, after=own)
    return made


def keep_report(*, option: Option, why: str) -> list[str]:
    """Keep the option's report as it is computed now; returns what changed since the last one that was kept.

    Changes are (title of the check, verdict then, verdict now). An unchanged report is not kept again.
    """
    answered = answer(option.pairing)
    last = option.reports.first()
    save_with_report(pairing=option.pairing, answered=answered)
    report = option.pairing.report
    if answered.report is None or report is None:
        return []
    if last is None or last.report != report:
        OptionReport.objects.create(option=option, report=report, why=why)
    return changes_since(last.report if last else None, answered.report)


@transaction.atomic
def renew_report(*, option: Option, by: User) -> None:
    """Save the option's report as it is now, where it differs from the one saved last."""
    if keep_report(option=option, why="renewed on the job's page"):
        data = {"option": option.pk}
        record(job=option.job, by=by, kind=Event.Kind.REPORT_RENEWED, data=data, after=option.pairing)


@transaction.atomic
def choose(*, option: Option, by: User) -> None:
    """Choose an option in place of the one chosen before, on the report as it stands now."""
    before = option.job.options.filter(chosen=True).first()
    if before == option:
        return
    option.job.options.filter(chosen=True).update(chosen=False)
    option.chosen, option.ruled_out = True, False
    option.save(update_fields=["chosen", "ruled_out"])
    facts = {"option": option.pk, "before": before and before.pk}
    kind = Event.Kind.OPTION_CHOSEN
    keep_report(option=option, why="chosen")
    record(job=option.job, by=by, kind=kind, data=facts, before=before or "", after=option.pairing)


@transaction.atomic
def rule_out(*, option: Option, by: User, ruled_out: bool = True) -> None:
    """Rule an option out, or reconsider it; one that is ruled out is no longer the chosen one."""
    if option.ruled_out == ruled_out:
        return
    option.ruled_out = ruled_out
    option.chosen = option.chosen and not ruled_out
    option.save(update_fields=["chosen", "ruled_out"])
    kind = Event.Kind.OPTION_RULED_OUT if ruled_out else Event.Kind.OPTION_RECONSIDERED
    record(job=option.job, by=by, kind=kind, data={"option": option.pk}, after=option.pairing)
