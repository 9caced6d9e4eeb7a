# The first tables.

import django.core.validators
import django.db.models.deletion
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    dependencies = []

    operations = [
        migrations.CreateModel(
            name="CaseFamily",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False, verbose_name="put away")),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
            ],
            options={
                "verbose_name_plural": "case families",
                "ordering": ["name", "pk"],
                "abstract": False,
            },
        ),
        migrations.CreateModel(
            name="Crown",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False, verbose_name="put away")),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                (
                    "in_stock",
                    models.PositiveIntegerField(
                        blank=True, help_text="How many lie in the drawer; empty if not counted.", null=True
                    ),
                ),
                (
                    "style",
                    models.CharField(
                        blank=True,
                        choices=[(None, "not given"), ("push", "pushed in"), ("screw", "screwed down")],
                        max_length=5,
                        verbose_name="closes",
                    ),
                ),
                ("thread", models.FloatField(blank=True, null=True)),
                ("thread_pm", models.FloatField(default=0.0)),
                (
                    "thread_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("bore_depth", models.FloatField(blank=True, null=True)),
                ("bore_depth_pm", models.FloatField(default=0.0)),
                (
                    "bore_depth_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("tube_bore_diameter", models.FloatField(blank=True, null=True)),
                ("tube_bore_diameter_pm", models.FloatField(default=0.0)),
                (
                    "tube_bore_diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("spring_travel", models.FloatField(blank=True, null=True)),
                ("spring_travel_pm", models.FloatField(default=0.0)),
                (
                    "spring_travel_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
            ],
            options={
                "ordering": ["name", "pk"],
                "abstract": False,
            },
        ),
        migrations.CreateModel(
            name="CsvFile",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("kind", models.CharField(max_length=20)),
                ("name", models.CharField(max_length=200)),
                ("text", models.TextField()),
                ("created", models.DateTimeField(auto_now_add=True)),
            ],
        ),
        migrations.CreateModel(
            name="HandSet",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False, verbose_name="put away")),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                (
                    "in_stock",
                    models.PositiveIntegerField(
                        blank=True, help_text="How many lie in the drawer; empty if not counted.", null=True
                    ),
                ),
                (
                    "lume",
                    models.CharField(
                        blank=True,
                        help_text="As it looks; aged luminous paint without a mark is treated as radium.",
                        max_length=40,
                        verbose_name="luminous colour",
                    ),
                ),
            ],
            options={
                "ordering": ["name", "pk"],
                "abstract": False,
            },
        ),
        migrations.CreateModel(
            name="Movement",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False, verbose_name="put away")),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                (
                    "in_stock",
                    models.PositiveIntegerField(
                        blank=True, help_text="How many lie in the drawer; empty if not counted.", null=True
                    ),
                ),
                (
                    "kind",
                    models.CharField(
                        blank=True,
                        choices=[(None, "not given"), ("quartz", "quartz"), ("mechanical", "mechanical")],
                        max_length=10,
                    ),
                ),
                (
                    "declared_size",
                    models.CharField(
                        blank=True,
                        help_text="The size it is sold under, such as 11 1/2'''; nothing is computed from it.",
                        max_length=40,
                    ),
                ),
                (
                    "foot_holes_recorded",
                    models.BooleanField(
                        default=False,
                        help_text="Tick it when you have looked: the holes listed are then all there are.",
                        verbose_name="the foot holes are recorded",
                    ),
                ),
                ("has_date", models.BooleanField(default=False, verbose_name="has a date")),
                ("has_day", models.BooleanField(default=False, verbose_name="has a day display")),
                ("cell_type", models.CharField(blank=True, help_text="As printed on the cell.", max_length=40)),
                (
                    "rate_low_s_per_day",
                    models.FloatField(
                        blank=True,
                        help_text="Losing counts as minus; from the maker's sheet.",
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(-3600, "A rate lies within 3600 s/day."),
                            django.core.validators.MaxValueValidator(3600, "A rate lies within 3600 s/day."),
                        ],
                        verbose_name="slowest rate promised",
                    ),
                ),
                (
                    "rate_high_s_per_day",
                    models.FloatField(
                        blank=True,
                        help_text="Gaining counts as plus; from the maker's sheet.",
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(-3600, "A rate lies within 3600 s/day."),
                            django.core.validators.MaxValueValidator(3600, "A rate lies within 3600 s/day."),
                        ],
                        verbose_name="fastest rate promised",
                    ),
                ),
                ("fit_diameter", models.FloatField(blank=True, null=True)),
                ("fit_diameter_pm", models.FloatField(default=0.0)),
                (
                    "fit_diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("overall_diameter", models.FloatField(blank=True, null=True)),
                ("overall_diameter_pm", models.FloatField(default=0.0)),
                (
                    "overall_diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("stem_axis_depth", models.FloatField(blank=True, null=True)),
                ("stem_axis_depth_pm", models.FloatField(default=0.0)),
                (
                    "stem_axis_depth_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("back_height", models.FloatField(blank=True, null=True)),
                ("back_height_pm", models.FloatField(default=0.0)),
                (
                    "back_height_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("stem_thread", models.FloatField(blank=True, null=True)),
                ("stem_thread_pm", models.FloatField(default=0.0)),
                (
                    "stem_thread_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("stem_reference_radius", models.FloatField(blank=True, null=True)),
                ("stem_reference_radius_pm", models.FloatField(default=0.0)),
                (
                    "stem_reference_radius_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_hour_diameter", models.FloatField(blank=True, null=True)),
                ("post_hour_diameter_pm", models.FloatField(default=0.0)),
                (
                    "post_hour_diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_hour_height", models.FloatField(blank=True, null=True)),
                ("post_hour_height_pm", models.FloatField(default=0.0)),
                (
                    "post_hour_height_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_minute_diameter", models.FloatField(blank=True, null=True)),
                ("post_minute_diameter_pm", models.FloatField(default=0.0)),
                (
                    "post_minute_diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_minute_height", models.FloatField(blank=True, null=True)),
                ("post_minute_height_pm", models.FloatField(default=0.0)),
                (
                    "post_minute_height_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_seconds_diameter", models.FloatField(blank=True, null=True)),
                ("post_seconds_diameter_pm", models.FloatField(default=0.0)),
                (
                    "post_seconds_diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_seconds_height", models.FloatField(blank=True, null=True)),
                ("post_seconds_height_pm", models.FloatField(default=0.0)),
                (
                    "post_seconds_height_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("date_angle", models.FloatField(blank=True, null=True)),
                ("date_angle_pm", models.FloatField(default=0.0)),
                (
                    "date_angle_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("date_numeral_radius", models.FloatField(blank=True, null=True)),
                ("date_numeral_radius_pm", models.FloatField(default=0.0)),
                (
                    "date_numeral_radius_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("date_numeral_radial", models.FloatField(blank=True, null=True)),
                ("date_numeral_radial_pm", models.FloatField(default=0.0)),
                (
                    "date_numeral_radial_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("date_numeral_tangential", models.FloatField(blank=True, null=True)),
                ("date_numeral_tangential_pm", models.FloatField(default=0.0)),
                (
                    "date_numeral_tangential_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("date_disc_inner_radius", models.FloatField(blank=True, null=True)),
                ("date_disc_inner_radius_pm", models.FloatField(default=0.0)),
                (
                    "date_disc_inner_radius_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("date_disc_outer_radius", models.FloatField(blank=True, null=True)),
                ("date_disc_outer_radius_pm", models.FloatField(default=0.0)),
                (
                    "date_disc_outer_radius_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("unbalance_hour", models.FloatField(blank=True, null=True)),
                ("unbalance_hour_pm", models.FloatField(default=0.0)),
                (
                    "unbalance_hour_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="s",
                        max_length=1,
                    ),
                ),
                ("unbalance_minute", models.FloatField(blank=True, null=True)),
                ("unbalance_minute_pm", models.FloatField(default=0.0)),
                (
                    "unbalance_minute_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="s",
                        max_length=1,
                    ),
                ),
                ("unbalance_seconds", models.FloatField(blank=True, null=True)),
                ("unbalance_seconds_pm", models.FloatField(default=0.0)),
                (
                    "unbalance_seconds_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="s",
                        max_length=1,
                    ),
                ),
                ("cell_capacity", models.FloatField(blank=True, null=True)),
                ("cell_capacity_pm", models.FloatField(default=0.0)),
                (
                    "cell_capacity_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="s",
                        max_length=1,
                    ),
                ),
                ("current", models.FloatField(blank=True, null=True)),
                ("current_pm", models.FloatField(default=0.0)),
                (
                    "current_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="s",
                        max_length=1,
                    ),
                ),
            ],
            options={
                "ordering": ["name", "pk"],
                "abstract": False,
            },
        ),
        migrations.CreateModel(
            name="Stem",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False, verbose_name="put away")),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                (
                    "in_stock",
                    models.PositiveIntegerField(
                        blank=True, help_text="How many lie in the drawer; empty if not counted.", null=True
                    ),
                ),
                ("thread", models.FloatField(blank=True, null=True)),
                ("thread_pm", models.FloatField(default=0.0)),
                (
                    "thread_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("length", models.FloatField(blank=True, null=True)),
                ("length_pm", models.FloatField(default=0.0)),
                (
                    "length_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("uncut_gap", models.FloatField(blank=True, null=True)),
                ("uncut_gap_pm", models.FloatField(default=0.0)),
                (
                    "uncut_gap_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
            ],
            options={
                "ordering": ["name", "pk"],
                "abstract": False,
            },
        ),
        migrations.CreateModel(
            name="Case",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False, verbose_name="put away")),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                (
                    "in_stock",
                    models.PositiveIntegerField(
                        blank=True, help_text="How many lie in the drawer; empty if not counted.", null=True
                    ),
                ),
                (
                    "loading",
                    models.CharField(
                        choices=[("back", "from the back"), ("front", "from the front")],
                        default="back",
                        help_text="The fit check covers cases loaded from the back, with a dial seat inside.",
                        max_length=5,
                        verbose_name="loaded",
                    ),
                ),
                ("bore_diameter", models.FloatField(blank=True, null=True)),
                ("bore_diameter_pm", models.FloatField(default=0.0)),
                (
                    "bore_diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("dial_seat_diameter", models.FloatField(blank=True, null=True)),
                ("dial_seat_diameter_pm", models.FloatField(default=0.0)),
                (
                    "dial_seat_diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("dial_opening_diameter", models.FloatField(blank=True, null=True)),
                ("dial_opening_diameter_pm", models.FloatField(default=0.0)),
                (
                    "dial_opening_diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("stem_axis_depth", models.FloatField(blank=True, null=True)),
                ("stem_axis_depth_pm", models.FloatField(default=0.0)),
                (
                    "stem_axis_depth_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("back_depth", models.FloatField(blank=True, null=True)),
                ("back_depth_pm", models.FloatField(default=0.0)),
                (
                    "back_depth_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("crystal_gap_centre", models.FloatField(blank=True, null=True)),
                ("crystal_gap_centre_pm", models.FloatField(default=0.0)),
                (
                    "crystal_gap_centre_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("crystal_gap_edge", models.FloatField(blank=True, null=True)),
                ("crystal_gap_edge_pm", models.FloatField(default=0.0)),
                (
                    "crystal_gap_edge_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("crystal_edge_radius", models.FloatField(blank=True, null=True)),
                ("crystal_edge_radius_pm", models.FloatField(default=0.0)),
                (
                    "crystal_edge_radius_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("stem_angle", models.FloatField(blank=True, null=True)),
                ("stem_angle_pm", models.FloatField(default=0.0)),
                (
                    "stem_angle_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("crown_seat_radius", models.FloatField(blank=True, null=True)),
                ("crown_seat_radius_pm", models.FloatField(default=0.0)),
                (
                    "crown_seat_radius_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("tube_bore_diameter", models.FloatField(blank=True, null=True)),
                ("tube_bore_diameter_pm", models.FloatField(default=0.0)),
                (
                    "tube_bore_diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("tube_outer_diameter", models.FloatField(blank=True, null=True)),
                ("tube_outer_diameter_pm", models.FloatField(default=0.0)),
                (
                    "tube_outer_diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                (
                    "family",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="cases",
                        to="parts.casefamily",
                    ),
                ),
            ],
            options={
                "ordering": ["name", "pk"],
                "abstract": False,
            },
        ),
        migrations.CreateModel(
            name="Dial",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False, verbose_name="put away")),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                (
                    "in_stock",
                    models.PositiveIntegerField(
                        blank=True, help_text="How many lie in the drawer; empty if not counted.", null=True
                    ),
                ),
                (
                    "feet_recorded",
                    models.BooleanField(
                        default=False,
                        help_text="Tick it when you have looked: the feet listed are then all there are.",
                        verbose_name="the feet are recorded",
                    ),
                ),
                ("has_window", models.BooleanField(default=False, verbose_name="has a date window")),
                ("day_window", models.BooleanField(default=False, verbose_name="has a day window")),
                ("diameter", models.FloatField(blank=True, null=True)),
                ("diameter_pm", models.FloatField(default=0.0)),
                (
                    "diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("thickness", models.FloatField(blank=True, null=True)),
                ("thickness_pm", models.FloatField(default=0.0)),
                (
                    "thickness_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("centre_hole_diameter", models.FloatField(blank=True, null=True)),
                ("centre_hole_diameter_pm", models.FloatField(default=0.0)),
                (
                    "centre_hole_diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("minute_track_radius", models.FloatField(blank=True, null=True)),
                ("minute_track_radius_pm", models.FloatField(default=0.0)),
                (
                    "minute_track_radius_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("hour_marker_inner_radius", models.FloatField(blank=True, null=True)),
                ("hour_marker_inner_radius_pm", models.FloatField(default=0.0)),
                (
                    "hour_marker_inner_radius_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("window_angle", models.FloatField(blank=True, null=True)),
                ("window_angle_pm", models.FloatField(default=0.0)),
                (
                    "window_angle_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("window_radius", models.FloatField(blank=True, null=True)),
                ("window_radius_pm", models.FloatField(default=0.0)),
                (
                    "window_radius_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("window_radial", models.FloatField(blank=True, null=True)),
                ("window_radial_pm", models.FloatField(default=0.0)),
                (
                    "window_radial_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("window_tangential", models.FloatField(blank=True, null=True)),
                ("window_tangential_pm", models.FloatField(default=0.0)),
                (
                    "window_tangential_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                (
                    "family",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="dials",
                        to="parts.casefamily",
                    ),
                ),
            ],
            options={
                "ordering": ["name", "pk"],
                "abstract": False,
            },
        ),
        migrations.CreateModel(
            name="DialFoot",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("angle", models.FloatField(blank=True, null=True)),
                ("angle_pm", models.FloatField(default=0.0)),
                (
                    "angle_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("radius", models.FloatField(blank=True, null=True)),
                ("radius_pm", models.FloatField(default=0.0)),
                (
                    "radius_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("diameter", models.FloatField(blank=True, null=True)),
                ("diameter_pm", models.FloatField(default=0.0)),
                (
                    "diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                (
                    "dial",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="feet", to="parts.dial"
                    ),
                ),
            ],
            options={
                "verbose_name": "dial foot",
                "verbose_name_plural": "dial feet",
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="DialFurniture",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(blank=True, max_length=80, verbose_name="what it is")),
                ("inner_radius", models.FloatField(blank=True, null=True)),
                ("inner_radius_pm", models.FloatField(default=0.0)),
                (
                    "inner_radius_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("outer_radius", models.FloatField(blank=True, null=True)),
                ("outer_radius_pm", models.FloatField(default=0.0)),
                (
                    "outer_radius_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("height", models.FloatField(blank=True, null=True)),
                ("height_pm", models.FloatField(default=0.0)),
                (
                    "height_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                (
                    "dial",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="furniture", to="parts.dial"
                    ),
                ),
            ],
            options={
                "verbose_name_plural": "dial furniture",
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="FootHole",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("angle", models.FloatField(blank=True, null=True)),
                ("angle_pm", models.FloatField(default=0.0)),
                (
                    "angle_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("radius", models.FloatField(blank=True, null=True)),
                ("radius_pm", models.FloatField(default=0.0)),
                (
                    "radius_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("diameter", models.FloatField(blank=True, null=True)),
                ("diameter_pm", models.FloatField(default=0.0)),
                (
                    "diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                (
                    "movement",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="foot_holes", to="parts.movement"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="Pairing",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False, verbose_name="put away")),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                (
                    "placement",
                    models.CharField(
                        choices=[
                            ("auto", "wherever it fits better"),
                            ("front", "between dial seat and dial"),
                            ("rear", "between dial and movement"),
                        ],
                        default="auto",
                        max_length=5,
                        verbose_name="spacer",
                    ),
                ),
                ("what_if", models.JSONField(blank=True, default=dict)),
                ("report", models.JSONField(blank=True, null=True)),
                ("computed_at", models.DateTimeField(blank=True, null=True)),
                (
                    "case",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="pairings",
                        to="parts.case",
                    ),
                ),
                (
                    "crown",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="pairings",
                        to="parts.crown",
                    ),
                ),
                (
                    "dial",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="pairings",
                        to="parts.dial",
                    ),
                ),
                (
                    "hands",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="pairings",
                        to="parts.handset",
                    ),
                ),
                (
                    "movement",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="pairings",
                        to="parts.movement",
                    ),
                ),
                (
                    "stem",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="pairings",
                        to="parts.stem",
                    ),
                ),
            ],
            options={
                "ordering": ["name", "pk"],
                "abstract": False,
            },
        ),
        migrations.CreateModel(
            name="Hand",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "role",
                    models.CharField(
                        choices=[("hour", "hour hand"), ("minute", "minute hand"), ("seconds", "seconds hand")],
                        max_length=7,
                    ),
                ),
                ("hole_diameter", models.FloatField(blank=True, null=True)),
                ("hole_diameter_pm", models.FloatField(default=0.0)),
                (
                    "hole_diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("length", models.FloatField(blank=True, null=True)),
                ("length_pm", models.FloatField(default=0.0)),
                (
                    "length_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("tail", models.FloatField(blank=True, null=True)),
                ("tail_pm", models.FloatField(default=0.0)),
                (
                    "tail_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("thickness", models.FloatField(blank=True, null=True)),
                ("thickness_pm", models.FloatField(default=0.0)),
                (
                    "thickness_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("hub_height", models.FloatField(blank=True, null=True)),
                ("hub_height_pm", models.FloatField(default=0.0)),
                (
                    "hub_height_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("hub_diameter", models.FloatField(blank=True, null=True)),
                ("hub_diameter_pm", models.FloatField(default=0.0)),
                (
                    "hub_diameter_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("mass", models.FloatField(blank=True, null=True)),
                ("mass_pm", models.FloatField(default=0.0)),
                (
                    "mass_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("centre_of_mass", models.FloatField(blank=True, null=True)),
                ("centre_of_mass_pm", models.FloatField(default=0.0)),
                (
                    "centre_of_mass_source",
                    models.CharField(
                        choices=[("m", "measured"), ("s", "maker's sheet"), ("e", "estimated")],
                        default="m",
                        max_length=1,
                    ),
                ),
                (
                    "hand_set",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="hands", to="parts.handset"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
                "constraints": [models.UniqueConstraint(fields=("hand_set", "role"), name="one_hand_of_each_role")],
            },
        ),
    ]
