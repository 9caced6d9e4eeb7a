"""A watch that an enquiry announced: what the intake page begins with."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jobs.intake.who import picked
from jobs.models import Enquiry

if TYPE_CHECKING:
    from collections.abc import Mapping


def enquiry_of(text: str) -> Enquiry | None:
    """The open enquiry of this number; None where there is none."""
    if not (text.isascii() and text.isdecimal() and len(text) < 10):
        return None
    return (
        Enquiry.objects.filter(pk=int(text), state__in=Enquiry.OPEN).select_related("customer", "case_family").first()
    )


def begun_of(data: Mapping[str, str]) -> dict[str, str]:
    """What the fields begin with when ?enquiry= names an open enquiry."""
    enquiry = enquiry_of(data.get("enquiry", ""))
    if enquiry is None:
        return {}
    return {
        "enquiry": str(enquiry.pk),
        "customer": picked(enquiry.customer),
        "family": str(enquiry.case_family.name) if enquiry.case_family else "",
        "wish": enquiry.wish,
    }
