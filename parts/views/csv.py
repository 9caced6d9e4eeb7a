"""Pages for CSV files: export, template, upload, and the check before an import."""

import io
import zipfile

from django import forms
from django.contrib import messages
from django.http import HttpResponse
from django.shortcuts import redirect, render
from django.utils.text import format_lazy
from django.utils.translation import gettext_lazy as lazy
from django.views.decorators.http import require_safe

from parts.csv import files
from parts.csv.columns import columns_of
from parts.library import part_records
from parts.models import CsvFile

FAULTS_SHOWN = 200
NAMES_SHOWN = 12


class UploadForm(forms.Form):
    """Asks for a file."""

    file = forms.FileField(
        label=lazy("CSV file"),
        help_text=format_lazy(
            lazy("UTF-8, at most {size} MB and {rows} rows."), size=files.MAX_BYTES // 1_000_000, rows=files.MAX_ROWS
        ),
        widget=forms.ClearableFileInput(attrs={"accept": ".csv,text/csv"}),
        allow_empty_file=True,
    )


@require_safe
def export_file(request, kind):
    """Every part of a kind that is in the drawers, as a CSV file; as several in a ZIP where the import takes no one."""
    texts = files.exports(kind=kind, records=part_records.find(kind=kind), sees_money=request.sees_money)
    if len(texts) == 1:
        return _csv(f"dialside-{kind.slug}.csv", texts[0])
    packed = io.BytesIO()
    with zipfile.ZipFile(packed, "w", zipfile.ZIP_DEFLATED) as archive:
        for number, text in enumerate(texts, 1):
            archive.writestr(f"dialside-{kind.slug}-{number}.csv", f"\ufeff{text}")
    headers = {"Content-Disposition": f'attachment; filename="dialside-{kind.slug}.zip"'}
    return HttpResponse(packed.getvalue(), content_type="application/zip", headers=headers)


@require_safe
def template(request, kind):
    """The headings alone, to start a file with."""
    text = files.export(kind=kind, records=[], sees_money=request.sees_money)
    return _csv(f"dialside-{kind.slug}-template.csv", text)


def upload(request, kind):
    """Take a file and lead to its check."""
    form = UploadForm(request.POST, request.FILES) if request.method == "POST" else UploadForm()
    if form.is_valid():
        given = form.cleaned_data["file"]
        try:
            data = given.read(files.MAX_BYTES + 1)
            stored = files.keep(kind=kind, name=given.name, data=data, sees_money=request.sees_money)
        except files.CsvError as error:
            form.add_error("file", str(error))
        else:
            return redirect("parts:import-check", kind, stored.pk)
    context = {"kind": kind, "form": form, "columns": columns_of(kind, sees_money=request.sees_money)}
    return render(request, "parts/csv/upload.html", context, status=422 if form.errors else 200)


def check(request, kind, pk):
    """Show what a kept file would import, row by row where it is wrong; a POST imports all of it."""
    file = CsvFile.objects.filter(pk=pk, kind=kind.slug).first()
    if file is None:
        messages.warning(
            request, lazy("This file is no longer here: it is imported already, or too old. Choose it again.")
        )
        return redirect("parts:import", kind)
    if request.method == "POST":
        return _import(request, kind, file)
    try:
        checked = files.check(kind=kind, text=file.text, sees_money=request.sees_money)
    except files.CsvError as error:
        messages.error(request, str(error))
        return redirect("parts:import", kind)
    context = {
        "kind": kind,
        "file": file,
        "checked": checked,
        "faults": checked.faults[:FAULTS_SHOWN],
        "names": [draft.record.name for draft in checked.drafts[:NAMES_SHOWN]],
        "already": files.names_already_there(kind=kind, checked=checked),
    }
    return render(request, "parts/csv/check.html", context)


def _import(request, kind, file):
    try:
        count = files.import_all(kind=kind, file=file, sees_money=request.sees_money)
    except files.CsvError as error:
        messages.error(request, str(error))
        return redirect("parts:import-check", kind, file.pk)
    messages.success(
        request,
        lazy("{count} {what} imported from {file}.").format(
            count=count, what=kind.singular if count == 1 else kind.plural, file=file.name
        ),
    )
    return redirect("parts:list", kind)


def _csv(name, text):
    response = HttpResponse("\ufeff" + text, content_type="text/csv; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="{name}"'
    return response
