"""The case under pressure, as advice: how far crystal and back give way, what is left, the gasket in its groove.

It decides nothing and promises no water resistance: only a pressure test of the closed watch does.
"""

from parts.fit.pressure.advice import under_pressure

__all__ = ["under_pressure"]
