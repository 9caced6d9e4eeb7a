"""Drawings of a holder or a spacer as SVG, with dimensions; one drawing unit is one millimetre.

Each takes a scale: none for the screen, or a number (5 for 5:1) for paper and files, where width and height are stated.
"""

from parts.holder.drawings.pads import pad_map_svg, pads_svg
from parts.holder.drawings.picture import picture_svg
from parts.holder.drawings.plan import plan_svg
from parts.holder.drawings.round_it import ghosts
from parts.holder.drawings.section import section_svg
from parts.holder.drawings.wall_sections import walls_svg

__all__ = ["ghosts", "pad_map_svg", "pads_svg", "picture_svg", "plan_svg", "section_svg", "walls_svg"]
