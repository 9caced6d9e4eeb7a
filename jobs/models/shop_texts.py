"""The texts that a new shop begins with, until it words them itself. Each is a message of the catalogue."""

from django.utils.translation import gettext_noop as _

GREETING = _("Thank you for trusting us with your watch. Here is what we found, and what we suggest.")
TERMS = _(
    "This quote is valid until the date above. We start once you have agreed to it and, where one is due, paid the "
    "deposit."
)
WARRANTY = _(
    "We stand by our work for twelve months from the day you collect your watch. Your statutory rights are not "
    "affected."
)
CARE = _("Please keep your watch dry and away from strong magnets, and wipe it with a soft cloth.")
BUTTON_CELL = _(
    "This watch contains a button battery. Keep new and used ones out of reach of children. If swallowed, it can cause "
    "severe or fatal burns inside the body in as little as two hours: get medical help at once, even if you are only "
    "guessing. Please recycle used batteries."
)
WATER = _(
    "Once a watch has been opened, its water-resistance rating no longer counts until that watch has passed a pressure "
    "test."
)
NICKEL = _("New parts that touch the skin may contain nickel. Please tell us if you are sensitive to it.")
LIABILITY = _(
    "We look after your watch as if it were our own. If it is lost or damaged while it is with us, the value declared "
    "above is the basis on which we settle it. Please tell us if that value is not right."
)
UNCOLLECTED = _(
    "Please collect your watch within three months of hearing from us that it is ready. We will remind you in writing "
    "before we do anything else with it."
)
PRIVACY = _(
    "We use your details only for this job and for questions about it, and give them to nobody else. Ask us at any "
    "time what we hold on you, or to erase it."
)
QUOTE_EMAIL = _(
    "Hello {name},\n\nhere is our quote for your watch ({watch}), attached as a PDF: quote {number}, version "
    "{version}, {total}. It is valid until {valid until}.\n\nIf you would like us to go ahead, please sign it and send "
    "it back, or simply reply to this message.\n\nKind regards\n{shop}"
)
AFTER_EMAIL = _("Hello {name},\n\n{text}\n\nKind regards\n{shop}")
AFTER_MESSAGE = _("Hello {name}. {text} {shop}, job {number}")
AFTER_CELL = _(
    "The battery in your watch ({watch}) dates from {begun} and is due for a change from about {month}. An "
    "empty one that stays in can leak and damage the movement. Shall we fit a new one?"
)
AFTER_WARRANTY = _(
    "The warranty on our work on your watch ({watch}) runs until {day}. If anything about it is not as it "
    "should be, please tell us before then."
)
AFTER_PROMISE = _("We promised to come back to you about your watch ({watch}): {words}")
QUOTE_MESSAGE = _(
    "Hello {name}, our quote for your watch is ready: {total}, valid until {valid until}. Shall we go ahead? {shop}, "
    "job {number}"
)
