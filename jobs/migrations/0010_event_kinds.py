"""Events get a kind and data; until the next migration has read their words all are told in words only."""

import django.core.serializers.json
from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("jobs", "0009_stale_record"),
    ]

    operations = [
        migrations.AddField(
            model_name="event",
            name="data",
            field=models.JSONField(default=dict, encoder=django.core.serializers.json.DjangoJSONEncoder),
        ),
        migrations.AddField(
            model_name="event",
            name="kind",
            field=models.CharField(
                choices=[
                    ("logged", "Watch logged"),
                    ("changed", "Changed"),
                    ("waits", "Waits for"),
                    ("closed", "Job closed"),
                    ("reopened", "Job opened again"),
                    ("archived", "Job archived"),
                    ("brought-back", "Job brought back"),
                    ("taken-over", "Taken over"),
                    ("erased", "Customer's personal data erased"),
                    ("go-ahead", "Go-ahead recorded"),
                    ("go-ahead-undone", "Go-ahead undone"),
                    ("cleared", "Luminous material cleared"),
                    ("clearance-undone", "Clearance of luminous material undone"),
                    ("stage-closed", "closed"),
                    ("stage-skipped", "skipped"),
                    ("stage-reopened", "opened again"),
                    ("ticked", "Ticked"),
                    ("tick-undone", "Tick undone"),
                    ("measured", "Measured"),
                    ("measurement-undone", "Measurement undone"),
                    ("own-copy", "Own copy made"),
                    ("time-added", "Time put in by hand"),
                    ("time-left-out", "Time left out"),
                    ("time-counted", "Time counted again"),
                    ("option-added", "Option added"),
                    ("option-chosen", "Option chosen"),
                    ("option-ruled-out", "Option ruled out"),
                    ("option-reconsidered", "Option reconsidered"),
                    ("quote-drafted", "Quote drafted"),
                    ("quote-sent", "Quote sent"),
                    ("quote-accepted", "Quote accepted"),
                    ("quote-refused", "Quote refused"),
                    ("answer-undone", "Answer to the quote undone"),
                    ("order", "Part"),
                    ("paper", "Paper made"),
                    ("photo-added", "Photo added"),
                    ("photo-archived", "Photo archived"),
                    ("photo-back", "Photo brought back"),
                    ("run-started", "Timing run started"),
                    ("run-changed", "Changed"),
                    ("run-archived", "Timing run archived"),
                    ("run-back", "Timing run brought back"),
                    ("reading-left-out", "Reading left out"),
                    ("reading-counted", "Reading counted again"),
                    ("put-aside", "Put aside"),
                    ("part-used", "Part used"),
                    ("part-put-back", "Part put back"),
                    ("outcome", "Outcome"),
                    ("hindsight", "In hindsight"),
                    ("to-learn", "To learn from"),
                    ("not-to-learn", "No longer to learn from"),
                    ("unread", "Told in words only"),
                ],
                default="unread",
                max_length=20,
            ),
            preserve_default=False,
        ),
        migrations.AlterField(
            model_name="event",
            name="stage",
            field=models.CharField(
                blank=True,
                choices=[
                    ("intake", "intake"),
                    ("teardown", "teardown"),
                    ("holder", "holder"),
                    ("dial", "dial"),
                    ("hands", "hands"),
                    ("stem", "stem"),
                    ("timing", "timing test"),
                    ("handover", "handover"),
                ],
                max_length=9,
            ),
        ),
        migrations.AlterField(
            model_name="event",
            name="what",
            field=models.CharField(blank=True, max_length=200),
        ),
    ]
