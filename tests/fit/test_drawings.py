"""The drawings measured against the sheet: one drawing unit is one millimetre."""

import re
import xml.etree.ElementTree as ET
from itertools import pairwise
from math import cos, radians, sin

import pytest

from parts.fit.checks.window import PITCH
from parts.fit.drawings import bar_svg, dial_svg, section_svg, stack_svg, window_svg
from tests.fit.sheets import report

SVG = "{http://www.w3.org/2000/svg}"
DRAWINGS = (section_svg, stack_svg, dial_svg, window_svg)
REAR = {"case.stem_axis_depth": 2.3, "case.back_depth": 5.0, "spacer.placement": "rear"}
DOME = {"case.crystal_gap_centre": 3.0, "case.crystal_gap_edge": 2.4, "case.crystal_edge_radius": 12.0}
WHOLE = [{}, REAR, DOME, {"dial.window": None}, {"hands.seconds": None}]
PARTLY = [{"dial.thickness": None}, {"case": None}, {"movement": None}, {"dial": None}, {"hands": None}]


def drawn(draw, changes=None, **options):
    return ET.fromstring(draw(report(changes), **options))


def boxes(root, name):
    """Left, right, top and bottom of each rectangle of that class, sorted."""
    found = []
    for node in root.iter(f"{SVG}rect"):
        if name in node.get("class", "").split():
            x, y, width, height = (float(node.get(key)) for key in ("x", "y", "width", "height"))
            found.append((x, x + width, y, y + height))
    return sorted(found)


def outlines(root, name):
    """Left, right, top and bottom of each polygon of that class, sorted."""
    corners = [
        [tuple(map(float, point.split(","))) for point in node.get("points").split()]
        for node in root.iter(f"{SVG}polygon")
        if name in node.get("class", "").split()
    ]
    return sorted((min(x), max(x), min(y), max(y)) for x, y in (zip(*points, strict=True) for points in corners))


def rings(root, name):
    return [
        tuple(float(node.get(key)) for key in ("cx", "cy", "r"))
        for node in root.iter(f"{SVG}circle")
        if name in node.get("class", "").split()
    ]


@pytest.mark.parametrize("draw", DRAWINGS)
@pytest.mark.parametrize("changes", WHOLE + PARTLY)
def test_every_drawing_is_sound_and_says_what_it_shows(draw, changes):
    text = draw(report(changes))
    if not text:
        assert draw is window_svg or changes in PARTLY
        return
    root = ET.fromstring(text)
    assert root.find(f"{SVG}title").text
    assert len(root.find(f"{SVG}desc").text) > 20
    assert root.get("role") == "img"
    assert not re.search(r"nan|None|inf\b|style|<script|javascript", text)


@pytest.mark.parametrize("draw", DRAWINGS)
def test_on_paper_the_scale_is_exact(draw):
    root = drawn(draw, scale=5)
    _, _, width, height = map(float, root.get("viewBox").split())
    assert float(root.get("width").removesuffix("mm")) == pytest.approx(5 * width, abs=1e-3)
    assert float(root.get("height").removesuffix("mm")) == pytest.approx(5 * height, abs=1e-3)
    assert drawn(draw).get("width") is None


def test_section_dial_and_its_furniture():
    root = drawn(section_svg)
    assert boxes(root, "dial") == [pytest.approx((-14.25, -0.9, 0.0, 0.4)), pytest.approx((0.9, 14.25, 0.0, 0.4))]
    assert boxes(root, "furniture") == [pytest.approx((-10.5, -9.0, -0.2, 0.0)), pytest.approx((9.0, 10.5, -0.2, 0.0))]


def test_section_movement_posts_and_back():
    root = drawn(section_svg)
    assert boxes(root, "movement") == [pytest.approx((-14.3, 14.3, 0.4, 3.9))]
    for name, half, height in (("hour", 0.75, 1.2), ("minute", 0.45, 1.9), ("seconds", 0.125, 2.6)):
        assert boxes(root, f"post-{name}") == [pytest.approx((-half, half, 0.4 - height, 0.4))]
    (back,) = (node for node in root.iter(f"{SVG}line") if node.get("class") == "case-back")
    assert float(back.get("y1")) == float(back.get("y2")) == 4.1


@pytest.mark.parametrize("lift", [0.0, 0.05])
def test_section_hands_at_their_seating(lift):
    root = drawn(section_svg, {"hands.hour.hub_height": 0.65 + lift})
    top = 0.4 - 1.2 - lift
    assert boxes(root, "hand-hour") == [pytest.approx((-2.0, 8.0, top, top + 0.15))]
    assert boxes(root, "hub-hour") == [pytest.approx((-1.1, 1.1, top, top + 0.65 + lift))]
    assert boxes(root, "hand-minute") == [pytest.approx((-2.5, 11.5, -1.5, -1.35))]
    assert boxes(root, "hand-seconds") == [pytest.approx((-4.0, 12.0, -2.2, -2.1))]


