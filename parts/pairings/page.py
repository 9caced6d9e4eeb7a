"""What the fit check page shows, made ready for its templates."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Sequence
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any
from zlib import crc32

from django.urls import reverse
from django.utils.safestring import mark_safe

from parts.dimensions.cards import has_card
from parts.dimensions.in_hand import NOTHING_IN_HAND, InHand
from parts.fit.bands import Verdict
from parts.fit.drawings import bar_svg, dial_svg, section_half_svg, section_svg, stack_svg, window_svg
from parts.fit.pressure import under_pressure
from parts.fit.records import describe, input_of
from parts.fit.units import unit_word
from parts.fit.verdicts import part_in_words
from parts.library.kinds import KIND_OF
from parts.library.notes import notes_for
from parts.pairings.answer import changes_since
from parts.pairings.measured_now import FIELD as MEASURED
from parts.pairings.measured_now import has_a_part, measured_address
from parts.pairings.placing import field_of, place_of, placed
from parts.pairings.trying import press
from parts.pairings.worksheet import PREFIX, part_rows, rule_rows, rule_words
from parts.sheets import sources_of
from parts.trials.numbers import numbers_of

if TYPE_CHECKING:
    from parts.fit import Report
    from parts.models import Pairing
    from parts.pairings.answer import Answer

HAS = "has"
"""What a page says it shows already, by the marks of its drawings and checks: that is not sent again."""
SHOWN = "numbers-of"
"""The form's hidden field that says which parts' numbers the page shows."""
_KINDS = {"part": "Make or buy", "work": "At the bench", "accept": "For the customer to accept"}


@dataclass(frozen=True, slots=True)
class CheckRow:
    """A check with its bar and its remedies in words; `has` are the marks of what the page shows already."""

    check: object
    bar: str = ""
    remedies: Sequence[tuple[str, str]] = ()
    has: Collection[str] = ()

    @property
    def mark(self):
        """Tells the row from any other that reads differently."""
        check, value = self.check, self.check.value
        number = (value.value, value.half_width, value.rss) if value.known else ()
        return _mark(
            repr((check.title, check.must, str(check.verdict), check.sentence, number, self.bar, self.remedies))
        )

    @property
    def is_there(self):
        """Whether the page that asks shows it as it is."""
        return self.mark in self.has

    @property
    def numbered(self):
        """Whether its value says more than its verdict: what is simply there or not has none."""
        return self.check.key != "date-present"

    @property
    def margin(self):
        """The margin in its own unit; None for counts, where it tells nothing."""
        return None if self.check.unit == "count" else self.check.margin


def report_context(
    *,
    answered: Answer,
    pairing: Pairing,
    saved_report: dict[str, Any] | None,
    hand: InHand = NOTHING_IN_HAND,
    has: Collection[str] = (),
) -> dict[str, Any]:
    """The context of the report: verdict, what to measure next, drawings, checks, and changes since it was kept."""
    report = answered.report
    marks = [(PREFIX + path, answered.faults.get(path, "")) for path in pairing.what_if]
    shown: dict[str, Any] = {"answer": answered, "fault_marks": marks, "faults": faults_of(answered)}
    notes = notes_for([pairing.case, pairing.dial, pairing.movement])
    shown |= {"notes": notes, "notes_mark": _mark(repr([(note.pk, note.at) for note in notes]))}
    shown["notes_are_there"] = shown["notes_mark"] in has
    if report is None:
        return shown | {"refused": phrase_of(answered.error.key) if answered.error else ""}
    return (
        shown
        | {
            "report": report,
            "changed_numbers": changed_numbers(answered, pairing),
            "tried": tried(answered, pairing),
            "tried_paths": " ".join(pairing.what_if),
            "waiting": waiting(report),
            "waits": report.waits,
            "chance_address": chance_address(pairing),
            "hand": hand,
            "asking": [_check_row(check, has) for check in _by_trouble(report)],
            "fitting": [CheckRow(check, has=has) for check in report.checks if check.verdict is Verdict.FITS],
            "hindrances": [check for check in report.checks if check.must and check.verdict == Verdict.NO],
            "remedies": remedies(report),
            "heights": hand_heights(report),
            "pressure": under_pressure(report.pairing),
            "changed": changes_since(saved_report, report),
            "missing": missing(report),
        }
        | to_measure(report, pairing, hand, has)
        | drawings(report, staying=pairing.kept_hands, pressed=press, has=has)
    )


_TROUBLE = (Verdict.NO, Verdict.UNCLEAR, Verdict.WORK)


def _by_trouble(report):
    """The checks that ask for something, the worst first, musts before advice."""
    asking = [check for check in report.checks if check.verdict in _TROUBLE]
    return sorted(asking, key=lambda check: (not check.must, _TROUBLE.index(check.verdict)))


def waiting(report):
    """The parts that are not chosen yet, in words."""
    return ["hands" if name == "hands" else part_in_words(name).removeprefix("the ") for name in report.waiting]


def chance_address(pairing):
    """Where the page asks for the chance of what it shows."""
    return reverse("parts:pairing-chance", args=[pairing.pk]) if pairing.pk else reverse("parts:pairing-new-chance")


def faults_of(answered):
    """The what-if numbers that were left out: (path, words, what is wrong)."""
    return [(path, phrase_of(path), fault) for path, fault in answered.faults.items()]


def changed_numbers(answered, pairing):
    """The what-if numbers that the report was made with, as "dial thickness 0.45"."""
    return [words for _, words in tried(answered, pairing)]


def tried(answered, pairing):
    """The same with their paths."""
    typed = pairing.what_if.items()
    return [(path, f"{phrase_of(path)} {text}") for path, text in typed if path not in answered.faults]


def missing(report):
    """What is not measured and would else be drawn, in words."""
    paths = {path for check in report.checks for path in check.missing}
    inputs = {path: describe(path).input for path in paths}
    drawn = (path for path, entered in inputs.items() if not entered or entered.unit in ("mm", "deg"))
    return sorted(phrase_of(path) for path in drawn if not path.endswith("centre_of_mass"))


@dataclass(frozen=True, slots=True)
class Drawn:
    """A drawing as markup; `has` are the marks of what the page shows already."""

    markup: str
    has: Collection[str] = ()

    @property
    def mark(self):
        """Tells it from any other drawing."""
        return _mark(self.markup)

    @property
    def is_there(self):
        """Whether the page that asks shows it as it is."""
        return self.mark in self.has

    def __bool__(self):
        return bool(self.markup)


def _mark(markup):
    return f"{crc32(markup.encode()):x}"


def drawings(
    report: Report,
    *,
    staying: Collection[str] = (),
    pressed: Callable[[str], Callable[[str], str]] | None = None,
    has: Collection[str] = (),
) -> dict[str, Drawn]:
    """The drawings; their words are escaped where they are made.

    `staying` names the hands that stay with the watch, `pressed` gives for a place on the page where a number leads,
    `has` are the marks of what the page shows already.
    """
    markups = _markups(report, tuple(staying), pressed)
    return {name: Drawn(markup, has) for name, markup in markups.items()}


@lru_cache(maxsize=32)
def _markups(
    report: Report, staying: tuple[str, ...], pressed: Callable[[str], Callable[[str], str]] | None
) -> dict[str, str]:
    of_section, beside = (pressed("section"), pressed("drawings")) if pressed else (None, None)
    drawn = {
        "section": section_svg(report, staying=staying, press=of_section),
        "section_half": section_half_svg(report, staying=staying, press=of_section, beside_whole=True),
        "stack": stack_svg(report, staying=staying, press=beside),
        "dial": dial_svg(report, staying=staying),
        "window": window_svg(report, press=beside),
    }
    return {name: mark_safe(markup) for name, markup in drawn.items()}


def remedies(report):
    """What it takes, by kind: (kind in words, (check, text) pairs), kinds without any left out."""
    by_kind = {kind: [] for kind in _KINDS}
    for check, remedy in report.asked_for:
        by_kind[remedy.kind].append((check, remedy.text))
    return [(_KINDS[kind], items) for kind, items in by_kind.items() if items]


def hand_heights(report):
    """What each hand is set by: name, height of its top above the dial, lift above flush, mm."""
    p = report.pairing
    seats = [*p.seating.seats.items(), *((name, small.seat) for name, small in p.small.items() if small.seat)]
    return [{"name": name, "height": report.above_dial(seat), "lift": seat.lift} for name, seat in seats]


def measure_next(report: Report, hand: InHand = NOTHING_IN_HAND) -> list[tuple[str, str, list[str]]]:
    """What to measure next: (path, words, titles of the checks that it decides); nothing that cannot be closer."""
    closest = taken_closest(report, hand)
    return [line for line in _open_numbers(report) if line[0] not in closest]


def closest(report: Report, hand: InHand) -> list[tuple[str, str, list[str]]]:
    """What decides and is measured as closely as the shop can, as `measure_next` tells it."""
    taken = taken_closest(report, hand)
    return [line for line in _open_numbers(report) if line[0] in taken]


def _open_numbers(report):
    return [(path, phrase_of(path), [report[key].title for key in keys]) for path, keys in report.measure_next]


def taken_closest(report: Report, hand: InHand) -> set[str]:
    """The paths of what decides, is measured, and no instrument of the shop takes any closer."""
    known = dict(numbers_of(report.pairing.sheet))
    lacking = {path for check in report.checks for path in check.undecided}
    deciding = {path for path, _ in report.measure_next} - lacking
    return {
        path
        for path in deciding
        if path in known and not hand.takes_closer(path, unit=input_of(path).unit, than=known[path].half_width)
    }


@dataclass(frozen=True, slots=True)
class ToMeasure:
    """A number to measure next: its words, the titles of the checks that it settles, and where it is stored.

    `now` is what is known of it, `better` the instrument of the shop that does best there.

    `address` stores it right there; `elsewhere` leads to where it is typed, where a list of its part has it.
    """

    path: str
    words: str
    titles: list[str]
    address: str = ""
    elsewhere: str = ""
    unit: str = ""
    now: str = ""
    better: str = ""
    has: Collection[str] = field(default=(), repr=False)

    @property
    def mark(self):
        """Tells the line from any other."""
        return _mark(repr(self))

    @property
    def is_there(self):
        """Whether the page that asks shows it as it is."""
        return self.mark in self.has

    @property
    def field(self):
        """The name of its input."""
        return MEASURED + self.path

    @property
    def field_id(self):
        """The id of its input."""
        return re.sub(r"[^a-z0-9]+", "-", self.field)

    @property
    def has_card(self):
        """Whether a card tells how it is taken."""
        return has_card(self.path)


def to_measure(
    report: Report, pairing: Pairing, hand: InHand = NOTHING_IN_HAND, has: Collection[str] = ()
) -> dict[str, list[ToMeasure]]:
    """What to measure next, each with its field where its part can take it, and what the shop cannot take closer.

    `has` are the marks of what is shown.
    """
    lines = [
        replace(_to_measure(path, words, titles, pairing, hand), has=has)
        for path, words, titles in _open_numbers(report)
    ]
    closest = taken_closest(report, hand)
    return {
        "measure_next": [line for line in lines if line.path not in closest],
        "closest": [line for line in lines if line.path in closest],
    }


def _to_measure(path, words, titles, pairing, hand):
    part = path.partition(".")[0]
    if part in pairing.typed_parts:
        return ToMeasure(path, words, titles, elsewhere=reverse("parts:quick", args=[pairing.draft_key]))
    if not has_a_part(pairing, path):
        return ToMeasure(path, words, titles)
    if place_of(pairing, path) is None:
        record = getattr(pairing, field_of(pairing, path), None)
        edit = reverse("parts:edit", args=[KIND_OF[part].slug, record.pk]) if record else ""
        back = f"?fit_check={pairing.pk}" if edit and pairing.pk else ""
        return ToMeasure(path, words, titles, elsewhere=edit + back)
    holder, dimension = placed(pairing, path)
    return ToMeasure(
        path,
        words,
        titles,
        measured_address(pairing),
        unit=unit_word(input_of(path).unit),
        now=dimension.shown(holder),
        better=hand.best(path, than=dimension.of(holder)[1] or None, unit=input_of(path).unit),
    )


def worksheet_context(*, answered: Answer, pairing: Pairing) -> dict[str, Any]:
    """The context of the list of all numbers."""
    typed = {"changes": pairing.what_if, "faults": answered.faults}
    rows = part_rows(pairing, sources=sources_of(pairing), **typed)
    return {"worksheet": rows, "rules": rule_rows(**typed), "shown_field": SHOWN, "shown": pairing.part_keys}


def _check_row(check, has):
    remedies = [(_KINDS[remedy.kind], remedy.text) for remedy in check.remedies]
    return CheckRow(check, mark_safe(bar_svg(check)), remedies, has)


def phrase_of(path):
    """A path of the sheet, or a bench rule, in words."""
    if path.startswith("rules."):
        return rule_words(path.removeprefix("rules."))
    try:
        return describe(path).phrase
    except (KeyError, ValueError):
        return path
