"""Copies of rows."""


def unsaved_copy(row, **changes):
    """A row like this one, not saved yet, with some fields otherwise; the row itself stays as it is."""
    values = {field.attname: getattr(row, field.attname) for field in row._meta.concrete_fields}
    made = type(row)(**values | {row._meta.pk.attname: None})
    for name, value in changes.items():
        setattr(made, name, value)
    return made
