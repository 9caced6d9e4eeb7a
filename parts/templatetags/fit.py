"""Template words for the numbers of a fit report, and for addresses that name its parts."""

from urllib.parse import quote, urlencode

from django import template

from parts.fit.answer.listing import in_a_sentence
from parts.fit.units import with_unit

register = template.Library()


@register.filter
def quantity(value, unit):
    """The number with its unit, "not measured" for None: {{ value|quantity:"mm" }}."""
    return with_unit(value, unit)


register.filter("in_a_sentence", in_a_sentence)


@register.filter
def percent(share):
    """A share of 1 in whole percent, its sign after a no-break space."""
    return f"{100 * share:.0f}\u00a0%"


@register.simple_tag
def query(**values):
    """The query of an address, such as "?case=3&dial=5"; what is not there is left out."""
    return f"?{urlencode({name: value for name, value in values.items() if value}, quote_via=quote)}"
