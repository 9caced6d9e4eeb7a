"""The limits of the holder's and the spacer's findings, mm, each with its reason: common practice, no source.

They belong to making and trying in, not to a watch, so that no shop sets them. Those that a shop may set are bench
rules (`parts/fit/rules.py`).
"""

BORE_SNUG = 0.05
"""Below this clearance a ring goes into its bore only after some filing."""
BORE_LOOSE = 0.40
"""Above this a ring stands visibly off the middle."""
MOVEMENT_PRESS = -0.10
"""Tighter than this a ring would crack, or the movement's plate would be marked."""
MOVEMENT_LOOSE = 0.15
"""Above this play the movement turns in its ring when the crown is pulled."""
STEM_SNUG = 0.10
"""Below this clearance all round the stem rubs in its channel when anything leans."""
BACK_SNUG = 0.05
"""Below this the case back presses on the ring once lacquer or a burr lies between."""
NUB_MISSES = 0.02
"""Below this press the nubs do not hold the movement against the dial."""
NUB_FIRM = 0.12
"""Above this press nubs take a set, or lift the case back's gasket."""
NUB_BLOCKS = 0.30
"""Above this the case back does not close."""
HEIGHT_OFF = 0.02
"""More than this between drawn and printed height is told; less is lost in the printer's own spread."""
SEAT_LOOSE = 0.30
"""Above this play a spacer in the dial's seat stands visibly off the middle."""
SUPPORT_LEAST = 0.10
"""Narrower than this no edge carries a dial."""
SUPPORT_PLAIN = 0.20
"""From this on a dial's edge lies safely however the spacer stands."""
FRONT_SNUG = 0.02
"""Below this clearance a ring goes through the front opening only after some easing."""
STANDS_OFF = 0.05
"""More than this between where a ring is drawn and where it stands shifts the stem's channel enough to rub."""
HOLDS_LEAST = 0.20
"""Less than this of a lip under the movement's edge lets go."""
HELD_LOOSE = 0.10
"""More play than this along the axis is felt at the crown."""
CLAMPS = 2
"""Fewer clamps than this let the movement tip."""
FORCE_LEAST = 0.5
"""Less than this of all tongues together, N, holds no movement against a knock: ten grams at five times gravity."""
FORCE_MOST = 10.0
"""More than this of all tongues together, N, bends a case back or lifts its gasket."""
STRAIN_EASY = 0.01
"""Up to this strain a bent plastic springs back for years, and"""
STRAIN_MOST = 0.02
"""beyond this it sets or breaks."""
STIFFNESS = {"filament": 2000.0, "resin": 2000.0, "turned": 100_000.0}
"""Young's modulus of what a ring is made of, N/mm²: common plastics across their layers, brass."""
