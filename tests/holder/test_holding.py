"""Who holds the movement along the axis, springs by their formulas, and the marks on a ring."""

import re
from dataclasses import replace

import numpy as np
import pytest
from shapely import Polygon

from parts.fit import check_sheet
from parts.holder.body import steps
from parts.holder.findings import marks
from parts.holder.findings.design import work_out
from parts.holder.findings.springs import Tongue, split_closes, split_strain, tongue_of
from parts.holder.letters import STROKE, engraving
from parts.holder.mesh import cross_section, level, mesh_of, solid_of, splits_at
from parts.holder.parameters import Key, from_plain
from parts.holder.process import advice
from parts.holder.proposals import propose
from parts.holder.shapes import Engraving
from parts.holder.surroundings import surroundings
from tests.fit.sheets import sheet
from tests.holder.pieces import AROUND, around, ring

RIM = {"movement.overall_diameter": 22.6}
STEP = {"flange_diameter": 22.7, "flange_depth": 0.8}


def told(piece, changes=None):
    return {item.key: item for item in work_out(piece, around(changes)).findings}


def verdict(key, changes=None, **own):
    return str(told(ring(**own), changes)[key].verdict)


@pytest.mark.parametrize(
    ("own", "changes", "wanted"),
    [
        ({"held_by": "case back"}, {}, "work"),
        ({"held_by": "case back", **STEP}, RIM, "fits"),
        ({"held_by": "case back", **STEP, "nub_count": 0.0}, RIM, "work"),
        ({"held_by": "case back", "lip_reach": 0.5}, {}, "fits"),
        ({"held_by": "lip"}, {}, "work"),
        ({"held_by": "lip", "lip_reach": 0.5}, {}, "fits"),
        ({"held_by": "clamps", "clamp_count": 0.0}, {}, "work"),
        ({"held_by": "clamps", "clamp_count": 1.0}, {}, "work"),
        ({"held_by": "clamps", "clamp_count": 2.0}, {}, "fits"),
        ({"held_by": "tongues", "tongue_length": 6.0}, {}, "work"),
        ({"held_by": "tongues", "tongue_length": 6.0, **STEP}, RIM, "fits"),
        ({"held_by": "tongues", **STEP}, RIM, "work"),
        ({"held_by": "dial ring"}, {}, "work"),
    ],
)
def test_what_holds_the_movement_is_told(own, changes, wanted):
    assert verdict("axial-hold", changes, **own) == wanted


def test_a_rim_that_was_guessed_is_never_called_good():
    guessed = told(ring(**STEP), RIM)["rim-depth"]
    assert (str(guessed.verdict), "is a guess" in guessed.sentence) == ("unclear", True)
    assert verdict("rim-depth", RIM, **STEP, rim_height=0.8) == "fits"
    assert verdict("rim-depth", RIM, **STEP, rim_height=0.65) == "work"
    assert verdict("rim-depth", RIM, **STEP, rim_height=0.85) == "work"
    assert "rim-depth" not in told(ring())


@pytest.mark.parametrize(
    ("back", "wanted"), [(2.9, "no"), (2.8, "fits"), (2.7, "fits"), (2.65, "work"), (None, "unclear")]
)
def test_a_lip_lies_behind_the_movements_back(back, wanted):
    """A ring 3.60 high with a lip of 0.80: its face is 2.80 behind the dial rest."""
    assert verdict("lip-gap", {"movement.back_height": back}, lip_reach=0.5, lip_height=0.8) == wanted


def test_a_lip_has_to_reach_behind_the_movements_edge():
    assert verdict("lip-hold", lip_reach=0.5) == "fits"
    assert verdict("lip-hold", lip_reach=0.1) == "work"


@pytest.mark.parametrize("count", [0.0, 3.0])
def test_lip_and_tabs_are_in_the_body(count):
    piece = ring(lip_reach=0.5, lip_height=0.8, tab_count=count, nub_count=0.0)
    solid = solid_of(piece)
    inside = cross_section(level(solid, 3.2)).area()
    without = cross_section(level(solid_of(replace(piece, lip_reach=0.0)), 3.2)).area()
    assert splits_at(piece) == ""
    assert mesh_of(solid).open_edges == 0
    added = 3 * 2.0 * 0.5 if count else np.pi * (11.0**2 - 10.5**2)
    assert inside - without == pytest.approx(added, rel=0.04)


