"""University course EOP 601 (2011), page "Sag example": a thin lens of two curvatures, its edge thickness.

Curvatures 0.0104227 and -0.0406946 per mm, half-aperture 9 mm, centre 3.0486 mm: the edge is 0.918096 mm thick.
"""

import pytest

from parts.fit.arithmetic.dome import sagitta, sphere_radius


def test_the_edge_of_the_lens():
    front, back = (sagitta(1 / curvature, 9.0) for curvature in (0.0104227, 0.0406946))
    assert 3.0486 - front - back == pytest.approx(0.918096, abs=5e-7)


@pytest.mark.parametrize("curvature", [0.0104227, 0.0406946])
def test_back_from_the_sagitta_to_the_curvature(curvature):
    assert 1 / sphere_radius(sagitta(1 / curvature, 9.0), 9.0) == pytest.approx(curvature)
