"""Drawings of a report as SVG text; one drawing unit is one millimetre.

Each drawing takes a scale: none for the screen, where the page's style gives the width, or a number (5 for 5:1) for
paper, where width and height are stated in real millimetres.
"""

from parts.fit.drawings.bar import bar_svg
from parts.fit.drawings.dial import dial_svg
from parts.fit.drawings.foot_template import foot_cutting_svg, foot_marks_svg, foot_template_svg
from parts.fit.drawings.look import look_svg
from parts.fit.drawings.section import section_half_svg, section_svg, stack_svg
from parts.fit.drawings.window import window_svg

__all__ = [
    "bar_svg",
    "dial_svg",
    "foot_cutting_svg",
    "foot_marks_svg",
    "foot_template_svg",
    "look_svg",
    "section_half_svg",
    "section_svg",
    "stack_svg",
    "window_svg",
]
