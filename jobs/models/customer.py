"""Customers."""

from django.db import models
from django.urls import reverse
from django.utils.translation import gettext_lazy as lazy

from jobs.language.choices import LANGUAGES, PLAIN
from parts.models.base import Record


class Customer(Record):
    """A person whose watches are worked on; archived instead of deleted."""

    class Reach(models.TextChoices):
        """How the customer likes to be reached."""

        EMAIL = "email", lazy("e-mail")
        PHONE = "phone", lazy("phone")
        MESSAGE = "message", lazy("text message")
        POST = "post", lazy("post")

    email = models.EmailField(lazy("e-mail"), blank=True)
    phone = models.CharField(max_length=40, blank=True)
    address = models.TextField(blank=True, max_length=500)
    is_erased = models.BooleanField(default=False, editable=False)
    language = models.CharField(
        lazy("papers in"),
        max_length=5,
        choices=LANGUAGES,
        default=PLAIN,
        help_text=lazy("The language of papers and texts to send."),
    )
    no_letters = models.BooleanField(
        lazy("no letters, please"),
        default=False,
        help_text=lazy("There is then no text to send when a cell falls due."),
    )
    reach = models.CharField(lazy("prefers"), max_length=7, choices=Reach.choices, blank=True)

    def get_absolute_url(self):
        return reverse("jobs:customer", args=[self.pk])

    @property
    def address_line(self):
        """The address on one line."""
        return ", ".join(line.strip(" ,") for line in self.address.splitlines() if line.strip())

    @property
    def erased_name(self):
        """What stands in the name's place once the personal data are erased."""
        return f"erased customer {self.pk}"
