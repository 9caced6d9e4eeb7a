"""What the page of a quick check shows, made ready for its templates."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from django.urls import reverse
from django.utils.safestring import mark_safe
from django.utils.text import slugify

from parts.dimensions.cards import has_card, unusual
from parts.dimensions.form_field import DimensionField
from parts.dimensions.readings import how_taken
from parts.dimensions.text import show_dimension
from parts.dimensions.typed import GAUGES, IS, has_small, measured_path, picked_at
from parts.fit.bands import Verdict
from parts.fit.drawings import section_half_svg, section_svg
from parts.fit.records import input_of
from parts.fit.units import UNITS
from parts.library.kinds import KIND_OF
from parts.pairings.page import Drawn, closest, measure_next, phrase_of, remedies, waiting
from parts.pairings.placing import field_of
from parts.quick.asked import (
    CASE,
    CRYSTAL,
    DIAL,
    HANDS,
    LAST,
    LOOKED_AT,
    MOVEMENT,
    NUMBERS,
    PICKS,
    SMALL_HAND,
    at_its_datum,
    is_asked,
    is_from_the_front,
    is_offered,
    letters_of,
)
from parts.quick.typing import NUMBER, PICK
from parts.quick.where import front_of, marks

if TYPE_CHECKING:
    from parts.dimensions.in_hand import InHand
    from parts.fit import Report
    from parts.models import Pairing
    from parts.pairings.answer import Answer
    from parts.quick.asked import Asked, Station


@dataclass(frozen=True, slots=True)
class Line:
    """One number on the page. `how` says how it was taken or which plus-minus it will take; `fault` blocks it."""

    asked: Asked
    letter: str
    unit: str
    text: str = ""
    how: str = ""
    fault: str = ""
    doubts: list[str] = field(default_factory=list)
    here: bool = False

    @property
    def name(self) -> str:
        """The name of its input."""
        return NUMBER + self.asked.path

    @property
    def state(self) -> str:
        """Its look: wrong, in doubt, in, the one to measure now, or still to come."""
        if self.fault:
            return "wrong"
        if self.text:
            return "doubt" if self.doubts else "in"
        return "here" if self.here else ""


@dataclass(frozen=True, slots=True)
class PickLine:
    """A choice on the page: (word, label, picked) triples."""

    path: str
    label: str
    options: list[tuple[str, str, bool]]

    @property
    def name(self) -> str:
        """The name of its inputs."""
        return PICK + self.path


@dataclass(frozen=True, slots=True)
class StationLines:
    """A station on the page. `chosen`: a part of the library has its numbers; `is_own`: another hand than the set's."""

    title: str
    key: str
    lines: list[Line]
    picks: list[PickLine]
    ran: list[Line]
    more: list[Line]
    chosen: bool
    is_own: bool = False

    @property
    def count(self) -> int:
        """How many of its numbers are in."""
        return sum(1 for line in self.lines if line.state in ("in", "doubt"))

    @property
    def is_typed(self) -> bool:
        """Whether any of its first numbers is in, or wrong."""
        return any(line.text or line.here for line in self.lines)

    @property
    def all_lines(self) -> list[Line]:
        """Its numbers, the folded ones too."""
        return [*self.lines, *self.ran, *self.more]

    @property
    def has_run_typed(self) -> bool:
        """Whether any of what ran together is in, or wrong."""
        return any(line.text for line in self.ran)

    @property
    def has_more_typed(self) -> bool:
        """Whether any of its seldom numbers is in, wrong or asked for now."""
        return any(line.text or line.here for line in self.more)


