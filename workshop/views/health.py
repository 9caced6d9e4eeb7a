"""Whether the workshop runs, for whoever watches over the machine; nothing of what it holds."""

from django.db import DatabaseError, connection
from django.http import JsonResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from workshop.version import VERSION


@never_cache
@require_safe
def health(request):
    """Say ok and the version, or 503 where the database does not answer."""
    try:
        with connection.cursor() as cursor:
            cursor.execute("SELECT 1")
    except DatabaseError:
        return JsonResponse({"state": "the database does not answer", "version": VERSION}, status=503)
    return JsonResponse({"state": "ok", "database": "ok", "version": VERSION})
