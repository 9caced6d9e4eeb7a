"""How a part stands among many: by verdict, then by how little work it takes. Counts are columns, one row a part."""

from dataclasses import dataclass

import numpy as np

from parts.fit.bands import Verdict
from parts.fit.check import check_columns, overall
from parts.fit.columns import Column
from parts.remedy_minutes import remedy_minutes

NO = Verdict.NO.rank


@dataclass(frozen=True, slots=True)
class Standing:
    """`rank` of the verdict; musts that say no; minutes at the bench beyond the standing work; things to make or buy,
    to do, and to accept; `values` holds each check's value, NaN where it is not known."""

    rank: np.ndarray
    noes: np.ndarray
    minutes: np.ndarray
    part: np.ndarray
    work: np.ndarray
    accept: np.ndarray
    values: dict

    @property
    def order(self):
        """Row numbers from best to worst; where all is equal the rows keep their order."""
        return np.lexsort((self.work, self.accept, self.part, self.minutes, self.noes, self.rank))


def standing(sheet, rules, parts, rows):
    """The Standing of the `rows` rows of a sheet that holds columns; only checks on the chosen `parts` count."""
    with np.errstate(all="ignore"):
        checks = check_columns(sheet, rules, parts)
        counts = {name: np.zeros(rows, dtype=int) for name in ("minutes", "part", "work", "accept", "noes")}
        for item in checks:
            counts["noes"] += item.must & (item.rank == NO)
            for remedy, where in _called_for(item):
                counts[remedy.kind] += where
                if remedy.kind == "work":
                    counts["minutes"] += where * remedy_minutes(item.key)
        rank = np.broadcast_to(overall(checks), rows)
        values = {item.key: np.broadcast_to(_value(item), rows) for item in checks}
    return Standing(rank=rank, values=values, **counts)


def joined(standings):
    """Several Standings one after the other."""
    columns = ("rank", "noes", "minutes", "part", "work", "accept")
    keys = dict.fromkeys(key for one in standings for key in one.values)
    values = {
        key: np.concatenate([one.values.get(key, np.full(len(one.rank), np.nan)) for one in standings]) for key in keys
    }
    return Standing(
        **{name: np.concatenate([getattr(one, name) for one in standings]) for name in columns}, values=values
    )


def _called_for(item):
    return item.remedies.items() if isinstance(item, Column) else ((remedy, True) for remedy in item.remedies)


def _value(item):
    return item.value.value if item.value.known else np.nan
