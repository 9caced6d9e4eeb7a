"""The workshop app: the project itself, with its commands."""

from django.apps import AppConfig


class WorkshopConfig(AppConfig):
    name = "workshop"

    def ready(self) -> None:
        """Let every form speak plainly."""
        from workshop.form_errors import say_it_plainly

        say_it_plainly()
