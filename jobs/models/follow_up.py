"""What is looked after once a watch has gone home."""

from django.conf import settings
from django.db import models
from django.db.models import Q
from django.utils.translation import gettext_lazy as lazy


class FollowUp(models.Model):
    """A cell, a warranty or a promise of a job, once somebody noted something about it.

    `begins` is the day when the cell was put in or the warranty began, the day itself for a promise. A cell that is
    `done_on` a day was replaced then, and the next one begins.
    """

    class Kind(models.TextChoices):
        CELL = "cell", lazy("New cell")
        WARRANTY = "warranty", lazy("Warranty ends")
        PROMISE = "promise", lazy("Promised")

    job = models.ForeignKey("jobs.Job", on_delete=models.CASCADE, related_name="follow_ups")
    kind = models.CharField(max_length=8, choices=Kind.choices)
    begins = models.DateField(lazy("on"))
    words = models.CharField(lazy("what was promised"), max_length=200, blank=True)
    asked_on = models.DateField(null=True, blank=True)
    done_on = models.DateField(null=True, blank=True)
    is_wanted = models.BooleanField(default=True)
    changed = models.DateTimeField(auto_now=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        ordering = ["begins", "pk"]
        constraints = [
            models.UniqueConstraint(
                fields=["job", "kind", "begins"], condition=~Q(kind="promise"), name="one_follow_up_of_each_kind"
            )
        ]

    def __str__(self):
        return self.words or self.get_kind_display()
