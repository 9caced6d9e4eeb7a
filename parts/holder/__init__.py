"""Holder ring and spacer as geometry: dimensions in, bodies, files, drawings and findings out; free of Django.

Frame of every body: x towards 3 o'clock, y towards 6 o'clock, z towards the case back, 0 at the side that faces the
dial. It is right-handed. Angles run clockwise from 12 o'clock seen from the dial side, as everywhere; lengths in mm.
"""
