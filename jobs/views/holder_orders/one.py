"""One holder order: its next step, its pieces, its papers, its feedback."""

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from jobs.holder_orders import feedback as said
from jobs.holder_orders import steps
from jobs.holder_orders.forms import AddressForm, CancelForm, FeedbackForm, OrderForm, PieceForm
from jobs.holder_orders.listing import with_all
from jobs.holder_orders.measuring import add_piece, measured_pieces
from jobs.holder_orders.papers import delivery_note_pdf, label_pdf
from jobs.invoices.account import account_of_order
from jobs.models import HolderOrder, Invoice, Shop
from jobs.papers.labels import SIZES, place_on
from parts.library.part_records import key_of
from parts.tools.addresses import address_for_others
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import for_saving, one_transaction


def _order(pk, records=None):
    return get_object_or_404(with_all(HolderOrder.objects.all() if records is None else records), pk=pk)


@require_GET
def order(request, pk):
    """The order, its next step first."""
    return _page(request, _order(pk))


def _page(request, order, **forms):
    """The order's page; of the forms on it, those given show what is wrong with what was sent."""
    pieces = measured_pieces(order)
    context = {
        "order": order,
        "days": [(word, day) for word, day in _days(order) if day],
        "pieces": pieces,
        "good": sum(piece.is_good for piece in pieces),
        "piece_form": PieceForm(order=order),
        "feedback_form": FeedbackForm(),
        "cancel_form": CancelForm(),
        "address_form": AddressForm(),
        "shop": (shop := Shop.current()),
        "label_places": SIZES[shop.label].places,
    }
    if request.sees_money:
        context |= _money(order, shop)
    return render(request, "jobs/holder_orders/order.html", context | forms, status=422 if forms else 200)


def _money(order, shop):
    payments, invoices = list(order.payments.all()), list(order.invoices.all())
    return {
        "account": account_of_order(order=order, payments=payments, invoices=invoices, shop=shop),
        "payments": payments,
        "invoices": invoices,
        "standing": Invoice.standing(order) if invoices else None,
    }


def _days(order):
    last = "Collected by hand" if order.by_hand else "Sent"
    return ("Made", order.made_on), ("Checked", order.checked_on), (last, order.sent_on)


@one_transaction
def edit(request, pk):
    """Change what is ordered."""
    order = _order(pk, for_saving(request, HolderOrder.objects.all()))
    form = OrderForm(request.POST or None, instance=order, sees_money=request.sees_money)
    if not order.is_open:
        messages.error(
            request,
            lazy("{order} is {state}: what was ordered stays as it is.").format(
                order=order, state=order.get_state_display()
            ),
        )
        return redirect(order)
    if form.is_valid():
        steps.change(order=form.instance)
        messages.success(request, lazy("{order} is saved.").format(order=order))
        return redirect(order)
    return render(
        request, "jobs/holder_orders/edit.html", {"order": order, "form": form}, status=422 if form.is_bound else 200
    )


@sent_only("jobs:holder-order", "pk")
def step(request, pk):
    """One step on (do=on, or collected, with the state that the page showed), back, cancelled, or open again."""
    order, do = _order(pk), request.POST.get("do")
    form = CancelForm(request.POST) if do == "cancel" else None
    if form and not form.is_valid():
        return _page(request, order, cancel_form=form)
    try:
        if do in ("on", "collected"):
            order = steps.forward(order=order, seen=request.POST.get("seen", ""), by_hand=do == "collected")
        elif do == "back":
            order = steps.back(order=order)
        elif do == "reopen":
            order = steps.reopen(order=order)
        elif form:
            order = steps.cancel(order=order, reason=form.cleaned_data["reason"])
        messages.success(request, lazy("{order}: {state}.").format(order=order, state=order.get_state_display()))
    except steps.NotNow as refusal:
        messages.error(request, str(refusal))
    return redirect(order)


@sent_only("jobs:holder-order", "pk")
def address(request, pk):
    """Note the address of a customer who has none."""
    order = _order(pk)
    form = AddressForm(request.POST)
    if not form.is_valid():
        return _page(request, order, address_form=form)
    if steps.note_address(order=order, address=form.cleaned_data["address"]):
        messages.success(request, lazy("Address saved with {order.customer}.").format(order=order))
    else:
        messages.error(
            request, lazy("{order.customer} has an address by now. Nothing was changed.").format(order=order)
        )
    return redirect(order)


@sent_only("jobs:holder-order", "pk")
def measure(request, pk):
    """Save what a piece measured, or leave a piece out and count it again (do=out, do=count)."""
    order = _order(pk)
    if order.state != HolderOrder.State.CHECK:
        messages.error(
            request,
            lazy("{order} is {state}: pieces are measured while it is to check.").format(
                order=order, state=order.get_state_display()
            ),
        )
        return redirect(order)
    if request.POST.get("do") in ("out", "count"):
        piece = get_object_or_404(order.pieces, pk=key_of(request.POST.get("piece", "")))
        piece.is_left_out = request.POST["do"] == "out"
        piece.save(update_fields=["is_left_out"])
        return redirect(order)
    form = PieceForm(request.POST, order=order)
    if not form.is_valid():
        return _page(request, order, piece_form=form)
    piece = add_piece(order=order, sizes=form.sizes, by=request.user)
    if piece.is_good:
        messages.success(request, lazy("Piece {piece.number} is within its limits.").format(piece=piece))
    else:
        messages.warning(
            request,
            lazy("Piece {piece.number} is outside its limits. Ease it and measure again, or make another.").format(
                piece=piece
            ),
        )
    return redirect(order)


@sent_only("jobs:holder-order", "pk")
def feedback(request, pk):
    """Note how it fitted, or undo that (do=undo)."""
    order = _order(pk)
    form = FeedbackForm(request.POST)
    undoes = request.POST.get("do") == "undo"
    if not (undoes or form.is_valid()):
        return _page(request, order, feedback_form=form)
    try:
        if undoes:
            said.undo(order=order)
            messages.success(request, lazy("Feedback undone, on the revision too."))
        else:
            typed = form.cleaned_data
            said.give(order=order, feedback=typed["feedback"], words=typed["feedback_words"])
            messages.success(request, lazy("Saved, and noted on revision {order.design.revision}.").format(order=order))
    except steps.NotNow as refusal:
        messages.error(request, str(refusal))
    return redirect(order)


@require_GET
def paper(request, pk, kind):
    """The label (?place=2 on a sheet) or the delivery note; nothing is kept."""
    order = _order(pk)
    if kind == "label":
        place = place_on(SIZES[Shop.current().label], request.GET.get("place", ""))
        content = label_pdf(order, address=address_for_others(request, order.get_absolute_url()), place=place)
    elif kind == "delivery-note":
        content = delivery_note_pdf(order)
    else:
        raise Http404
    headers = {"Content-Disposition": f'inline; filename="{kind}-{order.pk}.pdf"'}
    return HttpResponse(content, content_type="application/pdf", headers=headers)
