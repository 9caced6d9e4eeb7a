"""The one step that leads a job's page, and that of a stage: in words, with its one action."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from django.urls import reverse
from django.utils import timezone

from jobs.models import Job, Order, Quote, Stage
from jobs.stages.progress import NO_OPTION, NO_READINGS, NOT_AGREED, SKIPPABLE
from parts.designs.revisions import design_of
from parts.fit.answer.listing import in_a_sentence

if TYPE_CHECKING:
    from collections.abc import Sequence

    from jobs.models import Option
    from jobs.stages.checklist import Line
    from jobs.stock import DrawerLine
    from parts.models import Pairing

LENGTH = "stem.length"
"""What is measured of the stem once it is cut."""


@dataclass(frozen=True, slots=True)
class Action:
    """What a button or link does: `sends` are the fields of a form, None for a link; a paper opens beside the page."""

    label: str
    address: str
    sends: dict[str, str] | None = None
    is_paper: bool = False


@dataclass(frozen=True, slots=True)
class Step:
    """The next step: what it belongs to, its words, a note, its one primary action and the quiet ones beside it.

    `item` is the line of the checklist that it ticks in place. `measures` is the path of a number to type right there.
    """

    over: str
    words: str
    note: str = ""
    primary: Action | None = None
    quiet: Sequence[Action] = field(default_factory=tuple)
    item: str = ""
    measures: str = ""


def address(name: str, job: Job, *more: object) -> str:
    """The address of one of the job's pages."""
    return reverse(f"jobs:{name}", args=[job.number, *more])


def step_of_job(
    *,
    job: Job,
    options: Sequence[Option],
    quotes: Sequence[Quote],
    orders: Sequence[Order],
    at_hand: Sequence[DrawerLine],
    may_start: bool,
    sees_money: bool,
    has_outcome: bool,
    case: int | None = None,
) -> Step | None:
    """What comes before the work of the open stage, or after all of it; None where that stage's own step leads."""
    if job.state != Job.State.OPEN:
        return _closed(job, has_outcome)
    weighed = [option for option in options if not option.ruled_out]
    if not any(option.chosen for option in weighed):
        return _option_first(job, weighed, case)
    if job.stage == Stage.Kind.TEARDOWN and not may_start:
        return _agreement_first(job, list(quotes), sees_money)
    wanting = [order for order in orders if order.state in Order.OPEN]
    if not job.stage:
        return _finish(job, wanting, has_outcome)
    if job.waits_for == Job.WaitsFor.PARTS and wanting:
        return _drawer_first(job, at_hand, wanting) if at_hand else _parts_first(job, wanting)
    return None


def _handover_note(job):
    return Action("Print the handover note", address("paper", job, "handover"), {}, is_paper=True)


def _closed(job, has_outcome):
    over = f"This job is {job.get_state_display()}"
    note = "" if has_outcome else "Two sentences now save an hour on the next one like it."
    noted = Action("Change what you noted" if has_outcome else "Note how it turned out", address("outcome", job))
    again = Action("Reopen the job", address("state", job), {"do": "open"})
    if job.state == Job.State.FINISHED and has_outcome:
        paper = _handover_note(job)
        return Step(over, "All done.", "It is among past swaps now.", paper, (noted, again))
    words = "How did it turn out?" if job.state == Job.State.FINISHED else "Why was it not done?"
    if has_outcome:
        shelve = Action("Archive the job", address("state", job), {"do": "archive"})
        shelved = Action("Bring the job back", address("state", job), {"do": "bring-back"})
        return Step(over, "Nothing left to do.", "", shelved if job.archived else shelve, (noted, again))
    return Step(over, words, note, noted, (again,))


def _option_first(job, weighed, case):
    over = "Next, before the quote"
    if len(weighed) == 1:
        choose = Action("Choose this option", address("option", job, weighed[0].pk), {"do": "choose"})
        check = Action("Open the fit check", reverse("parts:pairing", args=[weighed[0].pairing_id]))
        return Step(over, f"Choose the option {weighed[0].pairing.name}?", "", choose, (check,))
    if weighed:
        query = "&".join(f"pairing={option.pairing_id}" for option in weighed[:4])
        compare = Action("Compare the options", f"{reverse('parts:pairing-compare')}?{query}")
        return Step(over, f"Choose one of {len(weighed)} options", "They are listed under Options.", compare)
    sends = {"do": "quick", "case": str(case or "")}
    begin = Action("Quick check of this watch", address("option-new", job), sends)
    saved = Action("Use a saved fit check", "#options")
    words = "Find out what fits"
    return Step(over, words, "A dozen numbers, and the verdict grows as you type.", begin, (saved,))


