from collections import defaultdict

from django.db import migrations, models

KINDS = {
    "cases": "Case",
    "dials": "Dial",
    "movements": "Movement",
    "hand-sets": "HandSet",
    "stems": "Stem",
    "crowns": "Crown",
}


def note_parts(apps, schema_editor):
    """An order's text ended with its part's name; where one part alone has that name, it is this one."""
    named = defaultdict(list)
    for kind, model in KINDS.items():
        for key, name in apps.get_model("parts", model).objects.values_list("pk", "name"):
            named[name].append((kind, key))
    orders = apps.get_model("jobs", "Order").objects
    for pk, text in orders.values_list("pk", "text"):
        words = text.split(": ")
        ends = [": ".join(words[i:]) for i in range(1, len(words))]
        found = next((named[end] for end in ends if end in named), [])
        if len(found) == 1:
            kind, part = found[0]
            orders.filter(pk=pk).update(kind=kind, part=part)


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0037_bought_hands"),
        ("parts", "0022_small_seconds_hand"),
    ]

    operations = [
        migrations.AddField(
            model_name="order",
            name="kind",
            field=models.CharField(blank=True, editable=False, max_length=20),
        ),
        migrations.AddField(
            model_name="order",
            name="part",
            field=models.PositiveBigIntegerField(editable=False, null=True),
        ),
        migrations.RunPython(note_parts, migrations.RunPython.noop),
    ]
