"""Addresses of the parts library."""

from django.urls import include, path, register_converter

from parts import csvviews, note_views, views
from parts.kinds import KINDS


class KindConverter:
    """A kind's slug in an address."""

    regex = "|".join(KINDS)

    def to_python(self, value):
        return KINDS[value]

    def to_url(self, value):
        return getattr(value, "slug", value)


register_converter(KindConverter, "kind")

app_name = "parts"

urlpatterns = [
    path("pairings/", include("parts.pairings.urls")),
    path("holders/", include("parts.holders.urls")),
    path("goes-in/", include("parts.ranking.urls")),
    path("", views.index, name="index"),
    path("notes/<int:pk>/", note_views.change, name="note"),
    path("notes/<int:pk>/put-away/", note_views.put_away, name="note-put-away"),
    path("<kind:kind>/<int:pk>/notes/add/", note_views.add, name="note-add"),
    path("<kind:kind>/", views.part_list, name="list"),
    path("<kind:kind>/add/", views.add, name="add"),
    path("<kind:kind>/export/", csvviews.export_file, name="export"),
    path("<kind:kind>/template/", csvviews.template, name="template"),
    path("<kind:kind>/import/", csvviews.upload, name="import"),
    path("<kind:kind>/import/<int:pk>/", csvviews.check, name="import-check"),
    path("<kind:kind>/<int:pk>/", views.detail, name="detail"),
    path("<kind:kind>/<int:pk>/edit/", views.edit, name="edit"),
    path("<kind:kind>/<int:pk>/copy/", views.copy, name="copy"),
    path("<kind:kind>/<int:pk>/put-away/", views.put_away, {"away": True}, name="put-away"),
    path("<kind:kind>/<int:pk>/bring-back/", views.put_away, {"away": False}, name="bring-back"),
]
