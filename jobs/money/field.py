"""An amount of money in a form of a job."""

from django.utils.functional import lazy

from jobs.models import Shop
from parts.tools.number_field import AmountField


class FeeField(AmountField):
    """An agreed fee, in the shop's currency."""

    below = "{} is below 0. Enter the agreed fee, or leave it blank."

    def __init__(self, **options):
        unit = lazy(lambda: f"in {Shop.current().currency}", str)()
        super().__init__(max_digits=8, help_text=unit, **options)
