"""The workshop app: the project itself, with its commands."""

from django.apps import AppConfig


class WorkshopConfig(AppConfig):
    name = "workshop"
