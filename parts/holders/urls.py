"""Addresses of holder rings and spacers, all under the parts app's name."""

from django.urls import path, re_path

from parts.holders import photo_views, print_views, views

urlpatterns = [
    path("", views.designs, name="holders"),
    path("new/", views.new, name="holder-new"),
    path("prints/", print_views.prints, name="holder-prints"),
    path("prints/<int:pk>/put-away/", print_views.put_print_away, name="holder-print-put-away"),
    re_path(r"^(?P<kind>ring|spacer)\.stl$", views.mesh, name="holder-mesh"),
    path("<int:pk>/", views.design, name="holder"),
    path("<int:pk>/result/", views.result, name="holder-result"),
    path("<int:pk>/put-away/", views.put_away, name="holder-put-away"),
    path("<int:pk>/photos/", photo_views.add, name="holder-photo-add"),
    path("<int:pk>/photos/<int:photo>/", photo_views.show, name="holder-photo"),
    path("<int:pk>/photos/<int:photo>/small/", photo_views.show, {"small": True}, name="holder-photo-small"),
    path("<int:pk>/photos/<int:photo>/put-away/", photo_views.put_away, name="holder-photo-put-away"),
    path("<int:pk>/files/<str:ending>", views.design_file, name="holder-file"),
]
