"""The demo's holder orders, with a price list: rings of which one is measured, and a spacer that went out."""

from datetime import timedelta
from decimal import Decimal
from typing import Any

from django.utils import timezone

from jobs.demo.people import customer, visitor
from jobs.holder_orders import feedback, steps
from jobs.holder_orders.measuring import add_piece, drawn_sizes
from jobs.invoices.issuing import Buyer
from jobs.models import HolderOrder, HolderPrice
from jobs.papers.sending import send_invoice
from parts.models import HolderDesign


def fill_holder_orders():
    """Take both orders down, and bring them where they are."""
    for process, each, volume in (("filament", "18", "6"), ("resin", "24", "9"), ("turned", "85", "30")):
        HolderPrice.objects.create(process=process, per_piece=Decimal(each), per_cm3=Decimal(volume))
    rings = _order("Jörg Ahlen", "ring", material="tough filament", colour="black", count=3, days=9)
    steps.forward(order=rings, seen="make")
    _measure(rings, 0.02)
    spacer = _order("Zoë Marsh", "spacer", material="plain filament", colour="white", count=1, days=2)
    steps.forward(order=spacer, seen="make")
    _measure(spacer, 0.01)
    steps.forward(order=spacer, seen="check")
    steps.forward(order=spacer, seen="send")
    feedback.give(order=spacer, feedback="fits", words="Sits as if it had grown there.")
    _invoice(spacer)


def _order(name: str, kind: str, *, days: int, **facts: Any) -> HolderOrder:
    design = HolderDesign.objects.filter(kind=kind).latest("pk")
    wanted = timezone.localdate() + timedelta(days=days)
    order = HolderOrder(design=design, wanted_by=wanted, **facts)
    return steps.take(order=order, customer=customer(name), by=visitor())


def _invoice(order):
    to, today = order.customer, timezone.localdate()
    terms: dict[str, Any] = {"supplied": today, "due_on": today + timedelta(days=14), "postage": Decimal("4.90")}
    send_invoice(of=order, buyer=Buyer(to.name, to.address, "IE"), by=visitor(), **terms)


def _measure(order, off):
    """Measure one piece, each size a little under the drawing."""
    sizes = {size.name: round(size.drawn - off, 2) for size in drawn_sizes(order)}
    add_piece(order=order, sizes=sizes, by=visitor())
