"""Picks that the program proposes by itself, for the person to accept: rim, centre hole, window, feet, a hand's ends.

Looked for coarsely in the rectified picture; what is handed back is snapped to the edge, with how well it fits.
"""

from parts.picture.propose.hand import hand
from parts.picture.propose.round import feet, hole, rim
from parts.picture.propose.window import window

__all__ = ["feet", "hand", "hole", "rim", "window"]
