"""Template words of the job pages."""

from django import template

from jobs.money import shown

register = template.Library()


@register.filter
def at(mapping, key):
    """The value at a key that is a variable; None where there is none: {{ faults|at:path }}."""
    return mapping.get(key) if mapping else None


@register.filter
def money(amount, currency):
    """An amount with its currency sign: {{ line.price|money:quote.currency }}."""
    return shown(amount, currency)
