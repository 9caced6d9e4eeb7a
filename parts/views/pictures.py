"""Pages for measuring from pictures: prints of the mat, pictures of a part, picking, and using what was picked."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

from django.contrib import messages
from django.core.exceptions import ValidationError
from django.http import Http404, HttpResponse
from django.http.response import HttpResponseBase
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.utils.translation import gettext_lazy as lazy
from django.utils.translation import ngettext_lazy as lazy_plural
from django.views.decorators.http import require_GET

from parts.library.kinds import KIND_OF
from parts.models import MatPrint, PartPicture, Scanner
from parts.picture.errors import PictureError
from parts.pictured.adding import add_picture
from parts.pictured.forms import SUBJECTS_OF, BarsForm, PictureForm, PrintForm, ScannerForm
from parts.pictured.mats import mat_pdf
from parts.pictured.page import picture_context
from parts.pictured.picking import accept_proposals, drop_pick, put_pick
from parts.pictured.reading import read_picture
from parts.pictured.scanners import add_scanner
from parts.pictured.using import use as use_numbers
from parts.tools.archiving import archive_as_asked
from parts.tools.pictures import PhotoError, picture_response
from parts.tools.sent_only import sent_only
from parts.tools.stale_guard import one_transaction

if TYPE_CHECKING:
    from parts.tools.htmx_request import HtmxRequest


def mats(request: HtmxRequest) -> HttpResponse:
    """The prints of the measuring mat, and a new one."""
    form = PrintForm(request.POST or None)
    if form.is_valid():
        made = form.save()
        messages.success(
            request,
            lazy("{mat} is ready. Print it at 100 %, then type what the bars read.").format(mat=str(made).capitalize()),
        )
        return redirect("parts:mats")
    return _mats_page(request, form)


@sent_only("parts:mats")
def scanner(request: HtmxRequest) -> HttpResponse:
    """Store a scanner by its scan of a mat."""
    form = ScannerForm(request.POST, request.FILES)
    if form.is_valid():
        try:
            made = add_scanner(name=form.cleaned_data["name"], file=form.cleaned_data["scan"])
        except (PhotoError, PictureError) as error:
            form.add_error("scan", str(error))
        else:
            across, down = (f"{(scale - 1) * 100:+.2f} %" for scale in (made.across, made.down))
            messages.success(
                request,
                lazy("{scanner} is ready: off by {across} across and {down} down. Every scan allows for it.").format(
                    scanner=made, across=across, down=down
                ),
            )
            return redirect("parts:mats")
    return _mats_page(request, PrintForm(), scanner_form=form)


@sent_only("parts:mats")
def archive_scanner(request: HtmxRequest, pk: int) -> HttpResponse:
    """Put a scanner away, or bring it back."""
    archive_as_asked(request, get_object_or_404(Scanner, pk=pk))
    return redirect("parts:mats")


def _mats_page(request, form, wrong=None, scanner_form=None):
    """The page of prints and scanners; `wrong` is the form of a print whose bars cannot be."""
    forms = [BarsForm(instance=each, prefix=f"p{each.pk}") for each in MatPrint.objects.in_drawers()[:50]]
    prints = [(each.instance, wrong if wrong and wrong.instance == each.instance else each) for each in forms]
    context = {"form": form, "prints": prints, "archived": MatPrint.objects.filter(archived=True)[:50]}
    context |= {
        "scanner_form": scanner_form or ScannerForm(),
        "scanners": Scanner.objects.order_by("archived", "name")[:50],
    }
    bad = form.is_bound or wrong or scanner_form
    return render(request, "parts/pictures/mats.html", context, status=422 if bad else 200)


@require_GET
def mat_paper(request: HtmxRequest, pk: int) -> HttpResponse:
    """A print's sheet, at 1:1."""
    made = get_object_or_404(MatPrint, pk=pk)
    headers = {"Content-Disposition": f'inline; filename="measuring-mat-{made.field}-print-{made.number}.pdf"'}
    return HttpResponse(mat_pdf(made), content_type="application/pdf", headers=headers)


@sent_only("parts:mats")
def bars(request: HtmxRequest, pk: int) -> HttpResponse:
    """Store what the calliper read over a print's two bars."""
    made = get_object_or_404(MatPrint, pk=pk)
    form = BarsForm(request.POST, instance=made, prefix=f"p{made.pk}")
    if form.is_valid():
        form.save()
        messages.success(request, lazy("The bars of print {made.number} are saved.").format(made=made))
        return redirect("parts:mats")
    return _mats_page(request, PrintForm(), form)


@sent_only("parts:mats")
def archive_mat(request: HtmxRequest, pk: int) -> HttpResponse:
    """Put a print away, or bring it back."""
    archive_as_asked(request, get_object_or_404(MatPrint, pk=pk))
    return redirect("parts:mats")