@pytest.mark.parametrize(("placement", "above", "below"), [("front", 0.0, 0.3), ("rear", 0.4, 0.7)])
def test_section_spacer(placement, above, below):
    root = drawn(section_svg, REAR | {"spacer.placement": placement})
    assert [box[2:] for box in boxes(root, "spacer")] == [pytest.approx((above, below))] * 2
    face = 0.3 if placement == "front" else 0.0
    assert boxes(root, "dial")[1] == pytest.approx((0.9, 14.25, face, face + 0.4))
    assert boxes(drawn(section_svg), "spacer") == []


def test_section_stem_axes():
    root = drawn(section_svg, {"case.stem_axis_depth": 2.05})
    axis = {node.get("class"): float(node.get("y1")) for node in root.iter(f"{SVG}line") if node.get("class")}
    assert (axis["axis-case"], axis["axis-movement"]) == (2.05, 2.0)
    assert boxes(root, "stem")[0][2:] == pytest.approx((2.0 - 0.45, 2.0 + 0.45))
    assert boxes(root, "tube")[0][2:] == pytest.approx((2.05 - 1.0, 2.05 + 1.0))


def crystal(changes):
    (node,) = (node for node in drawn(section_svg, changes).iter(f"{SVG}path") if node.get("class") == "crystal")
    return node.get("d").split()


def test_section_crystal():
    """Flat at 2.4; the dome falls from 3.0 by 0.6 at 12: sphere (144 + 0.36)/1.2 = 120.3, at 13.8 by 0.794."""
    assert crystal({}) == ["M", "-13.8", "-2.4", "L", "13.8", "-2.4"]
    told = crystal(DOME)
    assert (told[0], told[3]) == ("M", "A")
    assert [float(told[4]), float(told[5])] == pytest.approx([120.3, 120.3])
    fallen = 120.3 - (120.3**2 - 13.8**2) ** 0.5
    assert float(told[2]) == float(told[-1]) == pytest.approx(-(3.0 - fallen), abs=1e-3)


def test_section_holder_ring():
    """Between the fit diameter and the bore, less the clearance all round."""
    ring = outlines(drawn(section_svg, {"movement.fit_diameter": 24.7}), "holder")
    assert [box[:2] for box in ring] == [pytest.approx((-14.25, -12.35)), pytest.approx((12.35, 14.25))]
    assert outlines(drawn(section_svg), "holder") == []


def test_dial_rings():
    root = drawn(dial_svg)
    radii = {
        "dial": 14.25,
        "opening": 13.8,
        "bore": 14.35,
        "movement-outside": 14.325,
        "hour-markers": 8.5,
        "reach-hour": 8.0,
        "reach-minute": 11.5,
        "reach-seconds": 12.0,
        "centre-hole": 0.9,
        "hour-post": 0.75,
        "markers": 9.75,
    }
    for name, radius in radii.items():
        assert rings(root, name) == [(0.0, 0.0, pytest.approx(radius))], name
    assert sorted(r for _, _, r in rings(root, "date-disc")) == [9.0, 11.0]


def on_dial(angle, radius):
    return radius * sin(radians(angle)), -radius * cos(radians(angle))


@pytest.mark.parametrize("angle", [90, 120, 0])
def test_dial_crown_and_stem_stand_at_the_stems_angle(angle):
    root = drawn(dial_svg, {"case.stem_angle": angle})
    (crown,) = (g for g in root.findall(f"{SVG}g") if boxes(g, "crown"))
    assert float(re.fullmatch(r"rotate\((\S+)\)", crown.get("transform"))[1]) == angle - 90
    assert boxes(crown, "crown")[0][0] == 17.0
    (stem,) = (node for node in root.iter(f"{SVG}line") if node.get("class") == "stem-behind")
    ends = [float(stem.get(name)) for name in ("x1", "y1", "x2", "y2")]
    assert ends == pytest.approx([*on_dial(angle, 4.0), *on_dial(angle, 17.0)], abs=1e-3)


def test_dial_feet_and_holes():
    root = drawn(dial_svg, {"dial.feet.1.angle": 190})
    feet = [(*on_dial(angle, 11.0), 0.35) for angle in (45, 190)]
    holes = [(*on_dial(angle, 11.0), 0.4) for angle in (45, 200)]
    assert rings(root, "foot") == [pytest.approx(foot, abs=1e-3) for foot in feet]
    assert rings(root, "foot-hole") == [pytest.approx(hole, abs=1e-3) for hole in holes]
    assert [hole[:2] for hole in rings(root, "free")] == [pytest.approx(on_dial(200, 11.0), abs=1e-3)]
    assert "1 of 2 dial feet line up with a hole" in root.find(f"{SVG}desc").text


