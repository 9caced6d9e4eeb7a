"""The cards: each dimension has its own, none speaks of what is not there, and their numbers are those that count."""

import re

import pytest

from parts.dimensions.cards import OUTLINES, SMALL, card_of, has_card
from parts.fit.records import describe, paths
from parts.library.sketches import sketch_of
from parts.measuring.how import PARTS, cards_of, how_of, station_of, stations, ways
from parts.models import Case, Dial, HandSet, Movement

PIECES = tuple(piece.path for model in (Case, Dial, Movement, HandSet) for piece in model.pieces.values())
"""What is typed as a whole piece: of these the sizes of outlines and of what is small have cards."""
NUMBERS = [path for path in paths() if describe(path.replace("[]", "[0]")).input]
MEASURED = [path for path in NUMBERS if path in OUTLINES or path in SMALL or not path.startswith(PIECES)]
WRITTEN = [card for part in PARTS for card in cards_of(part)]


def test_every_dimension_has_a_card_and_its_numbers():
    assert len(MEASURED) > 100
    assert [path for path in MEASURED if not how_of(path).steps] == []
    assert [path for path in MEASURED if not has_card(path)] == []


def test_no_card_names_a_dimension_that_is_not_there():
    assert len(WRITTEN) > 75
    assert [card.path for card in WRITTEN if card.path not in MEASURED] == []
    with pytest.raises(KeyError):
        how_of("case.colour")
    with pytest.raises(KeyError):
        how_of("dial.feet[x].angle")


def test_what_is_taken_alike_has_one_card_and_what_is_not_its_own():
    assert how_of("hands.minute.length") is how_of("hands.hour.length")
    assert how_of("hands.seconds.hub_height") is not how_of("hands.hour.hub_height")
    assert "calliper" in how_of("movement.posts.seconds.diameter").caution
    assert how_of("dial.feet[1].angle").title == "Dial foot angle"


@pytest.mark.parametrize("card", WRITTEN, ids=lambda card: card.path)
def test_a_card_is_whole(card):
    assert card.what.endswith(".")
    assert all(line.endswith(".") for line in (*card.steps, *card.traps, card.picture))
    assert card.steps
    assert card.traps
    assert set(card.ways) <= set(ways())
    assert card.caution == "" or card.caution.endswith(".")
    assert card.sketch or card.input.unit not in ("mm", "deg")


@pytest.mark.parametrize("card", WRITTEN, ids=lambda card: card.path)
def test_its_plus_minus_and_its_picture_are_those_that_count(card):
    assert not re.search(r"±\s*\d", " ".join((*card.steps, *card.traps, card.picture))), "they stand in cards.py alone"
    numbers = card_of(card.path)
    used = {*numbers.by_kind} - {*numbers.never}
    assert len(card.tools) == (len(used) or bool(numbers.any_tool)) or numbers.exact
    assert card.picture.startswith("Yes" if "picture" in numbers.by_kind else "No")


def test_its_numbers_are_told_with_their_units():
    bore = how_of("case.bore_diameter")
    assert bore.tools == ["calliper ±0.05 mm", "picture ±0.05 mm", "step discs ±0.02 mm"]
    assert bore.usual == "14.00 to 42.00 mm"
    assert how_of("case.stem_angle").tools == ["picture ±0.5°"]
    assert how_of("hands.hour.mass").tools == ["balance ±0.4 mg"]
    assert how_of("hands.hour.made_for").tools == []


@pytest.mark.parametrize(
    "path",
    [
        *("movement.posts.seconds.diameter", "movement.posts.seconds.height"),
        *("movement.subsidiary[].diameter", "movement.subsidiary[].height"),
    ],
)
def test_no_jaw_is_named_for_a_seconds_post(path):
    card = how_of(path)
    assert "Never a calliper or a micrometer on a seconds post" in card.caution
    assert not [tool for tool in card.tools if tool.startswith(("calliper", "micrometer", "depth"))]


def test_each_dimension_is_taken_at_one_station_of_the_bench():
    assert [station.number for station in stations()] == list(range(1, 11))
    named = [path for station in stations() for path in station.paths]
    assert len(named) == len(set(named))
    assert set(named) <= set(MEASURED)
    assert station_of("hands.minute.length").number == 5
    assert [path for path in MEASURED if station_of(path) is None] == []


def test_every_hand_and_row_has_the_sketch_of_the_first():
    assert sketch_of("hands.seconds.tail") == sketch_of("hands.hour.tail")
    assert sketch_of("movement.current") is None


def test_the_sizes_of_an_outline_are_taken_as_those_of_an_inner_or_an_outer_edge():
    bore, dial = how_of("case.bore_outline.width"), how_of("dial.outline.width")
    assert ("inside jaws" in bore.steps[0], "nside" in dial.steps[0]) == (True, False)
    assert bore.tools == ["calliper ±0.05 mm", "picture ±0.05 mm"]
    assert bore.sketch.outline == "case-shaped"
    assert "largest radius" in how_of("case.seat_outline.corner").traps[0]
    assert "smallest radius" in how_of("movement.fit_outline.corner").traps[0]
    assert station_of("case.bore_outline.corner") == station_of("case.bore_diameter")


def test_what_is_small_has_cards_with_its_own_sizes_and_sketches():
    assert how_of("dial.subdials[0].radius").title == "Dial subdial radius"
    assert how_of("dial.subdials[0].depth").sketch.outline == "dial-recess"
    assert how_of("movement.subsidiary[0].height").sketch.outline == "movement-small-post"
    assert how_of("movement.subsidiary[1].angle").usual == how_of("movement.foot_holes[].angle").usual
    small, hour = how_of("hands.subsidiary[0].length"), how_of("hands.hour.length")
    assert (small.title, small.usual) == ("Small hand length", "1.00 to 6.00 mm")
    assert (small.steps, small.sketch) == (hour.steps, hour.sketch)
    assert how_of("hands.subsidiary[0].hub_height").what == how_of("hands.seconds.hub_height").what
    stations_of = [station_of(path).number for path in ("dial.subdials[].depth", "movement.subsidiary[].radius")]
    assert [*stations_of, station_of("hands.subsidiary[].tail").number] == [6, 7, 5]
