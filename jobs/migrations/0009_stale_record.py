"""The list of records to be rebuilt gets a name that says so."""

from django.db import migrations


class Migration(migrations.Migration):
    dependencies = [("jobs", "0008_past_by_writing")]

    operations = [migrations.RenameModel("ToRemember", "StaleRecord")]
