"""The map of every address."""

from django.contrib import admin
from django.contrib.auth.views import LogoutView
from django.urls import include, path

from workshop import accounts

urlpatterns = [
    path("", include("jobs.urls")),
    path("parts/", include("parts.urls")),
    path("first-start/", accounts.first_start, name="first-start"),
    path("sign-in/", accounts.SignIn.as_view(), name="sign-in"),
    path("sign-out/", LogoutView.as_view(), name="sign-out"),
    path("admin/", admin.site.urls),
]
