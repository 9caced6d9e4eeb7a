"""How sent pieces fitted: noted on the order and on its revision, and undone on both."""

from __future__ import annotations

from django.db import transaction

from jobs.holder_orders.steps import NotNow
from jobs.models import HolderOrder
from parts.designs.revisions import note_outcome, undo_outcome
from parts.models import HolderDesign


@transaction.atomic
def give(*, order: HolderOrder, feedback: str, words: str) -> HolderOrder:
    """Note how it fitted. Raises NotNow for what is not sent, or has feedback already."""
    order, design = _held(order)
    if order.state != HolderOrder.State.SENT:
        raise NotNow("These pieces are not sent yet.")
    if order.feedback:
        raise NotNow("There is feedback already. Undo it first.")
    order.feedback, order.feedback_words = feedback, words
    order.before = note_outcome(design=design, result=feedback, tried_on=_named(order), words=words)
    order.save()
    return order


@transaction.atomic
def undo(*, order: HolderOrder) -> HolderOrder:
    """Take the feedback off the order, and off its revision unless that says something else by now."""
    order, design = _held(order)
    if order.before is None:
        raise NotNow("There is no feedback to undo.")
    said = {"result": order.feedback, "tried_on": _named(order), "words": order.feedback_words}
    undo_outcome(design=design, before=order.before, **said)
    order.feedback, order.feedback_words, order.before = "", "", None
    order.save()
    return order


def _named(order):
    """What the revision says it was tried on: the order by its number, nobody by name."""
    return str(order).lower()


def _held(order):
    order = HolderOrder.objects.select_for_update().get(pk=order.pk)
    return order, HolderDesign.objects.select_for_update().get(pk=order.design_id)