def quick_context(*, pairing: Pairing, answered: Answer, hand: InHand) -> dict[str, Any]:
    """The context of the page: stations, verdict, what to measure next, section."""
    report = answered.report
    at = next_number(pairing, answered, hand)
    stations = {
        f"{station.part}_station": _station(station, pairing, answered, hand, at) for station in (CASE, DIAL, MOVEMENT)
    }
    hands = [_station(station, pairing, answered, hand, at) for station in (*HANDS.values(), SMALL_HAND)]
    last = _station(CRYSTAL, pairing, answered, hand, at)
    every = [line for station in (*stations.values(), *hands, last) for line in station.all_lines]
    own_hands = (picked_at(pairing.typed, part) for part in ("hands.seconds", SMALL_HAND.part))
    context = {
        "pairing": pairing,
        "all_lines": every,
        "shown": " ".join([pairing.part_keys, *own_hands, *_paths(every)]),
        "counted": [stations["case_station"], stations["dial_station"], last],
        "marks": marks(every, from_the_front=is_from_the_front(pairing)),
        "from_the_front": is_from_the_front(pairing),
        "front": front_of(pairing),
        "answer": answered,
        "hand_stations": hands,
        "last": last,
    }
    context |= stations
    if answered.error:
        context["refused"] = [phrase_of(key) for key in (answered.error.key, answered.error.other) if key]
    if at:
        unit = input_of(measured_path(at)).unit if at in NUMBERS else "mm"
        context["next"] = _next(at, pairing) | {"better": hand.best(at, unit=unit)}
    elif report and report.verdict is not Verdict.NO:
        context["choose"] = to_choose(report)
        context["keeps"] = not to_choose(report)
        context["closest"] = [words for _, words, _ in closest(report, hand)]
    if report is None:
        return context
    deciding = [check for check in report.checks if check.must]
    answered_checks = [check for check in deciding if check.verdict is not Verdict.UNCLEAR]
    context |= {
        "report": report,
        "why": report.why,
        "waiting": [word for word in waiting(report) if word not in _LATER],
        "later": [word for word in waiting(report) if word in _LATER],
        "answered_checks": len(answered_checks),
        "all_checks": len(deciding),
        "fitting": sum(1 for check in answered_checks if check.verdict is Verdict.FITS),
        "remedies": remedies(report),
        "hindrances": [check for check in report.checks if check.must and check.verdict is Verdict.NO],
        "section": Drawn(mark_safe(section_svg(report))),
        "section_half": Drawn(mark_safe(section_half_svg(report, beside_whole=True))),
        "drawn_whole": {"case", "movement"} <= {*pairing.chosen},
        "decides": [report[key].title for path, keys in report.measure_next if path == at for key in keys],
    }
    return context


_LATER = ("stem", "crown")
"""Parts that are chosen once the numbers are kept, in the fit check itself."""


def to_choose(report: Report) -> list[str]:
    """The parts of this page that are still to be chosen; stem and crown are not asked for here."""
    return [name for name in ("movement", "hands") if name in report.waiting]


def _paths(lines):
    return [line.asked.path for line in lines]


def next_number(pairing: Pairing, answered: Answer, hand: InHand) -> str:
    """The path of what to take next: the first number that is asked and missing, then what decides what is unclear.

    Nothing is asked for that the shop takes no closer. Nothing is measured better, nor looked at, nor the crystal's
    gap, before there are movement and hands to fit.
    """
    if answered.error:
        return ""
    in_order = letters_of(pairing)
    wanted = [path for path in in_order if not pairing.holds(path.partition(".")[0])]
    bounded = {measured_path(path) for path in pairing.typed}
    wanted = [path for path in wanted if path not in bounded and is_asked(path, pairing)]
    report = answered.report
    if report is None or not report.has_verdict:
        return _after_the_last(wanted, pairing)
    if report.verdict is Verdict.NO:
        return ""
    if to_choose(report):
        wanted = [path for path in wanted if path not in LAST]
    if report.verdict is not Verdict.UNCLEAR and report.waiting:
        return _after_the_last(wanted, pairing)
    open_now = [path for path, _, _ in measure_next(report, hand)]
    can_be_typed = [path for path in (*in_order, *NUMBERS) if path in open_now and _is_typed_here(path, pairing)]
    missing = [path for path in can_be_typed if path not in pairing.typed]
    if missing or not report.waiting:
        return next(iter([*missing, *open_now]), "")
    first = _after_the_last(wanted, pairing)
    return first if first or to_choose(report) else next(iter(open_now), "")


def _after_the_last(wanted, pairing):
    """The first wanted number behind the last one that is in; before that one where there is none."""
    order = list(letters_of(pairing))
    last = max((order.index(path) for path in pairing.typed if path in order), default=-1)
    return next(iter([path for path in wanted if order.index(path) > last] or wanted), "")


def _next(path, pairing):
    """The number to take next: what it is called, and its letter and field where it is typed on this page."""
    again = path in pairing.typed
    if not _is_typed_here(path, pairing):
        return {"words": phrase_of(path), "again": True, "path": _card(path)} | _part_of(path, pairing)
    if path in LOOKED_AT:
        pick = PICKS[LOOKED_AT[path]]
        if picked_at(pairing.typed, pick.path) in ("", "none"):
            return {"words": phrase_of(path), "look": f"{PICK}{pick.path}-1", "way": pick.label}
        path = next((name for name in NUMBERS if name.startswith(path) and name not in pairing.typed), path)
    if path not in NUMBERS:
        return {"words": phrase_of(path), "again": again, "path": _card(path), "once_kept": True}
    asked = at_its_datum(NUMBERS[path], pairing)
    words = phrase_of(path) if path.startswith("hands.") else f"{asked.label[:1].lower()}{asked.label[1:]}"
    return {
        "words": words,
        "again": again,
        "letter": letters_of(pairing).get(path, ""),
        "field": NUMBER + path,
        "way": asked.way,
        "path": _card(path),
    }


