"""What was told by the beginnings of keys and texts gets into columns of its own."""

from django.db import migrations

PARTS = ("movement", "hands", "crown", "stem")
OF_QUOTES = ("quote", "answer to version")
"""How the places of a quote's texts begin."""


def carry_over(apps, editor):
    def rows(name):
        return apps.get_model("jobs", name).objects.using(editor.connection.alias)

    for name in PARTS:
        rows("QuoteLine").filter(from_check=f"bought-{name}").update(from_check="", bought=name)
    ticks = rows("Tick")
    keys = ticks.order_by().values_list("key", flat=True).distinct()
    for name in {key.rpartition("-")[0] for key in keys.iterator()}:
        ticks.filter(key__regex=f"^{name}-[0-9a-f]{{8}}$").update(name=name)
    for customer in rows("Customer").filter(name__startswith="erased customer ").only("name"):
        if customer.name == f"erased customer {customer.pk}":
            rows("Customer").filter(pk=customer.pk).update(is_erased=True)
    for pk in list(rows("PastText").values_list("pk", flat=True)):
        record = rows("PastText").only("told").get(pk=pk)
        record.told = [["quote" if where.startswith(OF_QUOTES) else "job", where, text] for where, text in record.told]
        record.save(update_fields=["told"])


class Migration(migrations.Migration):
    dependencies = [("jobs", "0015_keys")]

    operations = [migrations.RunPython(carry_over, migrations.RunPython.noop)]
