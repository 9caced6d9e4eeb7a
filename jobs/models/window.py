"""The show window: what the shop shows of its past conversions on a site of its own."""

import secrets

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.urls import reverse
from django.utils.translation import gettext_lazy as lazy

_LETTERS = "BCDFGHJKLMNPQRSTVWXZ23456789"
"""Without those that are taken for each other, and without vowels: no code is a word."""


def new_code():
    """A code for an entry: it stays for good, so that people can name it."""
    return "".join(secrets.choice(_LETTERS) for _ in range(5))


class Window(models.Model):
    """The one show window of this workshop: what stands on the site beside its entries.

    `words` are its texts in other languages: {"de": {"tagline": "..."}}, `typed_for` marks of the own texts that each
    was typed for. `cleared` are words that also belong to somebody's personal data, and that the owner looked at.
    `written` is when the site was written last.
    """

    name = models.CharField(
        lazy("name on the site"), max_length=120, blank=True, help_text=lazy("Left blank, the one on your letterhead.")
    )
    address = models.URLField(blank=True)
    languages = models.JSONField(lazy("also in"), default=list, blank=True)
    tagline = models.CharField(
        lazy("in one sentence"), max_length=160, blank=True, help_text=lazy("What your shop does.")
    )
    intro = models.TextField(lazy("in some more words"), max_length=2000, blank=True)
    steps = models.TextField(lazy("how it goes"), max_length=2000, blank=True, help_text=lazy("One step a line."))
    contact = models.TextField(
        lazy("how to reach you"), max_length=500, blank=True, help_text=lazy("Stands at the foot of every page.")
    )
    email = models.EmailField(lazy("e-mail on the site"), blank=True)
    words = models.JSONField(default=dict, blank=True, editable=False)
    typed_for = models.JSONField(default=dict, blank=True, editable=False)
    cleared = models.JSONField(default=list, blank=True, editable=False)

    written = models.DateTimeField(null=True, editable=False)

    def __str__(self):
        return self.name or "show window"

    @classmethod
    def current(cls, windows=None):
        """The show window as it is set now; an empty one where nobody has set anything yet."""
        return (cls.objects.all() if windows is None else windows).first() or cls()


class WindowEntry(models.Model):
    """A past conversion as it is shown: its words are written for the window, nothing else of the job is shown.

    `code` is what people and addresses call it, for good. `words`, `typed_for` and `cleared` are as
    in Window. `first_shown` is the day of the news.
    """

    code = models.CharField(max_length=5, unique=True, default=new_code, editable=False)
    job = models.OneToOneField("jobs.Job", on_delete=models.CASCADE, related_name="window_entry", editable=False)
    title = models.CharField(max_length=120)
    family = models.ForeignKey(
        "parts.CaseFamily",
        on_delete=models.PROTECT,
        null=True,
        blank=True,
        related_name="+",
        verbose_name=lazy("case family"),
    )
    movement = models.ForeignKey("parts.Movement", on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    story = models.TextField(lazy("about it"), max_length=3000, blank=True)
    takes = models.TextField(lazy("what it takes"), max_length=2000, blank=True, help_text=lazy("One thing a line."))
    price_from = models.DecimalField(
        lazy("price from"), max_digits=9, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(0)]
    )
    days = models.PositiveSmallIntegerField(
        lazy("how long"), null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(730)]
    )
    with_look = models.BooleanField(lazy("show the dial as it is now, drawn"), default=False)
    with_section = models.BooleanField(lazy("show the section through the watch"), default=False)
    words = models.JSONField(default=dict, blank=True, editable=False)
    typed_for = models.JSONField(default=dict, blank=True, editable=False)
    cleared = models.JSONField(default=list, blank=True, editable=False)
    shown = models.BooleanField(default=False, editable=False)
    first_shown = models.DateTimeField(null=True, editable=False)
    updated = models.DateTimeField(auto_now=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", editable=False)

    class Meta:
        ordering = ["-first_shown", "-pk"]

    def __str__(self):
        return self.title

    def get_absolute_url(self):
        return reverse("jobs:window-entry", args=[self.job.number])


class WindowPhoto(models.Model):
    """A photo of the job that its entry shows; `caption` is written for the window."""

    class Role(models.TextChoices):
        BEFORE = "before", lazy("before the work")
        AFTER = "after", lazy("after the work")
        DETAIL = "detail", lazy("a detail")

    entry = models.ForeignKey(WindowEntry, on_delete=models.CASCADE, related_name="photos")
    photo = models.ForeignKey("jobs.Photo", on_delete=models.CASCADE, related_name="+")
    role = models.CharField(max_length=6, choices=Role.choices)
    caption = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["pk"]
        constraints = [models.UniqueConstraint(fields=["entry", "photo"], name="one_place_a_photo_in_the_window")]

    def __str__(self):
        return self.caption or self.get_role_display()


class WindowHolder(models.Model):
    """A revision of a holder or spacer that others can order; words and codes are as an entry's."""

    code = models.CharField(max_length=5, unique=True, default=new_code, editable=False)
    design = models.OneToOneField(
        "parts.HolderDesign", on_delete=models.PROTECT, related_name="window_holder", editable=False
    )
    title = models.CharField(max_length=120)
    story = models.TextField(lazy("about it"), max_length=3000, blank=True)
    materials = models.TextField(
        lazy("materials and colours"), max_length=1000, blank=True, help_text=lazy("One a line.")
    )
    price_from = models.DecimalField(
        lazy("price from"), max_digits=9, decimal_places=2, null=True, blank=True, validators=[MinValueValidator(0)]
    )
    words = models.JSONField(default=dict, blank=True, editable=False)
    typed_for = models.JSONField(default=dict, blank=True, editable=False)
    cleared = models.JSONField(default=list, blank=True, editable=False)
    shown = models.BooleanField(default=True, editable=False)
    first_shown = models.DateTimeField(auto_now_add=True)
    updated = models.DateTimeField(auto_now=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+", editable=False)

    class Meta:
        ordering = ["-first_shown", "-pk"]

    def __str__(self):
        return self.title

    def get_absolute_url(self):
        return reverse("jobs:window-holder", args=[self.design_id])
