"""The owner's page of sign-ins and changes."""

from django.core.paginator import Paginator
from django.shortcuts import render
from django.views.decorators.http import require_safe

from workshop.accounts.access_log import MOST
from workshop.models import AccessEvent


@require_safe
def access_log(request):
    """Every entry, newest first."""
    page = Paginator(AccessEvent.objects.select_related("by", "whom"), 50).get_page(request.GET.get("page"))
    return render(request, "workshop/access_log.html", {"page": page, "most": f"{MOST:,}"})
