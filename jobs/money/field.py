"""Amounts of money in the forms of a job."""

from django.utils.functional import lazy

from jobs.models import Shop
from parts.tools.number_field import AmountField


class ValueField(AmountField):
    """What a customer says the watch is worth, in the shop's currency."""

    below = "{} is below 0. Enter what the customer says the watch is worth, or leave it blank."

    def __init__(self, **options):
        super().__init__(help_text=lazy(_in_currency, str)(), **options)


def _in_currency():
    return f"in {Shop.current().currency}"


class FeeField(AmountField):
    """An agreed fee, in the shop's currency."""

    below = "{} is below 0. Enter the agreed fee, or leave it blank."

    def __init__(self, **options):
        super().__init__(max_digits=8, help_text=lazy(_in_currency, str)(), **options)