def _card(path):
    return path if has_card(path) else ""


def _part_of(path, pairing):
    """The part of the library that has this number, and its page."""
    part = getattr(pairing, field_of(pairing, path))
    slug = KIND_OF[path.partition(".")[0]].slug
    return {"part": part, "part_address": reverse("parts:detail", args=[slug, part.pk]) if part else ""}


def _is_typed_here(path, pairing):
    """Whether the number is of a part that is typed and not chosen."""
    part, _, rest = path.partition(".")
    return not pairing.holds(part) or (
        part == "hands" and bool(picked_at(pairing.typed, f"hands.{rest.partition('.')[0].partition('[')[0]}"))
    )


def _station(station: Station, pairing: Pairing, answered: Answer, hand: InHand, at: str) -> StationLines:
    of_hands = station.part.startswith("hands.")
    chosen = _has_hand(station, pairing) if of_hands else pairing.holds(station.part)
    lines, ran, more = (
        [] if chosen else _lines(numbers, pairing, answered, hand, at)
        for numbers in (station.asked, station.ran, station.more)
    )
    picks = [
        PickLine(
            pick.path,
            pick.label,
            [(word, label, picked_at(pairing.typed, pick.path) == word) for word, label in pick.options],
        )
        for pick in station.picks
        if (not chosen or pick.path in ("hands.seconds", SMALL_HAND.part, "dial.own_case"))
        and is_offered(pick, pairing)
    ]
    key = slugify(station.title)
    return StationLines(
        station.title, key, lines, picks, ran, more, chosen, picked_at(pairing.typed, station.part) == IS
    )


def _has_hand(station, pairing):
    """Whether the hand comes from a set, or the watch has none such."""
    picked = picked_at(pairing.typed, station.part)
    if picked == "none" or (station is SMALL_HAND and not has_small(pairing.typed, pairing.beside_typed)):
        return True
    is_single = pairing.hand_field(station.part.partition(".")[2]) != "hands"
    return is_single or (pairing.holds("hands") and picked != IS)


def _lines(numbers, pairing, answered, hand, at):
    asked_for = (at_its_datum(asked, pairing) for asked in numbers if is_asked(asked.path, pairing))
    return [_line(asked, pairing, answered, hand, at) for asked in asked_for]


def _line(asked, pairing, answered, hand, at):
    entry = pairing.typed.get(asked.path, {})
    spec = input_of(measured_path(asked.path))
    doubts = answered.report.doubts if answered.report else ()
    return Line(
        asked,
        letters_of(pairing).get(asked.path, ""),
        UNITS[spec.unit].behind.strip(),
        entry.get("text", ""),
        _how(asked.path, entry, spec.unit) or DimensionField.at(measured_path(asked.path), hand=hand).to_come,
        entry.get("fault", "") or _contradicted(asked.path, answered.error),
        [doubt.sentence for doubt in doubts if asked.path in doubt.inputs] + _unusual(asked.path, entry),
        asked.path == at,
    )


def _unusual(path, entry):
    """A doubt about a number outside what is usual for a watch."""
    if path in GAUGES or entry.get("value") is None:
        return []
    sentence = unusual(path, entry["value"], unit=input_of(path).unit)
    return [sentence] if sentence else []


def _how(path, entry, unit):
    """A number as it was read, with how it was taken, or what it proves; empty where it was not read."""
    if entry.get("value") is None:
        return ""
    if path in GAUGES:
        proven, times = GAUGES[path]
        bound = show_dimension(times * (entry["value"] - entry["plus_minus"]), unit=unit, at_least=True)
        return f"{phrase_of(proven)}: {bound}"
    number = show_dimension(entry["value"], entry["plus_minus"], unit=unit, at_least=entry["at_least"])
    return ", ".join(filter(None, [number, how_taken(entry["taken"], unit=unit)]))


def _contradicted(path, error):
    if error is None or path not in (error.key, error.other):
        return ""
    return f"{error.reason[:1].upper()}{error.reason[1:]}. {phrase_of(error.key).capitalize()} must be {error.limit}."
