"""The shop's own bench rules in place of the defaults."""

from django.db import transaction

from parts.fit.rules import RULES, read_rules
from parts.models import ShopRule


def shop_rules():
    """The rules that the shop has set, name to number, as the pairing sheet takes them."""
    return dict(ShopRule.objects.values_list("name", "value"))


@transaction.atomic
def set_shop_rules(values):
    """Set the shop's rules to these numbers; one that equals its default, or is None, is no rule of the shop's own.

    Raises SheetError where one of them cannot be, or two contradict each other.
    """
    own = {name: value for name, value in values.items() if value is not None and value != RULES[name].default}
    read_rules(own)
    ShopRule.objects.exclude(name__in=own).delete()
    for name, value in own.items():
        ShopRule.objects.update_or_create(name=name, defaults={"value": value})
