"""Addresses of the fit check, all under the parts app's name."""

from django.urls import path

from parts.pairings import views

urlpatterns = [
    path("", views.pairings, name="pairings"),
    path("new/", views.fit_check, name="pairing-new"),
    path("compare/", views.compare_pairings, name="pairing-compare"),
    path("upload/", views.upload, name="pairing-upload"),
    path("<int:pk>/", views.fit_check, name="pairing"),
    path("<int:pk>/put-away/", views.put_away, name="pairing-put-away"),
    path("<int:pk>/sheet.json", views.sheet_json, name="pairing-sheet"),
    path("<int:pk>/report.pdf", views.report_paper, name="pairing-paper"),
]
