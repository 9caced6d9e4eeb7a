"""The drawings' labels: none runs through another, and each says which way its number counts."""

import re
from itertools import pairwise
from xml.etree import ElementTree

import pytest

from parts.fit import check_sheet
from parts.fit.drawings import bar_svg, dial_svg, section_half_svg, section_svg, stack_svg, window_svg
from tests.fit.sheets import sheet

SVG = "{http://www.w3.org/2000/svg}"
SPACED = {"case.stem_axis_depth": 2.5, "case.back_depth": 5.0}
SMALL = {
    "case.crown_seat_radius": 13.0,
    "case.bore_diameter": 25.9,
    "case.dial_opening_diameter": 22.0,
    "dial.diameter": 23.0,
    "movement.fit_diameter": 25.8,
    "movement.overall_diameter": 25.85,
}


def callouts(svg):
    """The labels as (leader's points, words, number, their box (left, top, right, bottom))."""
    root = ElementTree.fromstring(svg)
    size = float(root.get("font-size"))
    found = []
    for group in root.iter(f"{SVG}g"):
        if group.get("class", "").split()[:1] != ["callout"]:
            continue
        words, number = group.iter(f"{SVG}text")
        left, top = float(words.get("x")), float(words.get("y")) - 0.8 * size
        right = max(left + 0.48 * size * len(words.text), float(number.get("x")) + 0.53 * size * len(number.text))
        found.append((leader_of(group), words.text, number.text, (left, top, right, top + 2.2 * size)))
    return found


def leader_of(group):
    straight, bent = group.find(f"{SVG}line"), group.find(f"{SVG}polyline")
    if bent is not None:
        return [tuple(map(float, point.split(","))) for point in bent.get("points").split()]
    return [
        (float(straight.get("x1")), float(straight.get("y1"))),
        (float(straight.get("x2")), float(straight.get("y2"))),
    ]


def words_of(svg):
    return {words: number for _, words, number, _ in callouts(svg)}


def crosses(leader, box):
    """Whether a leader line passes through a box, by a hundred points along each piece."""
    left, top, right, bottom = box
    points = (
        (x1 + (x2 - x1) * i / 100, y1 + (y2 - y1) * i / 100)
        for (x1, y1), (x2, y2) in pairwise(leader)
        for i in range(101)
    )
    return any(left < x < right and top < y < bottom for x, y in points)


def meet(one, other):
    """Whether two leader lines cross."""
    return any(_cut(*a, *b) for a in pairwise(one) for b in pairwise(other))


def _cut(a, b, c, d):
    def turn(p, q, r):
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(a, b, c) * turn(a, b, d) < -1e-9 and turn(c, d, a) * turn(c, d, b) < -1e-9


@pytest.mark.parametrize("draw", [section_svg, stack_svg])
@pytest.mark.parametrize("changes", [{}, SPACED, SMALL], ids=["plain", "spaced", "small"])
def test_no_leader_line_and_no_label_runs_through_another_label(draw, changes):
    labels = callouts(draw(check_sheet(sheet(changes))))
    assert len(labels) >= 4
    for i, (_, words, _, box) in enumerate(labels):
        for j, (leader, other, _, near) in enumerate(labels):
            if i != j:
                assert not crosses(leader, box), f"the line of {other} runs through {words}"
                assert not meet(leader, labels[i][0]), f"the lines of {other} and {words} cross"
                apart = near[0] >= box[2] or near[2] <= box[0] or near[1] >= box[3] or near[3] <= box[1]
                assert apart, f"{other} covers {words}"


def test_labels_are_as_large_on_a_small_watch():
    shares = []
    for changes in ({}, SMALL):
        svg = section_svg(check_sheet(sheet(changes)))
        root = ElementTree.fromstring(svg)
        shares.append(float(root.get("font-size")) / float(root.get("viewBox").split()[2]))
    assert shares[0] == pytest.approx(shares[1], rel=1e-3)


def test_the_stem_says_what_is_to_be_cut_off_or_what_is_too_short():
    report = check_sheet(sheet({"stem.length": 20.0}))
    surplus = report["stem-length"].value.value
    assert words_of(section_svg(report))["Stem: cut off"] == f"{surplus:.2f} mm"
    report = check_sheet(sheet({"stem.length": 5.0}))
    lacking = -report["stem-length"].value.value
    assert lacking > 0
    assert words_of(section_svg(report))["Stem: short by"] == f"{lacking:.2f} mm"


