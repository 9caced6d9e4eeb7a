"""Filters that go by what the check finds: which rows of a Standing to keep."""

import numpy as np

from parts.fit.bands import Verdict


def keep_movements(standing, wanted):
    """Rows whose cell lasts the wanted months and, where asked, whose posts take the hands as they are."""
    rows = keep_hands(standing, wanted)
    if wanted.get("cell_life") is not None:
        rows &= standing.value("cell-life") >= wanted["cell_life"]
    return rows


def keep_hands(standing, wanted):
    """Where asked, rows whose hands go onto their posts as they are."""
    rows = np.ones(len(standing.rank), dtype=bool)
    if wanted.get("goes_on"):
        for name in ("post-hour", "post-minute", "post-seconds"):
            rows &= standing.verdict(name) == Verdict.FITS.rank
    return rows


def keep_all(standing, _wanted):
    return np.ones(len(standing.rank), dtype=bool)


KEEPERS = {"movement": keep_movements, "hands": keep_hands, "stem": keep_all, "crown": keep_all}
