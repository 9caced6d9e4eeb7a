"""Everything as open files, for the owner to take away."""

from django.http import FileResponse

from parts.tools.sent_only import sent_only
from workshop.safekeeping.export import export_file, file_name


@sent_only("jobs:shop")
def export(request):
    """The export as a download."""
    return FileResponse(export_file(), as_attachment=True, filename=file_name(), content_type="application/zip")
