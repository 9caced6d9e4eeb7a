"""Addresses of the parts library."""

from django.urls import path
from django.views.generic import TemplateView

app_name = "parts"

urlpatterns = [
    path("", TemplateView.as_view(template_name="parts/index.html"), name="index"),
]
