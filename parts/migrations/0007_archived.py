"""Whatever is out of the lists is archived, in one word."""

from django.db import migrations, models

RECORDS = "case casefamily crown dial handset holderdesign movement pairing printedpiece stem"


class Migration(migrations.Migration):
    dependencies = [("parts", "0006_own_copies")]

    operations = [
        migrations.RenameField("HolderPhoto", "put_away", "archived"),
        migrations.AlterField("partnote", "archived", models.BooleanField(default=False)),
        *(
            migrations.AlterField(record, "archived", models.BooleanField(default=False, editable=False))
            for record in RECORDS.split()
        ),
    ]
