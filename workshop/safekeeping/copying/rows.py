"""Rows taken over from elsewhere as they are, with their numbers and times."""

from django.core.management.color import no_style
from django.db.models import GeneratedField

BATCH = 500


def fields_of(model):
    """The columns that a row brings along; those that the database works out itself are left to it."""
    return [field for field in model._meta.concrete_fields if not isinstance(field, GeneratedField)]


def write_as_they_are(into, batch):
    """Write the rows without the times that a model sets by itself."""
    moved = [field for field in (batch[0]._meta.concrete_fields if batch else ()) if _sets_itself(field)]
    settings_before = [(field, field.auto_now, field.auto_now_add) for field in moved]
    for field in moved:
        field.auto_now = field.auto_now_add = False
    try:
        return into.bulk_create(batch)
    finally:
        for field, auto_now, auto_now_add in settings_before:
            field.auto_now, field.auto_now_add = auto_now, auto_now_add


def _sets_itself(field):
    return getattr(field, "auto_now", False) or getattr(field, "auto_now_add", False)


def count_on(connection, models):
    """Have a database number further rows from where those that it was given end."""
    with connection.cursor() as cursor:
        for statement in connection.ops.sequence_reset_sql(no_style(), models):
            cursor.execute(statement)
