from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("parts", "0020_printed_in"),
    ]

    operations = [
        migrations.AddField(
            model_name="pairing",
            name="no_seconds_hand",
            field=models.BooleanField(default=False, help_text="The watch has two hands, whatever the set has."),
        ),
    ]
