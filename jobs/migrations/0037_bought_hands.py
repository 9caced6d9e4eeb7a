from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0036_window_holders"),
    ]

    operations = [
        migrations.AlterField(
            model_name="quoteline",
            name="bought",
            field=models.CharField(blank=True, editable=False, max_length=30),
        ),
    ]
