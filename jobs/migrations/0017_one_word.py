"""One word each: archived for what is out of the lists, undone for what was taken back, ruled out for an option."""

from django.db import migrations, models
from django.db.models import Q


class Migration(migrations.Migration):
    dependencies = [("jobs", "0016_keys_filled")]

    operations = [
        migrations.AlterField("Customer", "archived", models.BooleanField(default=False, editable=False)),
        migrations.RenameField("Photo", "put_away", "archived"),
        migrations.RenameField("TimingRun", "put_away", "archived"),
        migrations.RenameField("Option", "dropped", "ruled_out"),
        migrations.RenameField("GoAhead", "taken_back", "undone"),
        migrations.RenameField("LuminousClearance", "taken_back", "undone"),
        migrations.RenameField("Reading", "taken_back", "undone"),
        migrations.RemoveConstraint("WorkTime", "one_timer_a_person"),
        migrations.RenameField("WorkTime", "taken_back", "undone"),
        migrations.AddConstraint(
            "WorkTime",
            models.UniqueConstraint(
                fields=["by"], condition=Q(ended__isnull=True, undone=False), name="one_timer_a_person"
            ),
        ),
    ]