@pytest.mark.parametrize("angle", [90, 180, 135])
def test_dial_window_stands_at_its_angle_and_radius(angle):
    root = drawn(dial_svg, {"dial.window.angle": angle})
    (window,) = (g for g in root.findall(f"{SVG}g") if any(n.get("class") == "window" for n in g))
    turn, out = map(float, re.fullmatch(r"rotate\((\S+)\) translate\((\S+) 0\)", window.get("transform")).groups())
    assert (turn, out) == (angle - 90, 10.0)
    assert boxes(window, "window") == [pytest.approx((-0.8, 0.8, -1.0, 1.0))]


def test_dial_hands_reach_their_lengths():
    points = {n.get("class").split()[1]: n.get("points").split() for n in drawn(dial_svg).iter(f"{SVG}polygon")}
    for name, length, tail in (("hour", 8.0, 2.0), ("minute", 11.5, 2.5), ("seconds", 12.0, 4.0)):
        tip, _, end, _ = (tuple(map(float, point.split(","))) for point in points[f"hand-{name}"])
        assert (tip[0] ** 2 + tip[1] ** 2) ** 0.5 == pytest.approx(length, abs=1e-3)
        assert (end[0] ** 2 + end[1] ** 2) ** 0.5 == pytest.approx(tail, abs=1e-3)


def test_close_up_of_the_window_shows_the_boxes_of_three_numerals():
    root = drawn(window_svg, {"movement.date.angle": 3.0, "movement.date.numeral_radius": 10.2})
    assert boxes(root, "window") == [pytest.approx((-0.8, 0.8, -1.0, 1.0))]
    found = [n.get("points").split() for n in root.iter(f"{SVG}polygon") if n.get("class") == "numeral-box"]
    for j, corners in zip((-1, 0, 1), found, strict=True):
        xs, ys = zip(*(map(float, corner.split(",")) for corner in corners), strict=True)
        a = radians(3.0 + j * PITCH)
        assert (sum(xs) / 4, sum(ys) / 4) == pytest.approx((10.2 * cos(a) - 10.0, 10.2 * sin(a)), abs=1e-3)
        assert ((xs[0] - xs[3]) ** 2 + (ys[0] - ys[3]) ** 2) ** 0.5 == pytest.approx(1.2, abs=1e-3)


def test_no_close_up_without_both_dates():
    assert window_svg(report({"movement.date": None})) == ""
    assert window_svg(report({"dial.window.radius": None})) == ""


def test_labels_tell_the_numbers_of_the_tight_spots():
    words = " ".join(node.text or "" for node in drawn(section_svg).iter(f"{SVG}text"))
    for told in ("0.20 mm", "1.80 mm", "0.45 mm", "0.05 mm"):
        assert told in words
    close = " ".join(node.text or "" for node in drawn(stack_svg).iter(f"{SVG}text"))
    assert "0.30 mm" in close
    assert "0.25 mm" in close


@pytest.mark.parametrize("name", ["<script>alert(1)</script>", '" onload="x', "a & b", "{value}", "]]>", "{0}"])
def test_a_hostile_name_of_furniture_stays_text(name):
    found = report({"dial.furniture.0.name": name})
    for draw in DRAWINGS:
        root = ET.fromstring(draw(found))
        assert not list(root.iter(f"{SVG}script"))
    bar = ET.fromstring(bar_svg(found["gap-furniture"]))
    assert not list(bar.iter(f"{SVG}script"))
    assert not any(attribute.startswith("on") for node in bar.iter() for attribute in node.attrib)


def test_a_bar_places_value_interval_and_limits():
    """Back gap 0.1 ±0.05: the mark stands on the edge at 0.10 and the thick line reaches as far to both sides."""
    root = ET.fromstring(bar_svg(report({"case.back_depth": [4.0, 0.05]})["back-gap"]))
    edges = [node for node in root.iter(f"{SVG}line") if node.get("class") == "limit"]
    (span,) = (node for node in root.iter(f"{SVG}line") if node.get("class") == "span")
    mark = float(root.find(f"{SVG}path").get("d").split()[1])
    assert mark == pytest.approx(float(edges[1].get("x1")), abs=1e-3)
    assert float(span.get("x1")) < mark < float(span.get("x2"))
    assert mark - float(span.get("x1")) == pytest.approx(float(span.get("x2")) - mark, abs=2e-3)
    assert (mark - float(edges[0].get("x1"))) == pytest.approx(2 * (mark - float(span.get("x1"))), abs=1e-3)
    assert [node.text for node in root.iter(f"{SVG}text")] == ["0.00", "0.10"]
    assert len(list(root.iter(f"{SVG}rect"))) == 3


