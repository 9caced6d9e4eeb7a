"""Bench rules that the shop has set itself."""

from django.db import models


class ShopRule(models.Model):
    """A bench rule in place of its default; the names are those of the engine's rules."""

    name = models.CharField(max_length=40, unique=True)
    value = models.FloatField()

    def __str__(self):
        return f"{self.name} {self.value:g}"