def test_the_stem_axis_is_labelled_by_its_spacer_or_by_how_far_it_is_off():
    assert words_of(section_svg(check_sheet(sheet(SPACED))))["Spacer in front, edge in sight"] == "0.50 mm"
    assert words_of(section_svg(check_sheet(sheet({"case.stem_axis_depth": 1.7}))))["Stem off its axis"] == "0.30 mm"


def test_no_label_for_a_holder_ring_that_is_not_needed():
    assert "Holder ring" not in words_of(section_svg(check_sheet(sheet())))
    assert words_of(section_svg(check_sheet(sheet({"movement.fit_diameter": 24.7}))))["Holder ring"] == "1.90 mm"


def test_a_touching_gap_keeps_its_sign():
    report = check_sheet(sheet({"movement.posts.minute.height": 1.3}))
    gap = report["gap-hour-minute"].value.value
    assert gap < 0
    assert words_of(stack_svg(report))["minute to hour"] == f"−{-gap:.2f} mm"


def test_under_a_crystal_bowed_inwards_the_least_room_is_shown_at_the_centre():
    bowed = {"case.crystal_gap_centre": 2.6, "case.crystal_gap_edge": 3.0, "case.crystal_edge_radius": 12.0}
    [leader] = [line for line, words, *_ in callouts(section_svg(check_sheet(sheet(bowed)))) if "crystal" in words]
    assert leader[-1][0] == 0


@pytest.mark.parametrize("draw", [section_svg, stack_svg, dial_svg, window_svg])
def test_nothing_measured_draws_nothing(draw):
    assert draw(check_sheet({})) == ""


@pytest.mark.parametrize(
    ("key", "limits"),
    [
        ("stem-thread", ["-0.005", "0.005"]),
        ("date-cut", ["2 %", "15 %"]),
        ("case-bore", ["0.00", "0.02"]),
        ("dial-feet", ["2"]),
    ],
)
def test_a_bar_tells_its_limits_as_they_are(key, limits):
    bar = bar_svg(check_sheet(sheet())[key])
    assert re.findall(r"<text[^>]*>([^<]*)</text>", bar) == limits


@pytest.mark.parametrize("width", [16.0, 18.0, 20.0, 22.0])
@pytest.mark.parametrize("minute", [5.6, 6.6])
def test_labels_of_a_narrow_watch_stay_within_the_half_that_a_telephone_shows(width, minute):
    """The leaders of its hands and of a spacer in front stand near the middle, with room for words on neither side."""
    edges = {
        name: {"shape": "rectangle", "width": across, "height": across + 6, "corner": 1.8}
        for name, across in (("case.bore_outline", width), ("case.opening_outline", width - 0.4))
    }
    rounds = ("case.bore_diameter", "case.dial_opening_diameter", "case.dial_seat_diameter", "dial.diameter")
    changes = edges | dict.fromkeys(rounds) | {"dial.own_case": True, "dial.feet": [], "dial.window": None}
    changes |= {"case.stem_axis_depth": 2.1, "case.back_depth": 4.2, "case.crystal_gap_centre": 2.6}
    changes |= {"case.crystal_gap_edge": None, "case.crystal_edge_radius": None, "dial.minute_track_radius": None}
    changes |= {"movement.overall_diameter": 15.3, "movement.fit_diameter": 15.2, "movement.date": None}
    changes |= {"movement.stem_axis_depth": 1.35, "movement.back_height": 2.95, "movement.foot_holes": []}
    changes |= {"hands.hour.length": 4.5, "hands.minute.length": minute, "hands.seconds": None, "dial.furniture": []}
    svg = section_half_svg(check_sheet(sheet(changes)))
    left, _, across, _ = map(float, ElementTree.fromstring(svg).get("viewBox").split())
    labels = callouts(svg)
    assert {"Spacer in front, edge in sight", "Hand tips to the rim"} <= {words for _, words, _, _ in labels}
    for leader, words, _, box in labels:
        assert (box[0] >= left, box[2] <= left + across) == (True, True), words
        assert not [other for _, other, _, its in labels if crosses(leader, its)], words
