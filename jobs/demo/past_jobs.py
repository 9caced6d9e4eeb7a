"""The demo's past: finished jobs of earlier months with what came of them, and traps and tricks."""

from datetime import timedelta

from django.db import transaction
from django.utils import timezone

from jobs.after.noting import promise
from jobs.demo import photos
from jobs.demo.people import visitor
from jobs.demo.taking import agreed, log, picture, put_back
from jobs.job import state
from jobs.models import GoAhead, Job, Outcome, Stage
from jobs.options import choosing
from jobs.past import outcome as outcomes
from jobs.past.record import rebuild_all
from jobs.stages import progress, work_time
from jobs.stages.checklist import items_of
from jobs.stages.measuring import write_back
from parts.library import notes
from parts.models import CaseFamily, HolderDesign, Movement

_PAST = (
    # customer, family, watch, wish, pairing, weeks ago, days on the bench, pace, outcome, what went wrong, for the next
    # time, what to learn, (check, found, note)
    ("Ida Fern", "Bramblegate 36", "white dial, dome scratched", "Quartz with the date, as a surprise.",
     "Bramblegate 36 to quartz with date", 183, 16, 1.25, "trouble",
     "The ring sat tight on the burr of the rim and the movement stood askew.",
     "Take the burr off the rim before trying the ring.", "", ("case-bore", "work", "the burr takes 0.05 mm")),
    ("Rolf Ekman", "Bramblegate 36", "grey dial", "It should simply run; keep the crown.",
     "Bramblegate 36 to quartz with date", 170, 9, 0.9, "well", "", "", "", None),
    ("Jörg Ahlen", "Lanthorn 33", "gilt, case back engraved", "For every day; thin as it is.",
     "Lanthorn 33, straight swap", 130, 6, 0.7, "well", "", "", "", None),
    ("Ottilie Reed", "Bramblegate 36", "second of a pair", "Like the first one.",
     "Bramblegate 36 to quartz with date", 22, 12, 1.0, "changed",
     "The date stood a third of a numeral too low; the dial was turned by half a degree on its pads.",
     "Set the dial by the date, not by the markers.", "The window is not where the dial's drawing puts it.",
     ("date-position", "work", "read off the watch: 0.3 mm too low")),
    ("Marit Holm", "Quernstone 35", "silver dial", "Quartz, nothing else changed.",
     "Quernstone 35, spacer behind the dial", 14, 21, 1.5, "trouble",
     "The spacer was printed 0.08 mm too thick; the crown no longer pushed home.",
     "Measure the printed spacer before it goes in.", "A spacer too thick shows at the crown first.",
     ("stem-height", "no", "spacer as printed 0.08 mm too thick")),
    ("Ben Alder", "Tollgate 40", "blue dial, crown at 4", "The date at 4 must stay.",
     "Tollgate 40, crown at 4", 8, 10, 1.1, "well", "", "", "", None),
    ("Zoë Marsh", "Saltmarsh 26", "ivory dial", "For her grandmother's birthday.",
     "Saltmarsh 26, small two-hand", 5, 8, 1.0, "trouble", "The minute hand rubbed on the crystal when warm.",
     "Press the minute hand home against a support.", "", ("gap-crystal", "work", "pressed 0.1 mm lower")),
)  # fmt: skip
_MEASURED = {
    "white dial, dome scratched": {"case.bore_diameter": "29.61 ±0.02", "case.stem_axis_depth": "2.17 ±0.02"},
    "second of a pair": {"case.back_depth": "5.37 ±0.03"},
}
"""What was measured at teardown, by watch: the jobs then have cases of their own, near to the library's."""
_TRICKS = (
    ("family", "Bramblegate 36", "Break the burr on the rim inside the back with a stone before the holder goes in."),
    ("family", "Kelpmoor 38", "The long tube hides old grease; heat it before the crown is turned out."),
    ("movement", "Wick date at 3", "Half a turn on the setting lever's screw frees the stem; more lets it slip."),
)  # fmt: skip


@transaction.atomic
def fill_past():
    """Finish the demo's past jobs, write down its traps and tricks."""
    by = visitor()
    for row in _PAST:
        _finish(by, *row)
    rated = Job.objects.get(customer__name="Ben Alder", watch="blue dial, crown at 4")
    promise(job=rated, on=timezone.localdate() + timedelta(days=40), words="Ask how it keeps time on the wrist.", by=by)
    for kind, name, text in _TRICKS:
        model = CaseFamily if kind == "family" else Movement
        notes.add(part=model.objects.get(name=name), text=text, by=by)
    rebuild_all()


def _finish(by, name, family, watch, wish, pairing, weeks, days, pace, word, wrong, next_time, learn, hindsight):
    conditions = (("crystal", "worn", ""), ("runs", "no", ""))
    job, option = log(by, name, family, watch, wish, pairing, conditions, luminous="none")
    _agree(job, option, name, by)
    for path, text in _MEASURED.get(watch, {}).items():
        chosen = choosing.chosen_option(job)
        write_back(stage=job.stages.get(kind="teardown"), pairing=chosen.pairing, path=path, text=text, by=by)
    report = choosing.report_of(choosing.chosen_option(job))
    for kind in progress.ORDER[1:]:
        _work(job, kind, report, pace, by)
    picture(job, by, "handover", "Ready to go home", photos.front(option.pairing, watch, at=(1, 52, 24), strap=True))
    state.close_job(job=job, state=Job.State.FINISHED, by=by)
    _tell(job, word, wrong, next_time, learn, hindsight, by)
    put_back(job, logged=7 * weeks + days, closed=7 * weeks)


def _agree(job, option, name, by):
    agreed(job, option, name, by)
    GoAhead.objects.create(job=job, how="phone", said_by=name, on=timezone.localdate(), by=by)


def _work(job, kind, report, pace, by):
    stage = job.stages.get(kind=kind)
    for item in items_of(kind, report, job):
        progress.tick(stage=stage, item=item, done=True, by=by)
    work_time.add_minutes(stage=stage, minutes=round((18 + 6 * len(kind)) * pace), note="", by=by)
    if kind == "timing":
        progress.skip(stage=stage, reason="timed on the customer's wrist", by=by)
        return
    if kind == "stem":
        stage.measured = {"stem.length": f"{report.stem.length:.2f} ±0.01"}
        stage.save()
    progress.close(stage=Stage.objects.get(pk=stage.pk), report=report, by=by)


def _tell(job, word, wrong, next_time, learn, hindsight, by):
    rings = HolderDesign.objects.in_drawers().filter(family=job.case_family, kind="ring")
    said = {"word": word, "went_wrong": wrong, "next_time": next_time, "learn": bool(learn), "learn_why": learn}
    outcome, saved = Outcome(job=job, ring=rings.first(), **said), outcomes.saved_report_of(job)
    checks = {check["key"]: check for check in saved.report["checks"]}
    hindsights = [(checks[hindsight[0]], hindsight[1:])] if hindsight and hindsight[0] in checks else []
    outcomes.store(outcome=outcome, before={"word": "", "went_wrong": "", "next_time": ""}, said=hindsights, by=by)
