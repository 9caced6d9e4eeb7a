"""The parts library as a Django app."""

from django.apps import AppConfig


class PartsConfig(AppConfig):
    name = "parts"
    verbose_name = "Parts library"
