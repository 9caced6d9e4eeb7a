"""Uploaded CSV files, kept between their check and their import."""

from django.db import models


class CsvFile(models.Model):
    """One uploaded file as text, with the kind of part that it lists."""

    kind = models.CharField(max_length=20)
    name = models.CharField(max_length=200)
    text = models.TextField()
    created = models.DateTimeField(auto_now_add=True)

    def __str__(self):
        return self.name