def test_a_limit_that_is_nothing_but_slack_is_told_as_its_number():
    root = ET.fromstring(bar_svg(report({"case.stem_axis_depth": 2.9, "case.back_depth": 5.0})["dial-sunk"]))
    assert [node.text for node in root.iter(f"{SVG}text")] == ["0.00", "0.30"]


def test_a_bar_has_the_interval_that_the_check_tells():
    """Hands set anew: the gap is set to 0.15 however uncertain its heights are, so that the line is a point."""
    check = report({"hands.seconds.hub_height": [0.55, 0.04]})["gap-minute-seconds"]
    assert (check.low, check.high) == pytest.approx((0.15, 0.15))
    root = ET.fromstring(bar_svg(check))
    (span,) = (node for node in root.iter(f"{SVG}line") if node.get("class") == "span")
    assert float(span.get("x1")) == pytest.approx(float(span.get("x2")), abs=1e-3)


def test_a_band_that_waits_for_the_hubs_width_is_drawn():
    root = ET.fromstring(bar_svg(report({"hands.hour.hub_diameter": None})["post-hour"]))
    assert len(list(root.iter(f"{SVG}rect"))) == 5


def test_a_bound_is_drawn_to_the_end_of_its_bar():
    root = ET.fromstring(bar_svg(report({"case.back_depth": {"at_least": 4.1}})["back-gap"]))
    (span,) = (node for node in root.iter(f"{SVG}line") if node.get("class") == "span")
    assert float(span.get("x2")) == 234.0


def test_no_bar_for_what_has_no_value():
    assert bar_svg(report({"case.back_depth": None})["back-gap"]) == ""


def test_a_kept_seconds_hand_is_told_from_those_that_go_in():
    for draw, shape in ((section_svg, "rect"), (dial_svg, "polygon")):
        root = drawn(draw, staying=("seconds",))
        looks = {
            look.split()[1]: look.split()[2:] for n in root.iter(SVG + shape) if "hand " in (look := n.get("class"))
        }
        assert looks.pop("hand-seconds") == ["kept"]
        looks.pop("hub-seconds", None)
        assert {*map(tuple, looks.values())} == {()}


def test_case_and_ring_are_hatched_each_its_own_way_inside_their_outlines():
    root = drawn(section_svg, {"movement.fit_diameter": 24.7})
    slopes = {}
    for group in root.iter(f"{SVG}g"):
        for face, lines in pairwise(group):
            if lines.get("class") == "hatch":
                strokes = re.findall(r"M(\S+) (\S+)l(\S+) ([^M]+)", lines.get("d"))
                slopes.setdefault(face.get("class"), set()).update(
                    float(dx) * float(dy) > 0 for _, _, dx, dy in strokes
                )
                x, y = zip(*(map(float, point.split(",")) for point in face.get("points").split()), strict=True)
                ends = [(float(a), float(b)) for a, b, _, _ in strokes]
                ends += [(float(a) + float(dx), float(b) + float(dy)) for a, b, dx, dy in strokes]
                assert all(min(x) - 2e-3 <= a <= max(x) + 2e-3 and min(y) - 2e-3 <= b <= max(y) + 2e-3 for a, b in ends)
    assert slopes == {"case": {False}, "holder": {True}}


def test_where_the_movement_stood_without_the_spacer_is_dotted():
    root = drawn(section_svg, REAR)
    assert boxes(root, "movement") == [pytest.approx((-14.3, 14.3, 0.7, 4.2))]
    assert boxes(root, "before") == [pytest.approx((-14.3, 14.3, 0.4, 3.9))]
    assert boxes(drawn(section_svg), "before") == []


@pytest.mark.parametrize(("placement", "words"), [("front", "edge in sight"), ("rear", "out of sight")])
def test_the_spacer_says_whether_it_can_be_seen(placement, words):
    root = drawn(section_svg, REAR | {"spacer.placement": placement})
    assert any(words in (node.text or "") for node in root.iter(f"{SVG}text"))


def test_the_edges_of_the_disc_are_drawn_in_the_window():
    radii = [(x, r) for x, _, r in rings(drawn(window_svg), "disc-edge")]
    assert radii == [(-10.0, 9.0), (-10.0, 11.0)]


def test_a_drawing_with_numbers_to_press_is_a_group_of_links_and_one_without_an_image():
    for draw in (section_svg, stack_svg, window_svg):
        root = drawn(draw, press=lambda key: f"?try={key}")
        links = list(root.iter(f"{SVG}a"))
        assert (root.get("role"), drawn(draw).get("role")) == ("group", "img")
        assert links
        assert all(report()[link.get("href").removeprefix("?try=")] for link in links)
        assert all("".join(link.itertext()).strip(" 0123456789.m°%-") for link in links)
        assert not list(drawn(draw).iter(f"{SVG}a"))