def test_a_cantilever_by_hand():
    """E 2000 N/mm², 2.0 wide, 0.6 thick, 6.0 long: 1.00 N/mm; 0.30 mm of travel is 0.75 % of strain, 15 N/mm²."""
    tongue = Tongue(6.0, 2.0, 0.6, 2000.0)
    assert tongue.rate == pytest.approx(1.0)
    assert tongue.strain(0.3) == pytest.approx(0.0075)
    assert tongue.modulus * tongue.strain(0.3) == pytest.approx(15.0)


def test_a_split_ring_by_hand():
    """A gap of 3.14 mm takes 1.00 mm off the diameter; wall 2.0 in 26.0: 4 × 3.1416 × 2 / (3 π 24²) = 0.46 %."""
    piece = ring(split_width=3.14159265, split_angle=270.0, nub_count=0.0)
    assert split_closes(piece) == pytest.approx(1.0)
    assert split_strain(piece, 1.0) == pytest.approx(4 * 2.0 / (3 * 24.0**2))
    assert splits_at(piece) == ""


def test_tongues_press_by_their_travel():
    """Nubs of 0.40 over a gap of 0.10: 0.30 mm of travel, three tongues of 1.00 N/mm."""
    own = {"held_by": "tongues", "tongue_length": 6.0, "tongue_thickness": 0.6, "tongue_gap": 0.6, "nub_height": 0.4}
    piece = ring(**own, **STEP)
    findings = told(piece, RIM)
    assert tongue_of(piece).rate == pytest.approx(1.0)
    assert findings["tongue-force"].value.value == pytest.approx(0.9)
    assert findings["tongue-force"].sentence == "All 3 tongues press with 0.90 N, 15 N/mm² at the root of each."
    assert str(findings["tongue-strain"].verdict) == "fits"
    assert "nub-press" not in findings
    assert verdict("tongue-force", RIM, **own | {"tongue_thickness": 0.4}, **STEP) == "work"
    assert verdict("tongue-strain", RIM, **own | {"tongue_length": 4.0}, **STEP) == "work"
    assert verdict("tongue-gap", RIM, **own | {"tongue_gap": 0.2}, **STEP) == "no"


def test_a_tongue_is_free_at_the_end_where_its_nub_stands():
    own = {"tongue_length": 6.0, "tongue_thickness": 0.6, "tongue_gap": 0.5, "channel_open": "closed"}
    piece = ring(**own, chamfer=0.0)
    solid = solid_of(piece)
    assert splits_at(piece) == ""
    assert mesh_of(solid).open_edges == 0
    whole = np.pi * (13.0**2 - 11.0**2)
    below = cross_section(level(solid, 3.6 - 0.6 - 0.25)).area()
    above = cross_section(level(solid, 3.6 - 0.3)).area()
    assert whole - below == pytest.approx(3 * (6.0 + 0.2) * 2.0, rel=0.03)
    assert whole - above == pytest.approx(3 * 0.4 * 2.0, rel=0.05)


def test_twelve_oclock_is_marked_on_the_dial_side_alone():
    piece = ring(mark_width=0.6, mark_depth=0.3, nub_count=0.0, chamfer=0.0)
    solid = solid_of(piece)
    spot = cross_section([[(0.0, -12.2), (0.1, -12.0), (-0.1, -12.0)]])
    assert (cross_section(level(solid, 0.2)) ^ spot).area() == 0.0
    assert (cross_section(level(solid, 0.4)) ^ spot).area() == pytest.approx(0.02, rel=1e-3)


