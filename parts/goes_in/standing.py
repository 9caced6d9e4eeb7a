"""How a part stands among many: by verdict, then by how little work it takes. Counts are columns, one row a part."""

from dataclasses import dataclass

import numpy as np

from parts.fit.answer.asked import asked_once
from parts.fit.bands import Verdict
from parts.fit.check import check_columns, overall
from parts.rules.remedy_minutes import remedy_minutes

NO = Verdict.NO.rank
_COUNTS = ("rank", "noes", "minutes", "part", "work", "accept")


@dataclass(frozen=True, slots=True)
class Standing:
    """How each part of a column stands, one row a part.

    `rank` of the verdict; musts that say no; minutes at the bench beyond the standing work; things to make or buy, to
    do, and to accept. `checks` holds each check's value (NaN where not known) and rank by the check's key.
    """

    rank: np.ndarray
    noes: np.ndarray
    minutes: np.ndarray
    part: np.ndarray
    work: np.ndarray
    accept: np.ndarray
    checks: dict

    def order_by(self, keys):
        """Row numbers from best to worst; where all is equal by `keys`."""
        return np.lexsort((keys, self.work, self.accept, self.part, self.minutes, self.noes, self.rank))

    def rows(self, which):
        """The Standing of these rows, in this order."""
        checks = {key: (value[which], rank[which]) for key, (value, rank) in self.checks.items()}
        return Standing(**{name: getattr(self, name)[which] for name in _COUNTS}, checks=checks)

    def value(self, key):
        """The value of a check in every row; NaN where it is not known or the check does not apply."""
        return self.checks[key][0] if key in self.checks else np.full(len(self.rank), np.nan)

    def verdict(self, key):
        """The rank of a check's verdict in every row; that of "fits" where the check does not apply."""
        return self.checks[key][1] if key in self.checks else np.zeros(len(self.rank), dtype=int)


def standing(sheet, rules, parts, rows):
    """The Standing of the `rows` rows of a sheet that holds columns; only checks on the chosen `parts` count."""
    with np.errstate(all="ignore"):
        checked = check_columns(sheet, rules, parts)
        counts = {name: np.zeros(rows, dtype=int) for name in ("minutes", "part", "work", "accept", "noes")}
        for item in checked:
            counts["noes"] += item.must & (item.rank == NO)
        for item, remedy, where in asked_once(checked):
            counts[remedy.kind] += where
            if remedy.kind == "work":
                counts["minutes"] += where * remedy_minutes(item.key)
        checks = {item.key: (np.broadcast_to(_value(item), rows), np.broadcast_to(item.rank, rows)) for item in checked}
        return Standing(rank=np.broadcast_to(overall(checked), rows), checks=checks, **counts)


def joined(standings):
    """Several Standings one after the other."""
    counts = {name: np.concatenate([getattr(standing, name) for standing in standings]) for name in _COUNTS}
    keys = dict.fromkeys(key for standing in standings for key in standing.checks)
    checks = {
        key: tuple(
            np.concatenate([read(standing, key) for standing in standings])
            for read in (Standing.value, Standing.verdict)
        )
        for key in keys
    }
    return Standing(**counts, checks=checks)


def _value(item):
    return item.value.value if item.value.known else np.nan
