"""Photos of signed quotes, told by their captions until now, get their kind and the version that they show."""

import re

from django.db import migrations

CAPTION = "Signed: version"


def carry_over(apps, editor):
    alias = editor.connection.alias
    Photo, Quote = (apps.get_model("jobs", name).objects.using(alias) for name in ("Photo", "Quote"))
    for photo in Photo.filter(caption__startswith=CAPTION).order_by("pk"):
        number = re.fullmatch(rf"{CAPTION} (\d+)", photo.caption)
        photo.kind = "signed"
        photo.quote = number and Quote.filter(job=photo.job_id, version=int(number[1])).first()
        photo.save(update_fields=["kind", "quote"])


class Migration(migrations.Migration):
    dependencies = [("jobs", "0012_photo_kind")]

    operations = [migrations.RunPython(carry_over, migrations.RunPython.noop)]
