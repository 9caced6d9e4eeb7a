"""Records to pairing sheet and back: the only module that knows both the models and the engine's sheet.

The sheet is a plain dict as JSON has it (fit model section 2): a dimension is a number, [value, plus_minus],
or None where it is not measured. A part that is not chosen is an empty dict. A record may stand for many, its
dimensions being columns; then so are the sheet's.
"""

from collections.abc import Iterable
from typing import Any

from django.core.exceptions import ValidationError
from django.db import transaction

from parts.dimensions.field import Source
from parts.dimensions.text import format_dimension
from parts.fit.arithmetic.elementwise import is_column
from parts.fit.check import laid_out
from parts.fit.doubts import doubts
from parts.fit.errors import SheetError
from parts.fit.pressure import under_pressure
from parts.fit.records import HANDS, SMALL_HANDS
from parts.fit.sheet import NONE, parse_sheet, read_sheet
from parts.models import Case, Crown, Dial, DialFoot, DialFurniture, FootHole, Hand, HandSet, Movement, Pairing, Stem
from parts.models.base import Part
from parts.models.pairing import SMALL_SECONDS

FROM_THE_FRONT = {
    *("floor_stem", "floor_ring", "floor_crystal_centre", "floor_crystal_edge", "ring"),
    *("front_opening_diameter", "front_opening_outline"),
}
"""What only a case loaded from the front has."""


def sheet_of(pairing):
    """The pairing sheet of a Pairing's own parts, chosen and typed, without its what-if changes."""
    sheet = sheet_for(
        case=pairing.case,
        dial=pairing.dial,
        movement=pairing.movement,
        stem=pairing.stem,
        crown=pairing.crown,
        placement=pairing.placement,
    )
    return _with_small_tried(_with_typed(sheet | {"hands": chosen_hands_sheet(pairing)}, pairing), pairing)


def _with_typed(sheet, pairing):
    """The sheet with what was typed of parts that are not chosen, each hand by itself."""
    typed = pairing.typed_parts
    hands = typed.pop("hands", {})
    sheet |= typed
    if hands:
        own = {
            role: hand and hand | {"tried": getattr(pairing, f"tried_{role}") or None}
            for role, hand in hands.items()
            if role in HANDS
        }
        sheet["hands"] = {role: {} for role in HANDS} | sheet["hands"] | hands | own
    if "case" in typed and pairing.dial and pairing.typed.get("dial.own_case"):
        sheet["dial"]["own_case"] = True
    return sheet


def _with_small_tried(sheet, pairing):
    """The sheet with what trying the small seconds hand said: the one chosen by itself, else the first small one."""
    small = sheet["hands"].get(SMALL_HANDS)
    if small and pairing.tried_small_seconds:
        single = [post for post, field in pairing.small_hands.items() if field == SMALL_SECONDS]
        post = next(iter([*single, *small]))
        sheet["hands"] |= {SMALL_HANDS: small | {post: small[post] | {"tried": pairing.tried_small_seconds}}}
    return sheet


def chosen_hands_sheet(pairing):
    """The hands' part of the sheet, each hand from its own set, with what trying it on its post said.

    A hand whose set is not chosen is empty; a set without a seconds hand says that the watch has two.
    """
    sheet = {}
    for role, hand in chosen_hands(pairing).items():
        sheet[role] = hand and _numbers(hand) | {"tried": getattr(pairing, f"tried_{role}") or None}
    small = chosen_small_hands(pairing)
    if not any(sheet.values()) and not small:
        return {}
    return {role: sheet.get(role, {}) for role in HANDS} | ({SMALL_HANDS: small} if small else {})


def chosen_small_hands(pairing):
    """The small hands' numbers by the names of their posts, each from its own set."""
    return {post: getattr(pairing, field).subsidiary[post] for post, field in pairing.small_hands.items()}


def shows_seconds(pairing):
    """Whether a chosen hand shows the seconds: one of the centre, or a small one."""
    return bool(chosen_hands(pairing).get("seconds") or pairing.small_hands)


