"""How a customer reads what the bench does: a remedy of a report as a line of a quote."""

_POST = {"work": "Fit your {hand} hand to the new movement", "part": "Fit your {hand} hand to the new movement"}
_LINES = {
    "stem-height": {"part": "Spacer, so that the crown lines up"},
    "case-bore": {"work": "Ease the movement into your case"},
    "holder-wall": {"part": "Holder ring made for your case", "work": "Hold the movement firmly in your case"},
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
    "post-hour": _POST,
    "post-minute": _POST,
    "post-seconds": _POST,
    "stem-thread": {"part": "Stem and crown with matching threads"},
    "stem-length": {"part": "Stem of the right length"},
    "crown-tube": {"part": "Crown and tube that match"},
}


def line_for_customer(key, remedy):
    """The line for one remedy of the check with this key; what a customer accepts is in plain words already."""
    words = _LINES.get(key, {}).get(remedy.kind, remedy.text)
    return words.format(hand=key.removeprefix("post-")) if key.startswith("post-") else words
