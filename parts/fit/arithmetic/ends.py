"""Intervals of what has kinks, so that a derivative would miss what happens past them.

Source: fit model sections 6 and 11.4: the value at both ends of each uncertain input alone; falls and rises add up.
"""

from collections.abc import Callable

from parts.fit.arithmetic.elementwise import Number, lower, somewhere, upper
from parts.fit.arithmetic.quantities import Spread


def ends(
    formula: Callable[..., Number],
    at: tuple[Number, ...],
    parts: list[Spread],
    step_to: Callable[[int, Number, Number], Number],
) -> tuple[Number, Number, Number, Spread]:
    """The formula's value, the sum of its falls and of its rises, and what each input does to it at most.

    `parts` holds for each argument what its inputs add to its half-width; `step_to(i, value, step)` is one end of it.
    """
    value = formula(*at)
    falls: Number = 0.0
    rises: Number = 0.0
    spread: Spread = {}
    for i, of_input in enumerate(parts):
        for name, part in of_input.items():
            fall: Number = 0.0
            rise: Number = 0.0
            if somewhere(part != 0):
                for step in (part, -part):
                    end = step_to(i, at[i], step)
                    there = formula(*at[:i], end, *at[i + 1 :]) - value
                    fall, rise = lower(fall, there), upper(rise, there)
            falls, rises = falls + fall, rises + rise
            spread[name] = upper(-fall, rise)
    return value, falls, rises, spread
