"""Bench minutes that a check's remedy takes beyond the standing work of a conversion; common practice, no source."""

from parts.fit.verdicts import without_count

MINUTES = {
    "case-bore": 15,
    "dial-bore": 25,
    "dial-seat": 25,
    "dial-furniture": 5,
    "dial-held": 10,
    "stem-tube": 10,
    "centre-hole": 15,
    "dial-feet": 30,
    "back-gap": 30,
    "tip-clearance": 10,
    "pad-room": 5,
    "sub-place": 15,
}
_HAND_WORK = 10
"""For opening a hand's hole or closing its collet."""
IN_STANDING = (
    *("stem-length", "stem-height", "holder-wall"),
    *("gap-hour-dial", "gap-hour-minute", "gap-minute-seconds", "gap-furniture", "gap-crystal", "sub-gap"),
)
"""The checks whose work every conversion has."""


def in_standing_work(key):
    """Whether every conversion has the work that this check (by its key) asks for."""
    return without_count(key) in IN_STANDING


def remedy_minutes(key):
    """Minutes for one remedy at the bench that this check asks for; 0 where the standing work holds it."""
    return 0 if in_standing_work(key) else MINUTES.get(without_count(key), _HAND_WORK)
