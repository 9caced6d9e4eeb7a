"""How a customer reads what the bench will do: routine work, new parts and remedies as lines of a quote."""

from parts.models.pairing import OTHER_HANDS

_ROUTINE = {
    "teardown": "Open the watch and remove movement, dial and hands",
    "dial": "Fit the dial to the new movement",
    "hands": "Fit the hands and check that they run freely",
    "stem": "Cut and fit stem and crown",
    "timing": "Time the watch over several days",
    "handover": "Clean, close and final check",
}
_FIT_MOVEMENT = {
    (True, True): "Make a holder ring and a spacer for your case and fit the new movement",
    (True, False): "Make a holder ring for your case and fit the new movement",
    (False, True): "Make a spacer, so that the crown lines up, and fit the new movement",
    (False, False): "Fit the new movement in your case",
}
"""The work of the holder stage, by whether a ring and a spacer are made."""
_MOVEMENTS = {"quartz": "New quartz movement", "mechanical": "New mechanical movement", "": "New movement"}
LIBRARY_PARTS = {"crown": "New crown", "stem": "New stem"}
_OPTIONS = {
    ("quartz", True): "Quartz movement with date",
    ("quartz", False): "Quartz movement without date",
    ("mechanical", True): "Mechanical movement with date",
    ("mechanical", False): "Mechanical movement without date",
    ("", True): "Another movement, with date",
    ("", False): "Another movement, without date",
}
_HANDS = {
    (True, True, True): "New hands",
    (True, True, False): "New hour and minute hands",
    (True, False, True): "New hour and seconds hands",
    (False, True, True): "New minute and seconds hands",
    (True, False, False): "New hour hand",
    (False, True, False): "New minute hand",
    (False, False, True): "New seconds hand",
    (False, False, False): "",
}
"""New hands by whether the hour, minute and seconds hand come from the set."""
_LINES = {
    "case-bore": {"work": "Ease the movement into your case"},
    "hour-wheel": {"part": "Washers under the dial"},
    "dial-bore": {"work": "Adapt the dial's edge to the case"},
    "dial-furniture": {"work": "Centre the dial under the rim"},
    "dial-held": {"work": "Centre the dial on its spacer"},
    "date-tilt": {"part": "Date disc printed for your dial's window, if one can be had"},
    "stem-tube": {"work": "Open the tube for the stem"},
    "dial-seat": {"part": "Ring to centre the dial", "work": "Adapt the dial's edge to the case"},
    "centre-hole": {"work": "Adapt the dial's centre hole"},
    "dial-feet": {"work": "Fix your dial to the new movement"},
    "back-gap": {"work": "Adapt the case back"},
    "tip-clearance": {"work": "Shorten the longest hand slightly"},
    **{
        f"post-{hand}": dict.fromkeys(("work", "part"), f"Fit the {hand} hand to the new movement")
        for hand in ("hour", "minute", "seconds")
    },
    "stem-thread": {"part": "Stem and crown with matching threads"},
    "stem-length": {"part": "Stem of the right length"},
    "crown-tube": {"part": "Crown and tube that match"},
}


def routine_work(kind, report):
    """The routine work of a stage (its kind's word); of the holder's, what the report asks to be made."""
    if kind != "holder":
        return _ROUTINE[kind]
    asked = report.asked_for if report else ()
    ring = any(check.key == "holder-wall" and remedy.kind == "part" for check, remedy in asked)
    return _FIT_MOVEMENT[ring, bool(report and report.pairing.stack.thickness)]


def movement_words(movement):
    return _MOVEMENTS[movement.kind] if movement else ""


def option_title(pairing):
    """An option in the customer's words; the fit check's name where it has no movement yet."""
    movement = pairing.movement
    return _OPTIONS[movement.kind, bool(movement.has_date)] if movement else pairing.name


def hands_of_set(pairing, field):
    """Which new hands the set in this field of the pairing gives; "" where others stand in for all of them."""
    if field != "hands":
        return _HANDS[tuple(name == field for name in OTHER_HANDS)]
    return _HANDS[tuple(getattr(pairing, name) is None for name in OTHER_HANDS)]


def line_for_customer(key, remedy):
    """The line for one remedy of the check with this key; what a customer accepts is in plain words already."""
    return _LINES.get(key, {}).get(remedy.kind, remedy.text)
