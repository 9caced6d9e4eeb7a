"""Bench rules that edition 2 of the fit model no longer has, or no longer takes, go back to its defaults."""

from django.db import migrations

GONE = ("post_open_max", "post_bush_max")
PRESS_MOST, WALL_LEAST = 0.10, 0.10
"""Edition 2 looks at the hub from 0.10 mm on, and turns no ring thinner than 0.10 mm."""


def back_to_defaults(apps, _schema_editor):
    rules = apps.get_model("parts", "ShopRule").objects
    rules.filter(name__in=GONE).delete()
    rules.filter(name="post_press_max", value__gt=PRESS_MOST).delete()
    rules.filter(name="wall_min", value__lt=WALL_LEAST).delete()
    for pairing in apps.get_model("parts", "Pairing").objects.exclude(what_if={}).iterator():
        kept = {path: text for path, text in pairing.what_if.items() if path.removeprefix("rules.") not in GONE}
        if kept != pairing.what_if:
            pairing.what_if = kept
            pairing.save(update_fields=["what_if"])


class Migration(migrations.Migration):
    dependencies = [("parts", "0009_edition_two")]

    operations = [migrations.RunPython(back_to_defaults, migrations.RunPython.noop)]
