"""The SVG files of a holder are round and to scale in a browser, measured on what it paints."""

import io
import re

import pytest
from PIL import Image

from parts.holder.drawings import plan_svg
from parts.holder.findings.design import work_out
from parts.tools.papers.drawn import with_styles
from tests.holder.pieces import around, ring, spacer
from tests.true_scale import diameters

ENLARGED = 3
"""Dots per pixel of the page."""
DOTS = ENLARGED * 96 / 25.4
"""Dots per millimetre, as a browser shows them."""
SCALE = 5


@pytest.mark.parametrize(
    ("piece", "wide"),
    [
        (ring(outside_diameter=25.6, channel_angle=70.0), (25.6, 22.0)),
        (ring(outside_diameter=25.6, channel_angle=70.0, channel_open="closed"), (25.6, 22.0)),
        (spacer(split_width=0.15, split_angle=190.0), (25.8, 21.0)),
    ],
)
def test_a_plan_as_svg_is_round_in_every_direction(chromium, piece, wide):
    svg = with_styles(plan_svg(work_out(piece, around({"case.bore_diameter": None})), None, SCALE))
    svg = re.sub(r"<text.*?</text>", "", svg)
    left, top = map(float, re.search(r'viewBox="(\S+) (\S+) ', svg).groups())
    context = chromium.new_context(device_scale_factor=ENLARGED, viewport={"width": 1000, "height": 900})
    page = context.new_page()
    page.set_content(f'<body style="margin: 0">{svg}')
    picture = Image.open(io.BytesIO(page.screenshot()))
    context.close()
    for diameter in wide:
        found = diameters(picture, (-left * SCALE * DOTS, -top * SCALE * DOTS), diameter * SCALE * DOTS, window=5)
        off = {angle: round(value / DOTS - diameter * SCALE, 3) for angle, value in found.items()}
        assert all(abs(by) < 0.1 for by in off.values()), off