def _agreement_first(job, quotes, sees_money):
    over, yes = "Next, before opening", Action("Note the go-ahead", address("go-ahead", job))
    if not sees_money:
        return Step(over, "Get the customer's go-ahead", "No accepted quote, no go-ahead noted.", yes)
    last = max(quotes, key=lambda quote: quote.version, default=None)
    if last is None:
        draft = Action("Draft the quote", address("quote-draft", job), {})
        return Step(over, "Quote it", "It starts from the chosen option: parts, work, what to accept.", draft, (yes,))
    page = address("quote", job, last.version)
    out = _waiting_for_answer(quotes)
    if last.state == Quote.State.DRAFT and (out is None or out.valid_until < timezone.localdate()):
        return Step(over, "Finish the quote and mark it as sent", str(last), Action("Open the quote", page), (yes,))
    if out:
        late = " That day has passed." if out.valid_until < timezone.localdate() else ""
        note = f"Version {out.version} is valid until {out.valid_until:%-d %b %Y}.{late}"
        answer = Action("Note the answer", address("quote", job, out.version))
        draft = (Action(f"Open version {last.version}, a draft", page),) if last is not out else ()
        return Step(over, "Wait for the customer's answer", note, answer, (*draft, yes))
    return Step(
        over, "The quote was declined", "Make a new version, or close the job.", Action("Open it", page), (yes,)
    )


def _waiting_for_answer(quotes):
    """The latest version that is with the customer; drafts after it change nothing of that."""
    decided = [quote for quote in quotes if quote.state != Quote.State.DRAFT]
    last = max(decided, key=lambda quote: quote.version, default=None)
    return last if last and last.state == Quote.State.SENT else None


def _drawer_first(job, at_hand, wanting):
    alone = len(at_hand) == 1
    words = f"{at_hand[0].part} is in stock" if alone else f"{len(at_hand)} parts to order are in stock"
    note = f"{in_a_sentence([f'{line.part}, {line.free} free' for line in at_hand])}."
    aside = Action("Set one aside" if alone else "Set one of each aside", address("stock-take", job), {})
    order = Action("Note an order", f"{address('order', job, wanting[0].pk)}?noted=on")
    return Step("Next, parts from stock", words, "" if alone else note, aside, (order,))


def _parts_first(job, wanting):
    first = wanting[0]
    due = f"Expected {first.expected:%-d %b}." if first.expected else "Not known when it comes."
    more = f" {len(wanting) - 1} more to get." if len(wanting) > 1 else ""
    is_wanted = first.state == Order.State.WANTED
    over = "Next, a part to order" if is_wanted else "Next, a part on its way"
    label = "Note the order" if is_wanted else "Note its arrival"
    on = Action("Work on meanwhile", address("stage", job, job.stage))
    note = f"{address('order', job, first.pk)}?noted=on"
    return Step(over, str(first), f"{due}{more}", Action(label, note), (on,))


def _finish(job, wanting, has_outcome):
    note = _handover_note(job)
    noted = Action("Note how it turned out", address("outcome", job))
    quiet = (note,) if has_outcome else (note, noted)
    sends = {"do": Job.State.FINISHED.value}
    if not wanting:
        finish = Action("Finish the job", address("state", job), sends)
        return Step("All stages done", "Hand the watch over", "", finish, quiet)
    names = "; ".join(map(str, wanting))
    finish = Action("Finish anyway", address("state", job), sends | {"although_wanting": "on"})
    arrived = Action("Note what came", address("order", job, wanting[0].pk))
    warning = f"Still to buy: {names}. Note what came, or say it is not needed."
    return Step("All stages done", "Parts are still open", warning, arrived, (finish, *quiet))


