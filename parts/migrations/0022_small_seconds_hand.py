import django.db.models.deletion
from django.db import migrations, models


def keep_answers(apps, _schema):
    """Choose by itself the small hand that came along with another single hand's set, as the answers have it."""
    singles = ("hour_hand_from", "minute_hand_from", "seconds_hand_from")
    pairings = apps.get_model("parts", "Pairing").objects
    some = models.Q()
    for field in singles:
        some |= models.Q(**{f"{field}__subsidiary__isnull": False})
    for pairing in pairings.filter(some).select_related("hands", *singles):
        fields = [field if getattr(pairing, field) else "hands" for field in singles]
        sets = [getattr(pairing, field) for field in fields]
        giving = next(hand_set for hand_set in sets if hand_set and hand_set.subsidiary)
        if giving != pairing.hands:
            pairings.filter(pk=pairing.pk).update(small_seconds_hand_from=giving)


class Migration(migrations.Migration):
    dependencies = [
        ("parts", "0021_no_seconds_hand"),
    ]

    operations = [
        migrations.AddField(
            model_name="pairing",
            name="small_seconds_hand_from",
            field=models.ForeignKey(
                blank=True,
                null=True,
                help_text="Found by the name of its post, in place of the set’s own small hand of that name.",
                on_delete=django.db.models.deletion.PROTECT,
                related_name="+",
                to="parts.handset",
                verbose_name="small seconds hand from",
            ),
        ),
        migrations.AddField(
            model_name="pairing",
            name="tried_small_seconds",
            field=models.CharField(
                blank=True,
                choices=[
                    (None, "not tried"),
                    ("loose", "it is loose"),
                    ("grips", "it grips"),
                    ("tight", "it is tight"),
                ],
                max_length=5,
                verbose_name="small seconds hand on its post",
            ),
        ),
        migrations.RunPython(keep_answers, migrations.RunPython.noop),
    ]