def test_words_are_cut_into_the_back_and_read_from_there():
    """An L seen from behind has its foot to the right: in the bodies' frame, at 12 o'clock, towards -x, and inwards."""
    (letter,) = engraving("L", 0.0, 12.0, 2.2, 3.3, 4.0)
    (contour,) = letter.contours
    corners = np.asarray(contour)
    assert np.ptp(corners[:, 1]) == pytest.approx(2.2, abs=1e-6)
    assert corners[:, 1].mean() > -12.0
    foot = corners[corners[:, 1] > -11.3]
    assert foot[:, 0].min() < corners[corners[:, 1] < -12.5][:, 0].min()
    piece = ring(outside_diameter=30.0, mark_words="R2", mark_size=2.2, mark_angle=0.0)
    plain = replace(piece, mark_words="")
    area = sum(abs(Polygon(c).area) * (1 if i == 0 else -1) for s in steps(piece) if isinstance(s.solid, Engraving)
               for i, c in enumerate(sorted(s.solid.contours, key=lambda c: -abs(Polygon(c).area))))  # fmt: skip
    cut = solid_of(plain).volume() - solid_of(piece).volume()
    assert cut == pytest.approx(0.3 * area, rel=1e-3)
    assert mesh_of(solid_of(piece)).open_edges == 0


def test_words_too_small_to_print_say_how_large_they_have_to_be():
    own = {"outside_diameter": 30.0, "mark_words": "R2"}
    assert verdict("mark-print", **own, mark_size=2.3) == "fits"
    small = told(ring(**own, mark_size=1.5))["mark-print"]
    assert (str(small.verdict), small.must) == ("work", False)
    assert f"{0.4 / STROKE:.2f} mm high" in small.remedies[0].text
    assert verdict("mark-land", **own, mark_size=2.3) == "fits"
    assert verdict("mark-land", **own, mark_size=4.0) == "work"


def test_words_are_proposed_where_they_print_and_left_out_elsewhere():
    def proposed(bore):
        stands = surroundings(check_sheet(sheet(AROUND | {"case.bore_diameter": bore})))
        return propose("ring", stands, words="J-14"), stands

    narrow, _ = proposed(26.2)
    assert narrow["mark_words"].value == ""
    assert re.search(r"letters that print, 2\.3 mm high", narrow["mark_words"].note)
    wide, stands = proposed(30.0)
    piece = from_plain("ring", {n: p.value for n, p in wide.items() if n != "cutouts"})
    assert piece.mark_words == "J-14"
    findings = {c.key: str(c.verdict) for c in work_out(piece, stands).findings}
    assert (findings["mark-print"], findings["mark-land"], findings["nub-stand"]) == ("fits",) * 3


def test_an_inward_key_on_the_floor_is_entered_from_the_dial_side():
    keyed = ring(keys=(Key(30, 2, -0.4, 0.5, 3.6),), ring_goes="first")
    assert str(told(keyed)["order"].verdict) == "no"
    stands = replace(around(), built="floor")
    assert str({c.key: c for c in work_out(keyed, stands).findings}["order"].verdict) == "fits"


@pytest.mark.parametrize(
    ("own", "words"),
    [
        ({}, "no supports"),
        ({"lip_reach": 0.5}, "supports below lip"),
        ({"lip_reach": 0.5, "nub_count": 0.0}, "no supports"),
    ],
)
def test_a_lip_that_hangs_over_the_plate_is_told_to_be_supported(own, words):
    assert any(words in sentence for sentence in advice(ring(**own)))


def test_words_that_run_out_of_the_wall_are_told_with_where_they_would_be_whole():
    piece = ring(
        outside_diameter=30.0, mark_words="A7", mark_size=2.2, split_width=1.0, split_angle=10.0, nub_count=0.0
    )
    told = {angle: list(marks.findings(replace(piece, mark_angle=angle)))[-1] for angle in (10.0, 200.0)}
    assert (told[200.0].key, told[200.0].verdict) == ("mark-whole", "fits")
    assert (told[10.0].verdict, told[10.0].sentence) == ("work", "Not within the wall all round: “A” and “7”.")
    better = re.search(r"Turn the words to (\d+)°", told[10.0].remedies[0].text)[1]
    assert list(marks.findings(replace(piece, mark_angle=float(better))))[-1].verdict == "fits"
    channel = replace(piece, split_width=0.0, channel_open="back", channel_angle=100.0, mark_angle=100.0)
    assert list(marks.findings(channel))[-1].verdict == "work"
    nowhere = list(marks.findings(replace(piece, mark_angle=10.0, mark_size=8.0)))[-1]
    assert nowhere.remedies[0].text.startswith("Nowhere on this ring do they find room")
