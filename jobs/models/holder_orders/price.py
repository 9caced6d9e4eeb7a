"""What holder rings and spacers cost by process and material."""

from __future__ import annotations

from django.db import models
from django.utils.translation import gettext_lazy as lazy

from parts.holder.parameters import PROCESSES


class HolderPrice(models.Model):
    """A line of the price list: a process and a material, or every other material of it where none is named."""

    process = models.CharField(lazy("made by"), max_length=8, choices=[(process, process) for process in PROCESSES])
    material = models.CharField(max_length=60, blank=True)
    per_piece = models.DecimalField(max_digits=9, decimal_places=2, null=True, blank=True)
    per_cm3 = models.DecimalField(max_digits=9, decimal_places=2, null=True, blank=True)

    class Meta:
        ordering = ["process", "material"]

    def __str__(self):
        return f"{self.process}, {self.material or 'any material'}"
