"""Pages of the measured prints."""

from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render

from parts.designs.correction import corrections
from parts.designs.forms import PrintForm
from parts.designs.revisions import parameters_of
from parts.library.part_records import key_of
from parts.models import HolderDesign, PrintedPiece
from parts.tools.sent_only import sent_only


def prints(request):
    """Every measured print, what each printer does to dimensions, and the form for the next."""
    design = _design(request.GET.get("design", ""))
    form = PrintForm(request.POST or None, initial=_sizes(design))
    if form.is_valid():
        form.instance.design = design
        piece = form.save()
        messages.success(request, f"Test print saved for {piece.printer}, {piece.material}.")
        return redirect("parts:holder-prints")
    pieces = list(PrintedPiece.objects.in_drawers().select_related("design__family", "design__movement"))
    context = {"form": form, "pieces": pieces, "corrections": corrections(pieces), "design": design}
    return render(request, "parts/designs/test_prints.html", context, status=422 if form.is_bound else 200)


@sent_only("parts:holder-prints")
def put_print_away(request, pk):
    """Put a measured print away, so that it no longer counts."""
    piece = get_object_or_404(PrintedPiece, pk=pk)
    piece.archived = True
    piece.save(update_fields=["archived", "updated"])
    messages.success(request, f"The test print of {piece.printer}, {piece.material} is archived and no longer counts.")
    return redirect("parts:holder-prints")


def _design(text):
    return HolderDesign.objects.select_related("family", "movement").filter(pk=key_of(text)).first()


def _sizes(design):
    if design is None:
        return {}
    p = parameters_of(design)
    last = PrintedPiece.objects.in_drawers().order_by("-created").first()
    sizes = {"nominal_outside": p.outside_diameter, "nominal_inside": p.inside_diameter, "nominal_height": p.height}
    return sizes | ({"printer": last.printer, "material": last.material} if last else {})
