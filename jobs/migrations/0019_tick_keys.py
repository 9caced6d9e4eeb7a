"""A tick's key holds the facts that its item states, no longer a digest of its words.

Ticks of items without a fact are carried over. Those of items with one (a length, a height, what is kept) keep their old
key and no longer count: they are to be looked at again in jobs that are open.
"""

from django.db import migrations

PLAIN = (
    "receipt",
    "photographed",
    "bagged",
    "date-cleared",
    "feet-free",
    "old-parts",
    "no-twist",
    "back-closes",
    "pads-clear",
    "washer",
    "date-in-window",
    "dial-clean",
    "date-snap",
    "midnight",
    "turns-crown",
    "turns-motor",
    "positions",
    "voltage",
    "closed",
    "pressure",
    "tight",
    "old-parts-packed",
    "set",
)


def carry_over(apps, editor):
    ticks = apps.get_model("jobs", "Tick").objects.using(editor.connection.alias)
    for name in PLAIN:
        of_stage = {stage: pk for pk, stage in ticks.filter(name=name).order_by("-pk").values_list("pk", "stage")}
        ticks.filter(pk__in=of_stage.values()).update(key=name)


class Migration(migrations.Migration):
    dependencies = [("jobs", "0018_one_stale_guard")]

    operations = [migrations.RunPython(carry_over, migrations.RunPython.noop)]