def chosen_hands(pairing):
    """The Hand of each role whose set is chosen, None where that set, or the watch, has no such hand."""
    sets = {role: pairing.hand_set_for(role) for role in HANDS}
    hands = {hand_set: {hand.role: hand for hand in hand_set.hands.all()} for hand_set in {*sets.values()} - {None}}
    chosen = {role: hands[hand_set].get(role) for role, hand_set in sets.items() if hand_set}
    return chosen | ({"seconds": None} if pairing.no_seconds_hand else {})


def sheet_for(
    *,
    case: Case | None = None,
    dial: Dial | None = None,
    movement: Movement | None = None,
    hands: HandSet | None = None,
    stem: Stem | None = None,
    crown: Crown | None = None,
    placement: str = "auto",
) -> dict[str, Any]:
    """The pairing sheet of these parts."""
    sheet = {
        "case": case_sheet(case) if case else {},
        "dial": dial_sheet(dial, feet=dial.feet.all(), furniture=dial.furniture.all()) if dial else {},
        "movement": movement_sheet(movement, foot_holes=movement.foot_holes.all()) if movement else {},
        "hands": hands_sheet(hands.hands.all(), hands.subsidiary) if hands else {},
        "stem": stem_sheet(stem) if stem else {},
        "crown": crown_sheet(crown) if crown else {},
        "spacer": {"placement": placement},
    }
    if case and dial:
        sheet["dial"]["own_case"] = came_out_of(dial, case)
    if case and crown:
        sheet["crown"]["own_tube"] = came_out_of(crown, case)
    return sheet


def came_out_of(part, case):
    """Whether a dial or a crown came out of this case; copies for one job count as what they are copies of."""
    return part.out_of_id is not None and part.out_of_id in (case.pk, case.copied_from_id)


def case_sheet(case):
    sheet = (
        _numbers(case)
        | _pieces(case)
        | {
            "construction": case.loading,
            "ring": case.ring or None,
            **{name: getattr(case, name) or None for name in Case.MATERIALS},
        }
    )
    if case.loading == Case.Loading.FRONT:
        return sheet
    return {name: value for name, value in sheet.items() if name not in FROM_THE_FRONT}


def dial_sheet(dial: Dial, *, feet: Iterable[DialFoot], furniture: Iterable[DialFurniture]) -> dict[str, Any]:
    """The dial's part of the sheet; its rows are given, since they may not be saved yet."""
    sheet = (
        _numbers(dial)
        | _pieces(dial)
        | {
            "feet": [_numbers(foot) for foot in feet] if dial.feet_recorded else None,
            "day_window": (dial.day_window and dial.day_place) or dial.day_window,
            "rests_on": dial.rests_on,
            "fixing": dial.fixing or None,
            "furniture": [{"name": item.name} | _numbers(item) for item in furniture],
        }
    )
    return sheet if dial.has_window else sheet | {"window": _absent(dial.has_window)}


def movement_sheet(movement: Movement, *, foot_holes: Iterable[FootHole]) -> dict[str, Any]:
    """The movement's part of the sheet; its foot holes are given, since they may not be saved yet."""
    sheet = (
        _numbers(movement)
        | _pieces(movement)
        | {
            "foot_holes": [_numbers(hole) for hole in foot_holes] if movement.foot_holes_recorded else None,
            "day": (movement.has_day and movement.day_disc) or movement.has_day,
        }
    )
    return sheet if movement.has_date else sheet | {"date": _absent(movement.has_date)}


def _absent(looked) -> str | None:
    """What a sheet says of a thing that is not there: nothing where nobody looked."""
    return None if looked is None else NONE


def hands_sheet(hands, small=None):
    """The hand set's part of the sheet, from its Hand rows."""
    by_role = {hand.role: _numbers(hand) for hand in hands}
    small = {SMALL_HANDS: small} if small else {}
    return {role: by_role.get(role) for role in HANDS} | small


def stem_sheet(stem):
    sheet = _numbers(stem)
    return sheet if any(value is not None for value in sheet["joint"].values()) else sheet | {"joint": None}


def crown_sheet(crown):
    return _numbers(crown) | {"style": crown.style or None}


def part_sheet(part, record):
    """A saved record as its part of the sheet ("movement")."""
    return sheet_for(**{part: record})[part]


