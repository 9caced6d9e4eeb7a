"""How a customer reads what the bench will do: routine work, new parts and remedies as lines of a quote.

Every sentence is a message of the catalogue; `Composed` says it in the customer's language.
"""

import re

from django.utils.translation import gettext_noop as _

from jobs.quotes.composed import Composed
from parts.fit.verdicts import without_count
from parts.models.pairing import CENTRE_HANDS, SMALL_SECONDS

_ROUTINE = {
    "teardown": _("Open the watch and remove movement, dial and hands"),
    "dial": _("Fit the dial to the new movement"),
    "hands": _("Fit the hands and check that they run freely"),
    "stem": _("Cut and fit stem and crown"),
    "timing": _("Time the watch over several days"),
    "handover": _("Clean, close and final check"),
}
_FIT_MOVEMENT = {
    (True, True): _("Make a holder ring and a spacer for your case and fit the new movement"),
    (True, False): _("Make a holder ring for your case and fit the new movement"),
    (False, True): _("Make a spacer, so that the crown lines up, and fit the new movement"),
    (False, False): _("Fit the new movement in your case"),
}
"""The work of the holder stage, by whether a ring and a spacer are made."""
_MOVEMENTS = {"quartz": _("New quartz movement"), "mechanical": _("New mechanical movement"), "": _("New movement")}
LIBRARY_PARTS = {"crown": _("New crown"), "stem": _("New stem")}
_OPTIONS = {
    ("quartz", True): _("Quartz movement with date"),
    ("quartz", False): _("Quartz movement without date"),
    ("mechanical", True): _("Mechanical movement with date"),
    ("mechanical", False): _("Mechanical movement without date"),
    ("", True): _("Another movement, with date"),
    ("", False): _("Another movement, without date"),
}
_DAY_DATE = {
    "quartz": _("Quartz movement with day and date"),
    "mechanical": _("Mechanical movement with day and date"),
    "": _("Another movement, with day and date"),
}
_HANDS = {
    (True, True, True): _("New hands"),
    (True, True, False): _("New hour and minute hands"),
    (True, False, True): _("New hour and seconds hands"),
    (False, True, True): _("New minute and seconds hands"),
    (True, False, False): _("New hour hand"),
    (False, True, False): _("New minute hand"),
    (False, False, True): _("New seconds hand"),
    (False, False, False): "",
}
"""New hands by whether the hour, minute and seconds hand come from the set."""
_SMALL_HAND = _("New small seconds hand")
_LINES = {
    "case-bore": {"work": _("Ease the movement into your case")},
    "hour-wheel": {"part": _("Washers under the dial")},
    "dial-bore": {"work": _("Adapt the dial's edge to the case")},
    "dial-furniture": {"work": _("Centre the dial under the rim")},
    "dial-held": {"work": _("Centre the dial on its spacer")},
    "date-tilt": {"part": _("Date disc printed for your dial's window, if one can be had")},
    "stem-tube": {"work": _("Open the tube for the stem")},
    "dial-seat": {"part": _("Ring to centre the dial"), "work": _("Adapt the dial's edge to the case")},
    "centre-hole": {"work": _("Adapt the dial's centre hole")},
    "dial-feet": {"work": _("Fix your dial to the new movement")},
    "pad-room": {"work": _("Fix your dial to the holder ring")},
    "back-gap": {"work": _("Adapt the case back")},
    "tip-clearance": {"work": _("Shorten the longest hand slightly")},
    "post-hour": dict.fromkeys(("work", "part"), _("Fit the hour hand to the new movement")),
    "post-minute": dict.fromkeys(("work", "part"), _("Fit the minute hand to the new movement")),
    "post-seconds": dict.fromkeys(("work", "part"), _("Fit the seconds hand to the new movement")),
    "stem-thread": {"part": _("Stem and crown with matching threads")},
    "stem-length": {"part": _("Stem of the right length")},
    "crown-tube": {"part": _("Crown and tube that match")},
    "joint-clear": {"work": _("Fit the movement with its split stem")},
    "front-opening": {"work": _("Ease movement and dial in through the front of your case")},
    "ring-gap": {"part": _("Ring or shim over the dial's edge")},
    "sub-place": {"work": _("Adapt the dial's hole for the small hand")},
    "sub-post": {"work": _("Fit the small hand to the new movement"), "part": _("New small hand")},
}
TO_ACCEPT = (
    _("The date window will stay blank."),
    _("The day window will stay blank."),
    _("The date or day window will stay blank."),
    _("The date will lie {value} deeper in its window."),
    _("A strip of the movement's plate, {value} wide, will show beside the date."),
    _("The date will be tilted by {value} in its window."),
    _("The date will sit {value} off the centre of its window."),
    _("The window's edge will hide {value} of the date."),
    _("A sliver of the day before or after, {value} wide, will show in the window."),
    _("The day will be tilted by {value} in its window."),
    _("The day will sit {value} off the centre of its window."),
    _("The window's edge will hide {value} of the day."),
    _("A subdial will stand still, or be closed."),
    _("The battery will need changing after about {value}."),
    _("The dial's edge may show at an angle."),
    _("The minute marks will run to within {value} of the dial's edge."),
    _("The dial will lie {value} deeper below the rim."),
    _("The centre hole will show all round the hour hand's hub."),
    _("The hour hand looks short: it ends {size} inside the hour markers."),
    _("The hour hand looks long: it reaches {size} past the hour markers."),
    _("The minute hand looks short: it ends {size} inside the minute track."),
    _("The minute hand looks long: it reaches {size} past the minute track."),
)
"""What the fit check asks a customer to accept, as it says it: its own sentences, in plain words already."""
_PATTERNS = [(message, re.compile(re.sub(r"\\{(\w+)\\}", r"(?P<\1>.+)", re.escape(message)))) for message in TO_ACCEPT]


def routine_work(kind, report):
    """The routine work of a stage (its kind's word); of the holder's, what the report asks to be made."""
    if kind != "holder":
        return Composed(_ROUTINE[kind])
    asked = report.asked_for if report else ()
    ring = any(check.key == "holder-wall" and remedy.kind == "part" for check, remedy in asked)
    return Composed(_FIT_MOVEMENT[ring, bool(report and report.pairing.stack.thickness)])


def movement_words(movement):
    return _MOVEMENTS[movement.kind] if movement else ""


def option_title(pairing):
    """An option in the customer's words; None where it has no movement yet and goes by the fit check's name."""
    movement = pairing.movement
    if movement is None:
        return None
    shows_both = movement.has_date and movement.has_day
    return Composed(_DAY_DATE[movement.kind] if shows_both else _OPTIONS[movement.kind, bool(movement.has_date)])


def hands_of_set(pairing, field):
    """Which new hands the set in this field of the pairing gives; "" where others stand in for all of them."""
    if field == SMALL_SECONDS:
        return _SMALL_HAND
    if field != "hands":
        return _HANDS[tuple(name == field for name in CENTRE_HANDS)]
    return _HANDS[tuple(getattr(pairing, name) is None for name in CENTRE_HANDS)]


def line_for_customer(key, remedy):
    """The line for one remedy of the check with this key; what a customer accepts is in plain words already."""
    if words := _LINES.get(without_count(key), {}).get(remedy.kind):
        return Composed(words)
    matches = ((message, pattern.fullmatch(remedy.text)) for message, pattern in _PATTERNS)
    return next((Composed(message, match.groupdict()) for message, match in matches if match), Composed(remedy.text))
