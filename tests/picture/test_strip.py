"""The part's edge is found beside its wall and its shadow, and what cannot be told apart is counted."""

from math import erf

import numpy as np
import pytest

from parts.picture.edges.strip import part_edges as part_edges_of
from parts.picture.edges.strip import sharpness

SHARP = 1.2
STATIONS = np.arange(-18, 19) * 0.5


def part_edges(profiles):
    return part_edges_of(profiles, np.full(len(profiles), SHARP))


def profile(*steps, first=150.0, noise=0.7, seed=1):
    """Light that begins with `first` and goes on to each level at its place."""
    light = np.full(len(STATIONS), first)
    for place, level in steps:
        rise = np.array([0.5 + 0.5 * erf((at - place) / SHARP / 2**0.5) for at in STATIONS])
        light = light + (level - first) * rise
        first = level
    return light + np.random.default_rng(seed).normal(0, noise, len(STATIONS))


@pytest.mark.parametrize(
    "steps",
    [
        ((0.3, 205.0),),
        ((0.3, 60.0),),
        ((0.3, 90.0), (5.3, 205.0)),
        ((0.3, 175.0), (3.3, 205.0)),
        ((-1.0, 100.0), (0.5, 205.0)),
        ((0.0, 60.0), (4.0, 155.0)),
    ],
    ids=["alone", "dark beside it", "wide shadow", "lit wall", "narrow shadow", "light on light"],
)
def test_the_edge_is_the_parts_own(steps):
    """The middle of all that changes lies up to three pixels off it."""
    found = part_edges(np.array([profile(*steps, seed=seed) for seed in range(20)]))
    off = found.places - steps[0][0]
    assert np.abs(off).mean() < 0.3
    assert (np.abs(off) < 2 * np.hypot(found.uncertainties, 0.15)).mean() >= 0.9


def test_a_strip_that_cannot_be_told_widens_the_uncertainty():
    clear = part_edges(np.array([profile((0.0, 90.0), (6.0, 205.0))]))
    narrow = part_edges(np.array([profile((0.0, 150.5), (1.0, 165.0), noise=3.0)]))
    assert narrow.uncertainties[0] > 2 * clear.uncertainties[0]
    assert clear.strips[0] == pytest.approx(6.0, abs=1.0)


def test_where_light_does_not_change_there_is_no_edge():
    assert np.isnan(part_edges(np.array([profile()])).places).all()


def test_the_blur_is_read_off_single_edges():
    edges = np.array([profile((place, 30.0), seed=seed) for seed, place in enumerate(np.linspace(-1, 1, 12))])
    assert sharpness(edges) == pytest.approx(SHARP, rel=0.15)