def step_of_stage(*, stage: Stage, lines: Sequence[Line], held: Sequence[str], pairing: Pairing | None) -> Step:
    """What is to be done next in a stage; `held` is why it cannot be closed, `pairing` the chosen option's."""
    job, name = stage.job, str(stage)
    if stage.state != Stage.State.AHEAD:
        words = f"{name.capitalize()} {stage.get_state_display()}"
        onward = Action(f"Go on with {job.stage_word}", address("stage", job, job.stage)) if job.stage else None
        again = (Action("Reopen this stage", address("stage-open", job, stage.kind), {}),)
        quiet = again if stage.kind != Stage.Kind.INTAKE else ()
        return Step(
            f"Stage: {name}", words, stage.reason, onward or Action("To the job", job.get_absolute_url()), quiet
        )
    left = next((line.item for line in lines if line.is_open), None)
    over, quiet = f"{'Next, in' if stage.kind == job.stage else 'In'} {name}", _beside(stage, pairing, lines, left)
    if stage.kind == Stage.Kind.STEM and LENGTH not in stage.measured and (left is None or left.name == "positions"):
        if pairing and not pairing.stem_id:
            choose = Action("Open the fit check", reverse("parts:pairing", args=[pairing.pk]))
            return Step(over, "Choose the stem, or add it", "Its length has no place before that.", choose, quiet)
        keep = Action("Save the length", address("measurements", job, stage.kind), {})
        return Step(over, "Measure the stem as it is now", "", keep, quiet, measures=LENGTH)
    if left:
        place = [line.item for line in lines].index(left) + 1
        done = Action("Done, next step", address("tick", job, stage.kind), {"item": left.key, "done": "on"})
        note = f"{job.stage_word.capitalize()} comes first." if job.stage and stage.kind != job.stage else ""
        return Step(f"{over} · step {place} of {len(lines)}", left.text, note, done, quiet, item=left.key)
    if not held:
        close = Action(f"Finish {name}", address("stage-close", job, stage.kind), {})
        return Step(over, f"All of {name} is done", "", close, quiet)
    words = "Time it: two readings give a first rate" if held[0] == NO_READINGS else held[0]
    return Step(over, words, "", _way_out(stage, held[0]), quiet)


def _way_out(stage, reason):
    """What mends that a stage cannot be closed."""
    job = stage.job
    if reason == NOT_AGREED:
        return Action("Note the go-ahead", address("go-ahead", job))
    if reason == NO_OPTION:
        return Action("Choose an option", f"{job.get_absolute_url()}#options")
    if stage.kind != job.stage and job.stage:
        return Action(f"Go to {job.stage_word}", address("stage", job, job.stage))
    if stage.kind == Stage.Kind.TIMING:
        return Action("Open the timing runs", address("runs", job))
    return Action("Measure again", f"{address('stage', job, stage.kind)}#measure")


_DESIGNED = {"ring": ("Design the holder", "holder-wall"), "spacer": ("Design the spacer", "stem-height")}
"""What is designed in the holder stage: the words, and the check whose remedy it is."""


def _designing(pairing: Pairing, kind: str) -> Action:
    """To the design that there is, else to a new one."""
    if design := design_of(pairing, kind):
        return Action(
            f"Open the {design.get_kind_display()}, revision {design.revision}",
            reverse("parts:holder", args=[design.pk]),
        )
    return Action(_DESIGNED[kind][0], f"{reverse('parts:holder-new')}?pairing={pairing.pk}&kind={kind}")


def _has_spacer(pairing, lines):
    """Whether a spacer is asked for in the holder stage, or drawn already."""
    asked = any(line.item.name.startswith(("stem-height", "spacer-side")) for line in lines if not line.is_past)
    return asked or design_of(pairing, "spacer") is not None


def _beside(stage, pairing, lines, left):
    """The quiet actions of a stage: its design or paper, and what to do when the step does not go."""
    job, actions = stage.job, []
    if stage.kind == Stage.Kind.HOLDER and pairing:
        kinds = [kind for kind, (_, check) in _DESIGNED.items() if left and left.name.startswith(check)]
        kinds = kinds or ["ring", *(["spacer"] if _has_spacer(pairing, lines) else [])]
        actions += [_designing(pairing, kind) for kind in kinds]
    if stage.kind == Stage.Kind.HANDOVER:
        actions.append(_handover_note(job))
    if stage.kind in SKIPPABLE and stage.kind not in (Stage.Kind.TEARDOWN, Stage.Kind.TIMING):
        actions.append(Action("It does not fit", f"{address('outcome', job)}#hindsight"))
    return tuple(actions)