def contradiction(record, **rows):
    """The SheetError of a part whose dimensions contradict each other, or None.

    `rows` are the part's rows, saved or not: feet and furniture, foot_holes, or hands.
    """
    try:
        read_sheet(_alone(record, **rows))
    except SheetError as error:
        return error


def pressure_on(record):
    """What pressure does to a saved case by itself, as findings; none for any other part, or where nobody measured."""
    if not isinstance(record, Case):
        return []
    try:
        return under_pressure(laid_out(*read_sheet({"case": case_sheet(record)}), "front", {"case"}))
    except SheetError:
        return []


def doubts_of(record):
    """What is only unlikely among a saved part's own numbers, in sentences; none where they contradict each other."""
    return [doubt.sentence for doubt in doubts_among(record, **rows_of(record))]


def rows_of(record):
    """The saved rows of a part, as `contradiction` takes them."""
    lists = {Dial: ("feet", "furniture"), Movement: ("foot_holes",), HandSet: ("hands",)}.get(type(record), ())
    return {name: list(getattr(record, name).all()) for name in lists}


def doubts_among(record, **rows):
    """The Doubts of a part with its rows, saved or not, as `contradiction` takes them."""
    try:
        sheet, _ = read_sheet(_alone(record, **rows))
    except SheetError:
        return []
    return doubts(sheet)


def _alone(record, **rows):
    """A sheet with this part alone; empty for what is no part whose numbers say something of each other."""
    if isinstance(record, Dial):
        return {"dial": dial_sheet(record, **rows)}
    if isinstance(record, Movement):
        return {"movement": movement_sheet(record, **rows)}
    if isinstance(record, HandSet):
        return {"hands": hands_sheet(**rows)}
    if isinstance(record, Stem):
        return {"stem": stem_sheet(record)}
    return {"case": case_sheet(record)} if isinstance(record, Case) else {}


def sources_of(pairing):
    """Where each measured dimension comes from: path of the sheet to a word ("measured", "maker's sheet")."""
    sources = {}
    for key in ("case", "dial", "movement", "stem", "crown"):
        sources |= _sources(getattr(pairing, key))
    if pairing.dial:
        for key in ("feet", "furniture"):
            for i, row in enumerate(getattr(pairing.dial, key).all()):
                sources |= _sources(row, f"dial.{key}[{i}].")
    if pairing.movement:
        for i, hole in enumerate(pairing.movement.foot_holes.all()):
            sources |= _sources(hole, f"movement.foot_holes[{i}].")
    for role, hand in chosen_hands(pairing).items():
        sources |= _sources(hand, f"hands.{role}.")
    return sources


def records_from_json(text: str, *, name: str) -> Pairing:
    """As `records_from_sheet`, from the sheet's JSON text."""
    return records_from_sheet(parse_sheet(text), name=name)


@transaction.atomic
def records_from_sheet(sheet: dict[str, Any], *, name: str) -> Pairing:
    """Make a saved Pairing called `name` with new parts of the same name from a pairing sheet.

    Bench rules of the sheet become what-if changes of the pairing. Raises SheetError, and then saves nothing.
    """
    read_sheet(sheet)
    if not sheet or not any(sheet.get(key) for key in MAKERS):
        raise SheetError("sheet", sheet, "a fit sheet with at least one part", "it has no part")
    pairing = Pairing(
        name=name,
        placement=(sheet.get("spacer") or {}).get("placement") or Pairing.Placement.AUTO,
        what_if={
            f"rules.{rule}": format_dimension(value, unit="count") for rule, value in (sheet.get("rules") or {}).items()
        },
    )
    for key, make in MAKERS.items():
        if data := sheet.get(key):
            setattr(pairing, key, make(data, name, pairing.case))
    return _saved(pairing, "name")


def _steps(dimension, record):
    return dimension.branch if isinstance(record, Part) else ()


def _pieces(record):
    """What the record holds as whole pieces of the sheet."""
    pieces = {piece.key: getattr(record, name) for name, piece in record.pieces.items()}
    return {key: value for key, value in pieces.items() if value is not None}


def _numbers(record):
    numbers = {}
    for dimension in record.dimensions.values():
        inside = numbers
        for step in _steps(dimension, record):
            inside = inside.setdefault(step, {})
        value, plus_minus, source = dimension.of(record)
        at_least = isinstance(source, str) and source == Source.AT_LEAST
        inside[dimension.key] = in_sheet(value, plus_minus, at_least=at_least)
    return numbers


