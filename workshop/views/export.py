"""Everything as open files, for the owner to take away."""

from django.http import FileResponse
from django.views.decorators.http import require_POST

from workshop.safekeeping.export import export_file, file_name


@require_POST
def export(request):
    """The export as a download."""
    return FileResponse(export_file(), as_attachment=True, filename=file_name(), content_type="application/zip")
