"""The workshop app: the project itself, with its commands."""

from django.apps import AppConfig
from django.contrib.admin import apps as admin_apps


class MaintenanceConfig(admin_apps.AdminConfig):
    """Django's maintenance pages as this workshop serves them."""

    default = False
    default_site = "workshop.maintenance.MaintenancePages"


class WorkshopConfig(AppConfig):
    name = "workshop"
    default = True

    def ready(self) -> None:
        """Let every form speak plainly."""
        from workshop.form_errors import say_it_plainly

        say_it_plainly()
