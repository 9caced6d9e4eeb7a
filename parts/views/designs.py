"""Pages of holder rings and spacers."""

import json

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, redirect, render
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_GET

from parts.designs import files
from parts.designs.correction import correct
from parts.designs.forms import DesignForm, ResultForm, chosen_making
from parts.designs.page import answer_context, files_context, form_groups
from parts.designs.revisions import keep_design, parameters_of, revisions_of
from parts.designs.workbench import bench_for, bench_of
from parts.fit.errors import SheetError
from parts.holder.files import step
from parts.holder.parameters import KINDS, from_plain
from parts.library.part_records import key_of
from parts.models import HolderDesign, Pairing, PrintedPiece
from parts.tools.archiving import archive_as_asked
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import for_saving, one_transaction


def _with_all(queryset):
    return queryset.select_related("family", "movement", "pairing")


@require_GET
def designs(request):
    """All designs, those of one pairing's family and movement with ?pairing=; those put away with ?away=1."""
    away = request.GET.get("away") == "1"
    shown = _with_all(HolderDesign.objects.filter(archived=away))
    pairing = _pairing(request.GET.get("pairing", ""))
    if pairing and pairing.case and pairing.movement:
        shown = shown.filter(family=pairing.case.family_id, movement=pairing.movement)
    choosable = Pairing.objects.saved().in_drawers().filter(case__family__isnull=False, movement__isnull=False)
    context = {"designs": shown, "away": away, "pairing": pairing, "pairings": choosable, "kinds": HolderDesign.Kind}
    return render(request, "parts/designs/list.html", context)


def _pairing(text):
    """The pairing of a primary key as an address has it; None where there is none such."""
    return Pairing.objects.with_parts().filter(pk=key_of(text)).first()


def new(request):
    """A new design for a pairing (?pairing=3&kind=ring), from the proposals or the last revision that worked."""
    pairing, kind = _pairing(request.GET.get("pairing", "")), request.GET.get("kind", "ring")
    if pairing is None or kind not in KINDS:
        messages.error(request, lazy("Choose the fit check this part is for."))
        return redirect("parts:holders")
    if pairing.case is None or pairing.movement is None:
        messages.error(request, lazy("Choose a case and a movement first: the holder ring joins the two."))
        return redirect("parts:pairing", pk=pairing.pk)
    if pairing.case.family is None:
        messages.error(request, lazy("Give this case a case family first: designs are saved by family and movement."))
        return redirect("parts:edit", "cases", pairing.case_id)
    return _design_page(request, bench_for(pairing, kind))


def design(request, pk):
    """A kept design: looked at, changed into the next revision."""
    design = get_object_or_404(_with_all(HolderDesign.objects.all()), pk=pk)
    return _design_page(request, bench_of(design))


def _design_page(request, bench, result_form=None):
    saving = request.POST.get("do") == "keep"
    data = request.POST if request.method == "POST" and result_form is None else bench.start
    form = DesignForm(data, request.FILES, kind=bench.kind, proposals=bench.propose(chosen_making(data)))
    if form.is_valid() and saving:
        revision = keep_design(
            family=bench.family,
            movement=bench.movement,
            kind=bench.kind,
            pairing=bench.pairing,
            parameters=form.parameters,
            notes=form.cleaned_data["notes"],
        )
        messages.success(
            request,
            lazy("Saved as revision {revision.revision}. Next: download a file and print it.").format(
                revision=revision
            ),
        )
        return redirect("parts:holder", pk=revision.pk)
    context = {"bench": bench, "design": bench.design, "form": form} | answer_context(bench, form)
    context["groups"] = form_groups(form)
    if request.htmx:
        return render(request, "parts/designs/_answer.html", context)
    if bench.design:
        context |= files_context(bench.design)
        context |= {"revisions": revisions_of(bench.design), "photos": bench.design.photos.all()}
        context["result_form"] = result_form or ResultForm(instance=bench.design)
    return render(request, "parts/designs/design.html", context, status=422 if saving or result_form else 200)


@sent_only("parts:holder", "pk")
@one_transaction
def result(request, pk):
    """Record how a revision turned out."""
    design = get_object_or_404(for_saving(request, _with_all(HolderDesign.objects.all())), pk=pk)
    form = ResultForm(request.POST, instance=design)
    if not form.is_valid():
        return _design_page(request, bench_of(design), result_form=form)
    form.save()
    messages.success(
        request,
        lazy("Revision {revision}: {result}.").format(revision=design.revision, result=design.get_result_display()),
    )
    return redirect("parts:holder", pk=pk)


@sent_only("parts:holder", "pk")
def archive(request, pk):
    """Put a design away, or bring it back."""
    design = get_object_or_404(HolderDesign, pk=pk)
    archive_as_asked(request, design)
    messages.success(
        request,
        (lazy("Revision {revision} is archived.") if design.archived else lazy("Revision {revision} is back.")).format(
            revision=design.revision
        ),
    )
    return redirect("parts:holder", pk=pk)


@require_GET
def mesh(request, kind):
    """The mesh of dimensions as they stand on the page (?p=JSON), for the turntable."""
    try:
        parameters = from_plain(kind, json.loads(request.GET.get("p", "")))
    except (SheetError, KeyError, TypeError, ValueError, AttributeError) as error:
        raise Http404("these dimensions do not belong to such a part") from error
    return HttpResponse(files.mesh_bytes(parameters), content_type="model/stl")


@require_GET
def design_file(request, pk, ending):
    """A file of a kept design; with ?printer= and ?material= corrected by what was measured of their prints."""
    design = get_object_or_404(_with_all(HolderDesign.objects.all()), pk=pk)
    if ending not in files.TYPES:
        raise Http404(f"there is no {ending} file")
    if ending == "step" and not step.installed():
        messages.error(request, step.MISSING)
        return redirect("parts:holder", pk=pk)
    parameters, suffix = parameters_of(design), {}
    if printer := request.GET.get("printer"):
        suffix = {"printer": printer, "material": request.GET.get("material", "")}
        parameters = _corrected(parameters, **suffix)
    try:
        body = files.file_body(parameters, bench_of(design).around, ending, str(design))
    except step.NotTheBody as fault:
        messages.error(
            request,
            lazy("No STEP file of this design: {fault}. Use STL, 3MF or DXF, or change a touching cut.").format(
                fault=fault
            ),
        )
        return redirect("parts:holder", pk=pk)
    name = files.file_name(design, ending, **suffix)
    headers = {"Content-Disposition": f'attachment; filename="{name}"'}
    return HttpResponse(body, content_type=files.TYPES[ending], headers=headers)


def _corrected(parameters, printer, material):
    pieces = PrintedPiece.objects.in_drawers().filter(printer=printer, material=material)
    correction = correct(printer, material, list(pieces))
    if not correction.usable:
        raise Http404("there is no correction for this printer and material")
    return correction.corrected(parameters)
