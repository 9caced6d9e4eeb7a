"""The sheet for a customer with a calliper: what can be measured without opening a watch by force."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.template.loader import render_to_string
from django.utils.translation import gettext_lazy as _

from jobs.language.choices import speaking, spoken
from jobs.models import Shop
from jobs.shop.words import in_language, language_for
from parts.tools.papers.pdf import to_pdf

if TYPE_CHECKING:
    from jobs.models import Customer

MEASURED = (
    (_("Case, across, without the crown"), _("flat jaws, clear of the crown; a case that is not round: both ways")),
    (_("Case, from back to crystal"), _("the thickest place")),
    (_("Dial, as far as it is seen"), _("through the crystal, across the middle")),
    (_("Hour hand, from the middle to its tip"), _("through the crystal, beside a ruler")),
    (_("Minute hand, from the middle to its tip"), _("the same")),
    (_("Seconds hand, from the middle to its tip"), _("the same; leave blank if there is none")),
    (_("Movement, across"), _("only if the back is open; do not touch the wheels")),
    (_("Movement, thickness"), _("only if it lies open beside the case")),
)
"""(what, how) of each box in mm."""
SEEN = (
    _("Which hour does the date window stand at? (none: write none)"),
    _("Which hour does the crown stand at?"),
    _("Does the watch run? Does it run on a battery?"),
    _("Signs and numbers on the movement, if the back is open"),
    _("Words and numbers on the back"),
)


def customers_sheet_pdf(customer: Customer) -> bytes:
    """The sheet's bytes, in the customer's language."""
    shop = Shop.current()
    language = language_for(customer, shop)
    with speaking(language):
        facts = {"measured": MEASURED, "seen": SEEN, "unit": "mm", "customer": customer, "language": spoken()}
        html = render_to_string("papers/customers_sheet.html", facts | {"shop": in_language(shop, language)})
        return to_pdf(html, size=shop.paper)
