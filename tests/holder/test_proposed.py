"""Proposals for random watches of each construction: what is proposed can be made, and fails no check of its own."""

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from parts.fit import check_sheet
from parts.fit.errors import SheetError
from parts.holder.files import mesh_files
from parts.holder.findings.design import work_out
from parts.holder.mesh import for_printing, splits_at
from parts.holder.parameters import from_plain
from parts.holder.process import upside_down
from parts.holder.proposals import propose
from parts.holder.surroundings import surroundings
from tests.fit.sheets import sheet
from tests.holder.readers import faults_of, read_stl

BUILT = ("seat", "ledge", "floor")
SHAPES = ("round", "rectangle", "oval")


@st.composite
def watches(draw, built):
    """A sheet of that construction whose movement passes its bore, each width known to ±0.02 mm."""

    def size(low, high):
        return round(draw(st.floats(low, high)), 2)

    fit, wall, rim = size(14.0, 26.0), size(0.4, 3.0), draw(st.sampled_from([0.0, 0.1, 0.3]))
    across, axis = fit + 2 * wall, size(1.0, 2.0)
    back, gap = axis + size(0.8, 2.0), size(0.15, 1.0)
    shape, tall = draw(st.sampled_from(SHAPES)), size(0.0, 5.0)
    outline = {"shape": shape, "width": [across, 0.02], "height": [across + tall, 0.02]}
    outline |= {"corner": [size(0.5, 2.0), 0.05]} if shape == "rectangle" else {}
    wide = min(fit + 2 * rim, across - 0.04)
    changes = {
        "case.bore_diameter": [across, 0.02] if shape == "round" else None,
        "case.bore_outline": None if shape == "round" else outline,
        "case.crown_seat_radius": across,
        "case.dial_seat_diameter": None,
        "case.dial_opening_diameter": None,
        "dial.diameter": across - 0.8,
        "dial.feet": [],
        "dial.window": None,
        "movement.date": None,
        "movement.foot_holes": [],
        "movement.fit_diameter": [fit, 0.01],
        "movement.overall_diameter": [wide, 0.01],
        "movement.stem_axis_depth": axis,
        "movement.back_height": back,
        "movement.stem_reference_radius": fit / 2,
    }
    if built == "floor":
        floor = size(0.0, 1.0)
        changes |= {"case.loading": None, "case.construction": "front", "case.ring": "tension"}
        changes |= {
            "case.floor_stem": back - axis + floor,
            "case.front_opening_diameter": [across - size(0, 0.6), 0.02],
        }
        changes |= {"case.floor_ring": back + floor + 0.3, "case.floor_crystal_centre": back + floor + 4.0}
    elif built == "ledge":
        rise = size(-0.4, 0.8)
        changes |= {"dial.rests_on": "movement", "movement.ring_rise": None, "case.stem_axis_depth": axis - rise}
        changes |= {"case.back_depth": back - rise + gap}
    else:
        changes |= {"case.stem_axis_depth": axis + 0.4, "case.back_depth": back + 0.4 + gap}
    return sheet(changes)


def make(data):
    """The proposed ring and what stands round it; None where the proposal says that none can be made."""
    try:
        stands = surroundings(check_sheet(data))
    except SheetError:
        assume(condition=False)
    proposals = propose("ring", stands, words="J-14")
    if any(item.value is None for item in proposals.values()):
        return None
    return from_plain("ring", {name: item.value for name, item in proposals.items() if name != "cutouts"}), stands


def holds_good(made):
    if made is None:
        return
    piece, stands = made
    design = work_out(piece, stands)
    assert [item.sentence for item in design.findings if item.verdict == "no"] == []
    assert splits_at(piece) == ""
    triangles = read_stl(mesh_files.stl(for_printing(design.mesh, upside_down=upside_down(piece))))
    assert faults_of(triangles) == 0


@pytest.mark.parametrize("built", BUILT)
def test_a_proposal_fails_no_check_of_its_own(built):
    @given(watches(built))
    @settings(max_examples=8, deadline=None)
    def of_random_watches(data):
        holds_good(make(data))

    of_random_watches()


@pytest.mark.long
@pytest.mark.parametrize("built", BUILT)
def test_three_hundred_proposals_of_each_construction(built):
    @given(watches(built))
    @settings(max_examples=300, deadline=None)
    def of_random_watches(data):
        holds_good(make(data))

    of_random_watches()


@pytest.mark.parametrize("built", BUILT)
def test_random_watches_do_get_rings(built):
    """So that the test above looks at something."""
    made = []

    @given(watches(built))
    @settings(max_examples=12, deadline=None, database=None, derandomize=True)
    def of_random_watches(data):
        made.append(make(data) is not None)

    of_random_watches()
    assert sum(made) >= 3


@pytest.mark.parametrize(("thread", "stems", "width"), [(None, 0.90, 1.30), (1.00, 0.90, 1.40), (None, None, None)])
def test_the_channel_is_proposed_from_the_stem_where_the_movement_does_not_say_its_thread(thread, stems, width):
    changes = {"movement.stem_thread": thread, "stem.thread": stems, "case.tube_bore_diameter": None}
    stands = surroundings(check_sheet(sheet(changes)))
    assert propose("ring", stands)["channel_width"].value == (width and pytest.approx(width))