def in_sheet(value: Any, plus_minus: Any, *, at_least: bool = False) -> Any:
    """A dimension as the sheet has it."""
    if value is None:
        return None
    if at_least:
        return {"at_least": value}
    return [value, plus_minus] if is_column(value) or plus_minus else value


def _sources(record, prefix=""):
    if record is None:
        return {}
    return {
        prefix + dimension.key if prefix else dimension.path: dimension.source(record)
        for dimension in record.dimensions.values()
        if dimension.source(record)
    }


def _filled(record, data):
    for dimension in record.dimensions.values():
        inside = data
        for step in _steps(dimension, record):
            inside = inside.get(step)
            inside = inside if isinstance(inside, dict) else {}
        raw = inside.get(dimension.key)
        source = Source.MEASURED
        if isinstance(raw, dict):
            raw, source = raw["at_least"], Source.AT_LEAST
        value, plus_minus = raw if isinstance(raw, list | tuple) else (raw, 0.0)
        if value is not None:
            dimension.put(record, float(value), float(plus_minus), source)
    for name, piece in record.pieces.items():
        setattr(record, name, piece.normal(data.get(piece.key)))
    return record


def _saved(record, path):
    try:
        record.full_clean()
    except ValidationError as error:
        field, messages = next(iter(error.message_dict.items()))
        raise SheetError(path, getattr(record, field, None), "storable", f"{field}: {messages[0]}") from error
    record.save()
    return record


def _looked(data: object) -> bool | None:
    """Whether a thing of the sheet is there; None where nobody looked."""
    return None if data is None else isinstance(data, dict)


def _case(data, name, _case=None):
    loading = data.get("construction") or data.get("loading") or Case.Loading.BACK
    materials = {name: data.get(name) or "" for name in Case.MATERIALS}
    case = Case(name=name, loading=loading, ring=data.get("ring") or "", **materials)
    return _saved(_filled(case, data), "case")


def _dial(data, name, case=None):
    feet, window = data.get("feet"), data.get("window")
    dial = Dial(
        name=name,
        feet_recorded=feet is not None,
        has_window=_looked(window),
        day_window=bool(data.get("day_window")),
        rests_on=data.get("rests_on") or Dial.Rests.SEAT,
        fixing=data.get("fixing") or "",
        out_of=case if data.get("own_case") else None,
    )
    _saved(_filled(dial, data), "dial")
    for i, row in enumerate(feet or ()):
        _saved(_filled(DialFoot(dial=dial), row), f"dial.feet[{i}]")
    for i, row in enumerate(data.get("furniture") or ()):
        item = DialFurniture(dial=dial, name=row.get("name") or "")
        _saved(_filled(item, row), f"dial.furniture[{i}]")
    return dial


def _movement(data, name, _case=None):
    holes, date = data.get("foot_holes"), data.get("date")
    movement = Movement(
        name=name,
        foot_holes_recorded=holes is not None,
        has_date=_looked(date),
        has_day=bool(data.get("day")),
    )
    _saved(_filled(movement, data), "movement")
    for i, row in enumerate(holes or ()):
        _saved(_filled(FootHole(movement=movement), row), f"movement.foot_holes[{i}]")
    return movement


def _hands(data, name, _case=None):
    hand_set = _saved(HandSet(name=name, subsidiary=data.get(SMALL_HANDS) or None), "hands")
    for role in HANDS:
        row = data.get(role)
        if row is not None:
            _saved(_filled(Hand(hand_set=hand_set, role=role), row), f"hands.{role}")
    return hand_set


def _stem(data, name, _case=None):
    return _saved(_filled(Stem(name=name), data), "stem")


def _crown(data, name, case=None):
    crown = Crown(name=name, style=data.get("style") or "", out_of=case if data.get("own_tube") else None)
    return _saved(_filled(crown, data), "crown")


MAKERS = {
    "case": _case,
    "dial": _dial,
    "movement": _movement,
    "hands": _hands,
    "stem": _stem,
    "crown": _crown,
}
"""Makes and saves one part from its piece of a pairing sheet, with the case that it may have come out of."""