def of_part(request: HtmxRequest, kind, part: int) -> HttpResponse:
    """The pictures of a part, and a new one."""
    if kind.part not in SUBJECTS_OF:
        raise Http404
    record = get_object_or_404(kind.model, pk=part)
    form = PictureForm(request.POST or None, request.FILES or None, part=kind.part)
    if form.is_valid():
        data = form.cleaned_data
        try:
            made = add_picture(
                part=record,
                field=kind.part,
                subject=data["subject"],
                file=data["file"],
                height=data["height"] or 0.0,
                height_pm=data["height_pm"] or 0.0,
                scanner=data.get("scanner"),
            )
        except PhotoError as error:
            form.add_error("file", str(error))
        else:
            return redirect("parts:picture", made.pk)
    pictures = PartPicture.objects.in_drawers().filter(**{kind.part: record})
    context = {"form": form, "kind": kind, "record": record, "pictures": pictures}
    measured = MatPrint.objects.in_drawers().filter(across__isnull=False, down__isnull=False)
    context["ready"] = measured.exists() or "scanner" in form.fields
    return render(request, "parts/pictures/of_part.html", context, status=422 if form.errors else 200)


@require_GET
def picture(request: HtmxRequest, pk: int) -> HttpResponse:
    """A picture: being read, refused, or to pick on."""
    return render(request, "parts/pictures/picture.html", _context(get_object_or_404(PartPicture, pk=pk)))


@sent_only("parts:picture", "pk")
def read_it(request: HtmxRequest, pk: int) -> HttpResponse:
    """Read the picture, if no other is being read; `again` reads one that was refused."""
    made = get_object_or_404(PartPicture, pk=pk)
    done = True
    if not made.plane and (not made.fault or request.POST.get("again")):
        done = read_picture(made)
    if not request.htmx:
        return redirect("parts:picture", pk)
    if done:
        return HttpResponse(headers={"HX-Refresh": "true"})
    return render(request, "parts/pictures/_waiting.html", {"picture": made, "waits": True})


@require_GET
def show(request: HtmxRequest, pk: int, *, flat: bool) -> HttpResponseBase:
    """The picture at true scale, or as it was taken."""
    made = get_object_or_404(PartPicture, pk=pk)
    if flat and not made.flat:
        raise Http404
    return picture_response(made.flat if flat else made.file, f"picture-{pk}.jpg")


@sent_only("parts:picture", "pk")
@one_transaction
def pick(request: HtmxRequest, pk: int) -> HttpResponse:
    """Put a pick in (`key` and `points`, mm), take one back (`undo`), or take what is proposed (`accept`)."""
    made = get_object_or_404(PartPicture.objects.select_for_update(of=("self",)), pk=pk)
    fault = ""
    try:
        if request.POST.get("accept"):
            accept_proposals(made)
        elif key := request.POST.get("undo"):
            drop_pick(made, key)
        else:
            put_pick(made, request.POST.get("key", ""), _points(request.POST.get("points", "")))
    except PictureError as error:
        fault = str(error)
    except StopIteration:
        fault = "That is not asked for here."
    else:
        made.save(update_fields=["picks"])
    context = _context(made) | {"fault": fault}
    if not request.htmx:
        return render(request, "parts/pictures/picture.html", context, status=422 if fault else 200)
    return render(request, "parts/pictures/_picked.html", context)


def _points(text: str) -> list[tuple[float, float]]:
    """Points as the page sends them: [[x, y], ...] in mm; empty for anything else."""
    try:
        points = [(float(x), float(y)) for x, y in json.loads(text)]
    except (ValueError, TypeError):
        return []
    return points if all(abs(place) < 1000 for point in points for place in point) else []


@sent_only("parts:picture", "pk")
def use(request: HtmxRequest, pk: int) -> HttpResponse:
    """Store the ticked numbers in the part."""
    made = get_object_or_404(PartPicture, pk=pk)
    try:
        count = use_numbers(made, request.POST.getlist("path"))
    except ValidationError as error:
        context = _context(made) | {"refused": " ".join(error.messages)}
        return render(request, "parts/pictures/picture.html", context, status=422)
    messages.success(
        request,
        lazy_plural(
            "{count} number saved, taken from the picture.", "{count} numbers saved, taken from the picture.", count
        ).format(count=count),
    )
    return redirect(_part_address(made))


@sent_only("parts:picture", "pk")
def archive(request: HtmxRequest, pk: int) -> HttpResponse:
    """Put a picture away, or bring it back."""
    made = get_object_or_404(PartPicture, pk=pk)
    archive_as_asked(request, made)
    return redirect(_part_address(made))


def _part_address(made):
    return reverse("parts:detail", args=[_kind_of(made).slug, made.part.pk])


def _kind_of(made):
    return KIND_OF[made.of]


def _context(made):
    context = {"picture": made, "record": made.part, "kind": _kind_of(made)}
    return context | (picture_context(made) if made.plane else {})
