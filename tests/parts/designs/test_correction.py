"""The print correction against two independent regressions, and what it refuses to conclude."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from parts.designs.correction import correct, corrections, fit_line
from parts.models import PrintedPiece
from tests.holder.pieces import ring, spacer


def piece(outside=None, inside=None, height=None, printer="bench", material="tough resin"):
    found = PrintedPiece(printer=printer, material=material)
    for name, pair in (("outside", outside), ("inside", inside), ("height", height)):
        if pair:
            setattr(found, f"nominal_{name}", pair[0])
            setattr(found, f"measured_{name}", pair[1])
    return found


def printed(nominal, sign, scale=0.995, offset=0.08, slip=0.0):
    return nominal, scale * nominal + sign * (offset + slip)


def pieces(slips=(0.01, -0.02, 0.015)):
    sizes = ((24.0, 20.0), (28.0, 25.0), (33.0, 30.0))
    return [
        piece(printed(out, 1, slip=slip), printed(inside, -1, slip=-slip))
        for (out, inside), slip in zip(sizes, slips, strict=True)
    ]


POINTS = st.lists(st.tuples(st.floats(-40, 40), st.floats(-0.3, 0.3)), min_size=3, max_size=12)


@given(POINTS)
def test_scale_offset_and_errors_against_numpy_and_scipy(raw):
    x = np.array([point[0] for point in raw])
    if np.ptp(x) < 1.0:
        return
    y = 0.99 * x + 0.1 + np.array([point[1] for point in raw])
    line = fit_line(list(zip(x.tolist(), y.tolist(), strict=True)))
    assert (line.scale, line.offset) == pytest.approx(tuple(np.polyfit(x, y, 1)), rel=1e-6, abs=1e-8)
    other = stats.linregress(x, y)
    assert line.scale_error == pytest.approx(other.stderr, rel=1e-4, abs=1e-6)
    assert line.offset_error == pytest.approx(other.intercept_stderr, rel=1e-4, abs=1e-5)


def test_scale_and_offset_come_back_and_the_next_piece_comes_out_true():
    found = correct("bench", "tough resin", pieces(slips=(0.0, 0.0, 0.0)))
    assert (found.across.scale, found.across.offset) == pytest.approx((0.995, 0.08))
    changed = found.corrected(ring(flange_diameter=22.4, flange_depth=0.8))
    assert 0.995 * changed.outside_diameter + 0.08 == pytest.approx(26.0, abs=1e-3)
    assert 0.995 * changed.inside_diameter - 0.08 == pytest.approx(22.0, abs=1e-3)
    assert 0.995 * changed.flange_diameter - 0.08 == pytest.approx(22.4, abs=1e-3)
    assert changed.height == 3.6
    assert found.corrected(spacer()).thickness == 0.4


def test_how_good_it_is_follows_the_prediction_interval():
    found = correct("bench", "tough resin", pieces())
    x = np.array([24, 28, 33, -20, -25, -30.0])
    y = np.array([m for p in pieces() for m in (p.measured_outside,)] + [-p.measured_inside for p in pieces()])
    fit = stats.linregress(x, y)
    rest = np.sqrt(np.sum((y - fit.intercept - fit.slope * x) ** 2) / 4)
    wanted = stats.t.ppf(0.975, 4) * rest * np.sqrt(1 + 1 / 6 + (26 - x.mean()) ** 2 / np.sum((x - x.mean()) ** 2))
    assert found.across.half_width(26.0) == pytest.approx(wanted, rel=1e-6)
    assert f"±{wanted:.2f} mm" in found.quality(ring())


def test_heights_have_a_line_of_their_own():
    heights = [piece(height=(h, 1.01 * h + 0.03)) for h in (1.0, 3.0, 5.0)]
    found = correct("bench", "tough resin", [*pieces(), *heights])
    assert 1.01 * found.corrected(ring()).height + 0.03 == pytest.approx(3.6, abs=1e-3)


def test_too_few_or_too_like_sizes_say_what_to_measure():
    few = correct("bench", "tough resin", [piece((26.0, 26.1))])
    assert (few.usable, few.ask_across) == (False, "Measure 2 more outside or inside sizes.")
    alike = correct("bench", "tough resin", [piece((26.0 + i, 26.1 + i)) for i in range(4)])
    assert not alike.usable
    assert "within 3.00 mm of each other; measure one small part and one large" in alike.ask_across
    assert few.ask_upward == "Measure 3 more height sizes."


def test_a_mistyped_size_does_not_correct_anything():
    found = correct("bench", "tough resin", [piece((10.0, 10.0)), piece((20.0, 14.0)), piece((30.0, 18.0))])
    assert not found.usable
    assert "mistyped" in found.ask_across


def test_each_printer_and_material_is_told_apart():
    others = [piece((26.0, 26.1), printer="attic")]
    assert [(one.printer, one.pieces) for one in corrections([*pieces(), *others])] == [("attic", 1), ("bench", 3)]


def test_the_spread_of_five_sizes_is_the_plus_minus_with_students_factor():
    made = [*pieces(slips=(0.01, -0.02, 0.015))[:2], piece((33.0, 33.0 * 0.995 + 0.095))]
    for item in made:
        item.process = "resin"
    correction = correct("bench", "tough resin", made)
    line = correction.across
    assert line.count == 5
    points = [(p.nominal_outside, p.measured_outside) for p in made]
    points += [(-p.nominal_inside, -p.measured_inside) for p in made if p.measured_inside]
    x, y = map(np.array, zip(*points, strict=True))
    scatter = np.sqrt(np.sum((y - np.polyval(np.polyfit(x, y, 1), x)) ** 2) / 3)
    wanted = stats.t.ppf(0.975, 3) * scatter * np.sqrt(1 + 1 / 5)
    assert wanted <= correction.plus_minus < wanted + 0.01 + 1e-9
    assert line.factor == pytest.approx(stats.t.ppf(0.975, 3) * np.sqrt(1.2), rel=1e-6)
    assert "5 sizes scatter by" in correction.spread_in_words
    assert "times 3.5 for so few" in correction.spread_in_words
    assert correction.spread_in_words.endswith("New designs in resin begin with that.")


def test_too_few_sizes_feed_no_plus_minus_and_say_how_many_lack():
    few = correct("bench", "tough resin", pieces()[:2])
    assert few.usable
    assert few.plus_minus is None
    assert few.spread_in_words == "Measure 1 more size: then the ± of new designs comes from your prints."


def test_five_heights_have_a_plus_minus_of_their_own_and_fewer_ask_for_more():
    off = (0.05, -0.04, 0.03, -0.05, 0.02)
    heights = [piece(height=(h, h + slip)) for h, slip in zip((1.0, 2.0, 3.0, 4.0, 5.0), off, strict=True)]
    found = correct("bench", "tough resin", [*pieces(), *heights])
    x, y = np.arange(1.0, 6.0), np.arange(1.0, 6.0) + off
    scatter = np.sqrt(np.sum((y - np.polyval(np.polyfit(x, y, 1), x)) ** 2) / 3)
    wanted = stats.t.ppf(0.975, 3) * scatter * np.sqrt(1 + 1 / 5)
    assert wanted <= found.heights_plus_minus < wanted + 0.01 + 1e-9
    assert found.heights_in_words == f"Corrected heights come out true to ±{found.heights_plus_minus:.2f} mm."
    few = correct("bench", "tough resin", [*pieces(), *heights[::2]])
    assert few.heights_plus_minus is None
    assert few.heights_in_words == "Measure 2 more heights: then their ± comes from your prints too."


def test_no_plus_minus_is_finer_than_a_calliper():
    assert correct("bench", "tough resin", pieces(slips=(0.0, 0.0, 0.0))).plus_minus == 0.01
