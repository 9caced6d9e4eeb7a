from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0014_own_copies"),
    ]

    operations = [
        migrations.AddField(
            model_name="customer",
            name="is_erased",
            field=models.BooleanField(default=False, editable=False),
        ),
        migrations.AddField(
            model_name="quoteline",
            name="bought",
            field=models.CharField(blank=True, editable=False, max_length=8),
        ),
        migrations.AddField(
            model_name="tick",
            name="name",
            field=models.CharField(default="", max_length=50),
            preserve_default=False,
        ),
    ]
