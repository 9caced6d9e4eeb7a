"""Words of 300 letters without a gap, wherever people write."""

from django.apps import apps
from django.db import models

from jobs.models import Quote
from jobs.options import choosing
from jobs.quotes import versions

LONG = "Wasserdichtigkeitspruefung" * 12
OF_PROGRAMS = {"draft_key", "key", "currency", "path", "kind", "made_for", "number", "stage", "file", "thumbnail"}
"""Text fields whose words no person writes."""


def fill_with_long_words(owner):
    """Make every name, title, remark and caption of the workshop as long as its field takes, and draft a quote."""
    for model in [*apps.get_app_config("jobs").get_models(), *apps.get_app_config("parts").get_models()]:
        lengthen(model)
    draft_a_quote(owner)


def lengthen(model):
    """Give each row's text fields a word that fills them, told apart by the row's number where they must differ."""
    fields = [field for field in model._meta.concrete_fields if is_written(field)]
    for row in model._base_manager.all() if fields else ():
        lengths = {field.name: min(field.max_length or 300, 300) for field in fields if getattr(row, field.name)}
        words = {name: f"{LONG[: length - 6]}{row.pk:06}" for name, length in lengths.items()}
        model._base_manager.filter(pk=row.pk).update(**words)  # an issued invoice is not saved again


def is_written(field):
    """Whether a field holds words that a person writes."""
    if not isinstance(field, models.CharField | models.TextField) or isinstance(field, models.FileField):
        return False
    is_code = field.choices or field.primary_key or (field.max_length or 300) < 6
    return not is_code and field.editable and field.name not in OF_PROGRAMS


def draft_a_quote(owner):
    """A draft beside the demo's sent quotes."""
    quote = Quote.objects.first()
    versions.propose(job=quote.job, options=[choosing.chosen_option(quote.job)], by=owner)
