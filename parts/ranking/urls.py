"""Addresses of What would go in?, all under the parts app's name."""

from django.urls import path

from parts.ranking import views

urlpatterns = [
    path("", views.goes_in, name="goes-in-movements"),
    path("cases/", views.table, name="goes-in-table"),
    path("<kind:kind>/", views.goes_in, name="goes-in"),
    path("<kind:kind>/<int:pk>/pictures/", views.pictures, name="goes-in-pictures"),
]
