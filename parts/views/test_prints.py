"""Pages of the measured prints."""

from __future__ import annotations

from typing import TYPE_CHECKING

from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from parts.designs.correction import corrections
from parts.designs.files import TYPES, coupon_body
from parts.designs.forms import CouponForm, LayersForm, PrintForm
from parts.designs.revisions import parameters_of
from parts.holder.edges import span_of
from parts.library.part_records import key_of
from parts.models import HolderDesign, PrintedPiece
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import one_transaction

if TYPE_CHECKING:
    from django.http import HttpRequest


def prints(request):
    """Every measured print, what each printer does to dimensions, and the form for the next."""
    design = _design(request.GET.get("design", ""))
    form = PrintForm(request.POST or None, initial=_sizes(design))
    if form.is_valid():
        form.instance.design = design
        piece = form.save()
        messages.success(request, lazy("Test print saved for {piece.printer}, {piece.material}.").format(piece=piece))
        return redirect("parts:holder-prints")
    return _page(request, form=form, coupon=CouponForm(initial=_last()), design=design)


@sent_only("parts:holder-prints")
@one_transaction
def coupon_measured(request: HttpRequest) -> HttpResponse:
    """Store what a printed coupon measured, each step as a print of its own."""
    coupon = CouponForm(request.POST)
    if not coupon.is_valid():
        return _page(request, form=PrintForm(), coupon=coupon)
    pieces = coupon.save()
    messages.success(
        request, lazy("The coupon is saved for {pieces[0].printer}, {pieces[0].material}.").format(pieces=pieces)
    )
    return redirect("parts:holder-prints")


@require_GET
def coupon_file(request: HttpRequest, ending: str) -> HttpResponse:
    """The coupon to print, in the layers that the address names (mm)."""
    layers = LayersForm(request.GET)
    if not layers.is_valid():
        return _page(request, form=PrintForm(), coupon=CouponForm(request.GET, is_printed=False))
    made = layers.made
    headers = {"Content-Disposition": f'attachment; filename="coupon-{made.layer:.2f}-mm.{ending}"'}
    return HttpResponse(coupon_body(made, ending), content_type=TYPES[ending], headers=headers)


def _page(
    request: HttpRequest, *, form: PrintForm, coupon: CouponForm, design: HolderDesign | None = None
) -> HttpResponse:
    pieces = list(PrintedPiece.objects.in_drawers().select_related("design__family", "design__movement"))
    context = {"form": form, "pieces": pieces, "corrections": corrections(pieces), "design": design, "coupon": coupon}
    bound = form.is_bound or coupon.is_bound
    return render(request, "parts/designs/test_prints.html", context, status=422 if bound else 200)


@sent_only("parts:holder-prints")
def put_print_away(request, pk):
    """Put a measured print away, so that it no longer counts."""
    piece = get_object_or_404(PrintedPiece, pk=pk)
    piece.archived = True
    piece.save(update_fields=["archived", "updated"])
    messages.success(
        request,
        lazy("The test print of {piece.printer}, {piece.material} is archived and no longer counts.").format(
            piece=piece
        ),
    )
    return redirect("parts:holder-prints")


def _design(text):
    return HolderDesign.objects.select_related("family", "movement").filter(pk=key_of(text)).first()


def _last():
    """Printer and material of the last print."""
    last = PrintedPiece.objects.in_drawers().order_by("-created").first()
    return {name: getattr(last, name) for name in ("printer", "material", "process")} if last else {}


def _sizes(design):
    if design is None:
        return {}
    p = parameters_of(design)
    sizes = {"nominal_outside": span_of(p.outer), "nominal_inside": span_of(p.inner), "nominal_height": p.height}
    return sizes | _last()
