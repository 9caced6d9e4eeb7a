"""All steps of this room up to 0016 at once, for a new workshop; an older one goes through them one by one."""

from decimal import Decimal
from importlib import import_module

import django.core.validators
import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

import parts.models.holder
import parts.models.picture

INSTRUMENTS = import_module("parts.migrations.0011_instruments")


class Migration(migrations.Migration):
    initial = True

    replaces = [
        ("parts", "0001_initial"),
        ("parts", "0002_shop_rules"),
        ("parts", "0003_holders"),
        ("parts", "0004_holder_photos"),
        ("parts", "0005_part_notes"),
        ("parts", "0006_own_copies"),
        ("parts", "0007_archived"),
        ("parts", "0008_words"),
        ("parts", "0009_edition_two"),
        ("parts", "0010_rules_of_edition_two"),
        ("parts", "0011_instruments"),
        ("parts", "0012_drafts"),
        ("parts", "0013_pictures"),
        ("parts", "0014_looks"),
        ("parts", "0015_hand_outlines"),
        ("parts", "0016_scanners"),
    ]

    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="CaseFamily",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False)),
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
            name="Instrument",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=40)),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("calliper", "calliper"),
                            ("micrometer", "micrometer"),
                            ("depth", "depth gauge"),
                            ("pins", "pins"),
                            ("indicator", "indicator"),
                            ("discs", "step discs"),
                            ("strips", "feeler strips"),
                            ("loupe", "loupe"),
                            ("microscope", "microscope"),
                            ("picture", "picture"),
                            ("sheet", "maker's sheet"),
                            ("eye", "by eye"),
                            ("other", "something else"),
                        ],
                        default="other",
                        max_length=10,
                        verbose_name="kind of tool",
                    ),
                ),
                (
                    "limit_mm",
                    models.FloatField(
                        help_text="How far off a reading at the bench may be, ±.",
                        validators=[
                            django.core.validators.MinValueValidator(0.0001),
                            django.core.validators.MaxValueValidator(5.0),
                        ],
                        verbose_name="limit of error",
                    ),
                ),
                (
                    "step_mm",
                    models.FloatField(
                        default=0.0,
                        help_text="The smallest step that it shows; 0 for none.",
                        validators=[
                            django.core.validators.MinValueValidator(0.0),
                            django.core.validators.MaxValueValidator(1.0),
                        ],
                        verbose_name="resolution",
                    ),
                ),
                (
                    "limit_deg",
                    models.FloatField(
                        blank=True,
                        help_text="±; blank if it takes no angles.",
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(0.01),
                            django.core.validators.MaxValueValidator(45.0),
                        ],
                        verbose_name="limit of error of an angle",
                    ),
                ),
                ("position", models.PositiveSmallIntegerField(default=100, verbose_name="place in the list")),
                ("archived", models.BooleanField(default=False, editable=False)),
            ],
            options={
                "ordering": ["position", "pk"],
            },
        ),
        migrations.CreateModel(
            name="MatPrint",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "field",
                    models.PositiveSmallIntegerField(
                        choices=[
                            (35, "35 mm, for hands and small movements"),
                            (50, "50 mm, for most dials and movements"),
                            (75, "75 mm, for whole cases"),
                        ],
                        default=50,
                        verbose_name="field",
                    ),
                ),
                (
                    "paper",
                    models.CharField(
                        choices=[("A4", "A4"), ("Letter", "Letter")], default="A4", max_length=6, verbose_name="paper"
                    ),
                ),
                ("across", models.FloatField(blank=True, null=True, verbose_name="bar across")),
                ("down", models.FloatField(blank=True, null=True, verbose_name="bar down")),
                ("plus_minus", models.FloatField(default=0.03, verbose_name="± of the calliper")),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("archived", models.BooleanField(default=False, editable=False)),
            ],
            options={
                "ordering": ["-pk"],
            },
        ),
        migrations.CreateModel(
            name="Scanner",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=60, verbose_name="name")),
                ("across", models.FloatField(editable=False)),
                ("down", models.FloatField(editable=False)),
                ("plus_minus", models.FloatField(editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("archived", models.BooleanField(default=False, editable=False)),
            ],
            options={
                "ordering": ["-pk"],
            },
        ),
        migrations.CreateModel(
            name="ShopRule",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=40, unique=True)),
                ("value", models.FloatField()),
            ],
        ),
        migrations.CreateModel(
            name="Case",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("made_for", models.CharField(blank=True, editable=False, max_length=20)),
                (
                    "in_stock",
                    models.PositiveIntegerField(
                        blank=True, help_text="How many are in stock; blank if not counted.", null=True
                    ),
                ),
                ("supplier", models.CharField(blank=True, max_length=120)),
                (
                    "supplier_number",
                    models.CharField(
                        blank=True,
                        help_text="As the supplier lists it.",
                        max_length=60,
                        verbose_name="supplier's number",
                    ),
                ),
                (
                    "cost",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        help_text="What you pay for one, in your currency. Only the owner sees it.",
                        max_digits=9,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(Decimal(0))],
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
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("taken", models.JSONField(blank=True, default=dict, editable=False)),
                ("seat_wall", models.FloatField(blank=True, null=True)),
                ("seat_wall_pm", models.FloatField(default=0.0)),
                (
                    "seat_wall_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("dial_seat_diameter", models.FloatField(blank=True, null=True)),
                ("dial_seat_diameter_pm", models.FloatField(default=0.0)),
                (
                    "dial_seat_diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("dial_opening_diameter", models.FloatField(blank=True, null=True)),
                ("dial_opening_diameter_pm", models.FloatField(default=0.0)),
                (
                    "dial_opening_diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("stem_axis_depth", models.FloatField(blank=True, null=True)),
                ("stem_axis_depth_pm", models.FloatField(default=0.0)),
                (
                    "stem_axis_depth_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("back_depth", models.FloatField(blank=True, null=True)),
                ("back_depth_pm", models.FloatField(default=0.0)),
                (
                    "back_depth_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("crystal_gap_centre", models.FloatField(blank=True, null=True)),
                ("crystal_gap_centre_pm", models.FloatField(default=0.0)),
                (
                    "crystal_gap_centre_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("crystal_gap_edge", models.FloatField(blank=True, null=True)),
                ("crystal_gap_edge_pm", models.FloatField(default=0.0)),
                (
                    "crystal_gap_edge_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("crystal_edge_radius", models.FloatField(blank=True, null=True)),
                ("crystal_edge_radius_pm", models.FloatField(default=0.0)),
                (
                    "crystal_edge_radius_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("stem_angle", models.FloatField(blank=True, null=True)),
                ("stem_angle_pm", models.FloatField(default=0.0)),
                (
                    "stem_angle_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("crown_seat_radius", models.FloatField(blank=True, null=True)),
                ("crown_seat_radius_pm", models.FloatField(default=0.0)),
                (
                    "crown_seat_radius_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("tube_bore_diameter", models.FloatField(blank=True, null=True)),
                ("tube_bore_diameter_pm", models.FloatField(default=0.0)),
                (
                    "tube_bore_diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("tube_outer_diameter", models.FloatField(blank=True, null=True)),
                ("tube_outer_diameter_pm", models.FloatField(default=0.0)),
                (
                    "tube_outer_diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                (
                    "copied_from",
                    models.ForeignKey(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="own_copies",
                        to="parts.case",
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
            name="Crown",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("made_for", models.CharField(blank=True, editable=False, max_length=20)),
                (
                    "in_stock",
                    models.PositiveIntegerField(
                        blank=True, help_text="How many are in stock; blank if not counted.", null=True
                    ),
                ),
                ("supplier", models.CharField(blank=True, max_length=120)),
                (
                    "supplier_number",
                    models.CharField(
                        blank=True,
                        help_text="As the supplier lists it.",
                        max_length=60,
                        verbose_name="supplier's number",
                    ),
                ),
                (
                    "cost",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        help_text="What you pay for one, in your currency. Only the owner sees it.",
                        max_digits=9,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(Decimal(0))],
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
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("taken", models.JSONField(blank=True, default=dict, editable=False)),
                ("thread_pitch", models.FloatField(blank=True, null=True)),
                ("thread_pitch_pm", models.FloatField(default=0.0)),
                (
                    "thread_pitch_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("bore_depth", models.FloatField(blank=True, null=True)),
                ("bore_depth_pm", models.FloatField(default=0.0)),
                (
                    "bore_depth_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("tube_bore_diameter", models.FloatField(blank=True, null=True)),
                ("tube_bore_diameter_pm", models.FloatField(default=0.0)),
                (
                    "tube_bore_diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("spring_travel", models.FloatField(blank=True, null=True)),
                ("spring_travel_pm", models.FloatField(default=0.0)),
                (
                    "spring_travel_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                (
                    "copied_from",
                    models.ForeignKey(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="own_copies",
                        to="parts.crown",
                    ),
                ),
                (
                    "out_of",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="parts.case",
                        verbose_name="came out of",
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
                ("archived", models.BooleanField(default=False, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("made_for", models.CharField(blank=True, editable=False, max_length=20)),
                (
                    "in_stock",
                    models.PositiveIntegerField(
                        blank=True, help_text="How many are in stock; blank if not counted.", null=True
                    ),
                ),
                ("supplier", models.CharField(blank=True, max_length=120)),
                (
                    "supplier_number",
                    models.CharField(
                        blank=True,
                        help_text="As the supplier lists it.",
                        max_length=60,
                        verbose_name="supplier's number",
                    ),
                ),
                (
                    "cost",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        help_text="What you pay for one, in your currency. Only the owner sees it.",
                        max_digits=9,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(Decimal(0))],
                    ),
                ),
                (
                    "feet_recorded",
                    models.BooleanField(
                        default=False,
                        help_text="Tick once you have looked, even if there are none.",
                        verbose_name="all feet are listed",
                    ),
                ),
                (
                    "fixing",
                    models.CharField(
                        blank=True,
                        choices=[(None, "feet, if they fit"), ("feet", "its feet"), ("pads", "dial pads")],
                        max_length=4,
                        verbose_name="held by",
                    ),
                ),
                (
                    "has_window",
                    models.BooleanField(
                        blank=True,
                        choices=[(None, "not looked at"), (True, "there is one"), (False, "there is none")],
                        null=True,
                        verbose_name="date window",
                    ),
                ),
                ("day_window", models.BooleanField(default=False, verbose_name="has a day window")),
                ("diameter", models.FloatField(blank=True, null=True)),
                ("diameter_pm", models.FloatField(default=0.0)),
                (
                    "diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("taken", models.JSONField(blank=True, default=dict, editable=False)),
                ("thickness", models.FloatField(blank=True, null=True)),
                ("thickness_pm", models.FloatField(default=0.0)),
                (
                    "thickness_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("centre_thickness", models.FloatField(blank=True, null=True)),
                ("centre_thickness_pm", models.FloatField(default=0.0)),
                (
                    "centre_thickness_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("centre_hole_diameter", models.FloatField(blank=True, null=True)),
                ("centre_hole_diameter_pm", models.FloatField(default=0.0)),
                (
                    "centre_hole_diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("minute_track_radius", models.FloatField(blank=True, null=True)),
                ("minute_track_radius_pm", models.FloatField(default=0.0)),
                (
                    "minute_track_radius_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("hour_marker_inner_radius", models.FloatField(blank=True, null=True)),
                ("hour_marker_inner_radius_pm", models.FloatField(default=0.0)),
                (
                    "hour_marker_inner_radius_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("pad_thickness", models.FloatField(blank=True, null=True)),
                ("pad_thickness_pm", models.FloatField(default=0.0)),
                (
                    "pad_thickness_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("window_angle", models.FloatField(blank=True, null=True)),
                ("window_angle_pm", models.FloatField(default=0.0)),
                (
                    "window_angle_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("window_radius", models.FloatField(blank=True, null=True)),
                ("window_radius_pm", models.FloatField(default=0.0)),
                (
                    "window_radius_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("window_radial", models.FloatField(blank=True, null=True)),
                ("window_radial_pm", models.FloatField(default=0.0)),
                (
                    "window_radial_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("window_tangential", models.FloatField(blank=True, null=True)),
                ("window_tangential_pm", models.FloatField(default=0.0)),
                (
                    "window_tangential_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                (
                    "copied_from",
                    models.ForeignKey(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="own_copies",
                        to="parts.dial",
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
                (
                    "out_of",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="parts.case",
                        verbose_name="came out of",
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
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("taken", models.JSONField(blank=True, default=dict, editable=False)),
                ("radius", models.FloatField(blank=True, null=True)),
                ("radius_pm", models.FloatField(default=0.0)),
                (
                    "radius_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("diameter", models.FloatField(blank=True, null=True)),
                ("diameter_pm", models.FloatField(default=0.0)),
                (
                    "diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
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
                ("name", models.CharField(blank=True, max_length=80, verbose_name="marker")),
                ("inner_radius", models.FloatField(blank=True, null=True)),
                ("inner_radius_pm", models.FloatField(default=0.0)),
                (
                    "inner_radius_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("taken", models.JSONField(blank=True, default=dict, editable=False)),
                ("outer_radius", models.FloatField(blank=True, null=True)),
                ("outer_radius_pm", models.FloatField(default=0.0)),
                (
                    "outer_radius_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("height", models.FloatField(blank=True, null=True)),
                ("height_pm", models.FloatField(default=0.0)),
                (
                    "height_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
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
                "verbose_name_plural": "raised markers",
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="HandSet",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("made_for", models.CharField(blank=True, editable=False, max_length=20)),
                (
                    "in_stock",
                    models.PositiveIntegerField(
                        blank=True, help_text="How many are in stock; blank if not counted.", null=True
                    ),
                ),
                ("supplier", models.CharField(blank=True, max_length=120)),
                (
                    "supplier_number",
                    models.CharField(
                        blank=True,
                        help_text="As the supplier lists it.",
                        max_length=60,
                        verbose_name="supplier's number",
                    ),
                ),
                (
                    "cost",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        help_text="What you pay for one, in your currency. Only the owner sees it.",
                        max_digits=9,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(Decimal(0))],
                    ),
                ),
                (
                    "shape",
                    models.CharField(
                        blank=True,
                        choices=[
                            (None, "not said"),
                            ("baton", "baton"),
                            ("leaf", "leaf"),
                            ("dauphine", "dauphine"),
                            ("sword", "sword"),
                            ("pencil", "pencil"),
                            ("cathedral", "cathedral"),
                        ],
                        help_text="For the dial as it will be. Left open: as in the hands’ own picture, else a baton.",
                        max_length=10,
                        verbose_name="shape",
                    ),
                ),
                (
                    "colour",
                    models.CharField(
                        blank=True,
                        choices=[
                            (None, "not said"),
                            ("steel", "steel"),
                            ("gilt", "gilt"),
                            ("blue", "blue"),
                            ("dark", "black"),
                            ("pale", "white"),
                        ],
                        max_length=10,
                        verbose_name="colour",
                    ),
                ),
                (
                    "lume",
                    models.CharField(
                        blank=True,
                        help_text="As it looks. Old luminous paint without a mark counts as radium.",
                        max_length=40,
                        verbose_name="luminous colour",
                    ),
                ),
                (
                    "copied_from",
                    models.ForeignKey(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="own_copies",
                        to="parts.handset",
                    ),
                ),
            ],
            options={
                "ordering": ["name", "pk"],
                "abstract": False,
            },
        ),
        migrations.CreateModel(
            name="HolderDesign",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("archived", models.BooleanField(default=False, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("kind", models.CharField(choices=[("ring", "holder ring"), ("spacer", "spacer")], max_length=6)),
                ("revision", models.PositiveIntegerField()),
                ("parameters", models.JSONField()),
                (
                    "result",
                    models.CharField(
                        choices=[
                            ("untried", "not tried"),
                            ("fits", "fits"),
                            ("tight", "too tight"),
                            ("loose", "too loose"),
                            ("reprint", "reprint"),
                        ],
                        default="untried",
                        max_length=7,
                    ),
                ),
                (
                    "tried_on",
                    models.CharField(
                        blank=True,
                        help_text="Which watch, which job, which print.",
                        max_length=200,
                        verbose_name="tried on",
                    ),
                ),
                ("notes", models.TextField(blank=True, max_length=5000)),
                (
                    "family",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="holder_designs",
                        to="parts.casefamily",
                    ),
                ),
            ],
            options={
                "ordering": ["family__name", "movement__name", "kind", "-revision"],
            },
        ),
        migrations.CreateModel(
            name="HolderPhoto",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("file", models.ImageField(upload_to=parts.models.holder._photo_name)),
                ("thumbnail", models.ImageField(upload_to=parts.models.holder._photo_name)),
                ("taken", models.DateTimeField(auto_now_add=True)),
                ("archived", models.BooleanField(default=False, editable=False)),
                (
                    "design",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="photos", to="parts.holderdesign"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="Movement",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("made_for", models.CharField(blank=True, editable=False, max_length=20)),
                (
                    "in_stock",
                    models.PositiveIntegerField(
                        blank=True, help_text="How many are in stock; blank if not counted.", null=True
                    ),
                ),
                ("supplier", models.CharField(blank=True, max_length=120)),
                (
                    "supplier_number",
                    models.CharField(
                        blank=True,
                        help_text="As the supplier lists it.",
                        max_length=60,
                        verbose_name="supplier's number",
                    ),
                ),
                (
                    "cost",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        help_text="What you pay for one, in your currency. Only the owner sees it.",
                        max_digits=9,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(Decimal(0))],
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
                        help_text="The size it is sold under, such as 11 1/2'''. For information only.",
                        max_length=40,
                    ),
                ),
                (
                    "foot_holes_recorded",
                    models.BooleanField(
                        default=False,
                        help_text="Tick once you have looked, even if there are none.",
                        verbose_name="all foot holes are listed",
                    ),
                ),
                (
                    "has_date",
                    models.BooleanField(
                        blank=True,
                        choices=[(None, "not looked at"), (True, "there is one"), (False, "there is none")],
                        null=True,
                        verbose_name="date",
                    ),
                ),
                ("has_day", models.BooleanField(default=False, verbose_name="has a day display")),
                ("cell_type", models.CharField(blank=True, help_text="As printed on the cell.", max_length=40)),
                (
                    "rate_low_s_per_day",
                    models.FloatField(
                        blank=True,
                        help_text="Losing is minus; from the maker's sheet.",
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(-3600, "A rate is within 3600 s/day."),
                            django.core.validators.MaxValueValidator(3600, "A rate is within 3600 s/day."),
                        ],
                        verbose_name="slowest rate promised",
                    ),
                ),
                (
                    "crystal_coefficient",
                    models.FloatField(
                        blank=True,
                        help_text="ppm/°C², below zero; about -0.03 for a tuning-fork crystal.",
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(-1.0),
                            django.core.validators.MaxValueValidator(0.0),
                        ],
                        verbose_name="crystal's coefficient",
                    ),
                ),
                (
                    "crystal_turnover",
                    models.FloatField(
                        blank=True,
                        help_text="°C, where the crystal runs fastest; about 25.",
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(-20.0),
                            django.core.validators.MaxValueValidator(80.0),
                        ],
                        verbose_name="crystal's turnover temperature",
                    ),
                ),
                (
                    "rate_high_s_per_day",
                    models.FloatField(
                        blank=True,
                        help_text="Gaining is plus; from the maker's sheet.",
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(-3600, "A rate is within 3600 s/day."),
                            django.core.validators.MaxValueValidator(3600, "A rate is within 3600 s/day."),
                        ],
                        verbose_name="fastest rate promised",
                    ),
                ),
                ("fit_diameter", models.FloatField(blank=True, null=True)),
                ("fit_diameter_pm", models.FloatField(default=0.0)),
                (
                    "fit_diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("taken", models.JSONField(blank=True, default=dict, editable=False)),
                ("overall_diameter", models.FloatField(blank=True, null=True)),
                ("overall_diameter_pm", models.FloatField(default=0.0)),
                (
                    "overall_diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("stem_axis_depth", models.FloatField(blank=True, null=True)),
                ("stem_axis_depth_pm", models.FloatField(default=0.0)),
                (
                    "stem_axis_depth_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("back_height", models.FloatField(blank=True, null=True)),
                ("back_height_pm", models.FloatField(default=0.0)),
                (
                    "back_height_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("stem_thread", models.FloatField(blank=True, null=True)),
                ("stem_thread_pm", models.FloatField(default=0.0)),
                (
                    "stem_thread_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("stem_thread_pitch", models.FloatField(blank=True, null=True)),
                ("stem_thread_pitch_pm", models.FloatField(default=0.0)),
                (
                    "stem_thread_pitch_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("stem_reference_radius", models.FloatField(blank=True, null=True)),
                ("stem_reference_radius_pm", models.FloatField(default=0.0)),
                (
                    "stem_reference_radius_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_hour_diameter", models.FloatField(blank=True, null=True)),
                ("post_hour_diameter_pm", models.FloatField(default=0.0)),
                (
                    "post_hour_diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_hour_height", models.FloatField(blank=True, null=True)),
                ("post_hour_height_pm", models.FloatField(default=0.0)),
                (
                    "post_hour_height_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_hour_made_for", models.FloatField(blank=True, null=True)),
                ("post_hour_made_for_pm", models.FloatField(default=0.0)),
                (
                    "post_hour_made_for_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="s",
                        max_length=1,
                    ),
                ),
                ("post_hour_end_play", models.FloatField(blank=True, null=True)),
                ("post_hour_end_play_pm", models.FloatField(default=0.0)),
                (
                    "post_hour_end_play_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_minute_diameter", models.FloatField(blank=True, null=True)),
                ("post_minute_diameter_pm", models.FloatField(default=0.0)),
                (
                    "post_minute_diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_minute_height", models.FloatField(blank=True, null=True)),
                ("post_minute_height_pm", models.FloatField(default=0.0)),
                (
                    "post_minute_height_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_minute_made_for", models.FloatField(blank=True, null=True)),
                ("post_minute_made_for_pm", models.FloatField(default=0.0)),
                (
                    "post_minute_made_for_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="s",
                        max_length=1,
                    ),
                ),
                ("post_minute_end_play", models.FloatField(blank=True, null=True)),
                ("post_minute_end_play_pm", models.FloatField(default=0.0)),
                (
                    "post_minute_end_play_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_seconds_diameter", models.FloatField(blank=True, null=True)),
                ("post_seconds_diameter_pm", models.FloatField(default=0.0)),
                (
                    "post_seconds_diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_seconds_height", models.FloatField(blank=True, null=True)),
                ("post_seconds_height_pm", models.FloatField(default=0.0)),
                (
                    "post_seconds_height_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("post_seconds_made_for", models.FloatField(blank=True, null=True)),
                ("post_seconds_made_for_pm", models.FloatField(default=0.0)),
                (
                    "post_seconds_made_for_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="s",
                        max_length=1,
                    ),
                ),
                ("post_seconds_end_play", models.FloatField(blank=True, null=True)),
                ("post_seconds_end_play_pm", models.FloatField(default=0.0)),
                (
                    "post_seconds_end_play_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("date_angle", models.FloatField(blank=True, null=True)),
                ("date_angle_pm", models.FloatField(default=0.0)),
                (
                    "date_angle_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("date_numeral_radius", models.FloatField(blank=True, null=True)),
                ("date_numeral_radius_pm", models.FloatField(default=0.0)),
                (
                    "date_numeral_radius_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("date_numeral_radial", models.FloatField(blank=True, null=True)),
                ("date_numeral_radial_pm", models.FloatField(default=0.0)),
                (
                    "date_numeral_radial_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("date_numeral_tangential", models.FloatField(blank=True, null=True)),
                ("date_numeral_tangential_pm", models.FloatField(default=0.0)),
                (
                    "date_numeral_tangential_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("date_disc_inner_radius", models.FloatField(blank=True, null=True)),
                ("date_disc_inner_radius_pm", models.FloatField(default=0.0)),
                (
                    "date_disc_inner_radius_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("date_disc_outer_radius", models.FloatField(blank=True, null=True)),
                ("date_disc_outer_radius_pm", models.FloatField(default=0.0)),
                (
                    "date_disc_outer_radius_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("unbalance_hour", models.FloatField(blank=True, null=True)),
                ("unbalance_hour_pm", models.FloatField(default=0.0)),
                (
                    "unbalance_hour_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="s",
                        max_length=1,
                    ),
                ),
                ("unbalance_minute", models.FloatField(blank=True, null=True)),
                ("unbalance_minute_pm", models.FloatField(default=0.0)),
                (
                    "unbalance_minute_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="s",
                        max_length=1,
                    ),
                ),
                ("unbalance_seconds", models.FloatField(blank=True, null=True)),
                ("unbalance_seconds_pm", models.FloatField(default=0.0)),
                (
                    "unbalance_seconds_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="s",
                        max_length=1,
                    ),
                ),
                ("cell_capacity", models.FloatField(blank=True, null=True)),
                ("cell_capacity_pm", models.FloatField(default=0.0)),
                (
                    "cell_capacity_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="s",
                        max_length=1,
                    ),
                ),
                ("current", models.FloatField(blank=True, null=True)),
                ("current_pm", models.FloatField(default=0.0)),
                (
                    "current_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="s",
                        max_length=1,
                    ),
                ),
                (
                    "copied_from",
                    models.ForeignKey(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="own_copies",
                        to="parts.movement",
                    ),
                ),
            ],
            options={
                "ordering": ["name", "pk"],
                "abstract": False,
            },
        ),
        migrations.AddField(
            model_name="holderdesign",
            name="movement",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, related_name="holder_designs", to="parts.movement"
            ),
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
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("taken", models.JSONField(blank=True, default=dict, editable=False)),
                ("radius", models.FloatField(blank=True, null=True)),
                ("radius_pm", models.FloatField(default=0.0)),
                (
                    "radius_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("diameter", models.FloatField(blank=True, null=True)),
                ("diameter_pm", models.FloatField(default=0.0)),
                (
                    "diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
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
                ("archived", models.BooleanField(default=False, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("made_for", models.CharField(blank=True, editable=False, max_length=20)),
                (
                    "tried_hour",
                    models.CharField(
                        blank=True,
                        choices=[
                            (None, "not tried"),
                            ("loose", "it is loose"),
                            ("grips", "it grips"),
                            ("tight", "it is tight"),
                        ],
                        max_length=5,
                        verbose_name="hour hand on its post",
                    ),
                ),
                (
                    "tried_minute",
                    models.CharField(
                        blank=True,
                        choices=[
                            (None, "not tried"),
                            ("loose", "it is loose"),
                            ("grips", "it grips"),
                            ("tight", "it is tight"),
                        ],
                        max_length=5,
                        verbose_name="minute hand on its post",
                    ),
                ),
                (
                    "tried_seconds",
                    models.CharField(
                        blank=True,
                        choices=[
                            (None, "not tried"),
                            ("loose", "it is loose"),
                            ("grips", "it grips"),
                            ("tight", "it is tight"),
                        ],
                        max_length=5,
                        verbose_name="seconds hand on its post",
                    ),
                ),
                (
                    "placement",
                    models.CharField(
                        choices=[
                            ("auto", "wherever it fits better"),
                            ("front", "in front of the dial"),
                            ("rear", "behind the dial"),
                        ],
                        default="auto",
                        max_length=5,
                        verbose_name="spacer",
                    ),
                ),
                ("what_if", models.JSONField(blank=True, default=dict)),
                ("typed", models.JSONField(blank=True, default=dict, editable=False)),
                ("draft_key", models.UUIDField(editable=False, null=True, unique=True)),
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
                    "copied_from",
                    models.ForeignKey(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="own_copies",
                        to="parts.pairing",
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
                    "hour_hand_from",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="parts.handset",
                        verbose_name="hour hand from",
                    ),
                ),
                (
                    "minute_hand_from",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="parts.handset",
                        verbose_name="minute hand from",
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
                    "seconds_hand_from",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to="parts.handset",
                        verbose_name="seconds hand from",
                    ),
                ),
            ],
            options={
                "ordering": ["name", "pk"],
                "abstract": False,
            },
        ),
        migrations.AddField(
            model_name="holderdesign",
            name="pairing",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.SET_NULL,
                related_name="holder_designs",
                to="parts.pairing",
            ),
        ),
        migrations.CreateModel(
            name="PartNote",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("text", models.TextField(max_length=2000, verbose_name="tip")),
                ("at", models.DateTimeField(auto_now_add=True)),
                ("archived", models.BooleanField(default=False, verbose_name="archived")),
                ("archived_at", models.DateTimeField(blank=True, null=True)),
                (
                    "archived_by",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "family",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="tricks",
                        to="parts.casefamily",
                    ),
                ),
                (
                    "movement",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="tricks",
                        to="parts.movement",
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="PrintedPiece",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("archived", models.BooleanField(default=False, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("printer", models.CharField(max_length=60)),
                ("material", models.CharField(max_length=60)),
                ("nominal_outside", models.FloatField(blank=True, null=True)),
                ("measured_outside", models.FloatField(blank=True, null=True)),
                ("nominal_inside", models.FloatField(blank=True, null=True)),
                ("measured_inside", models.FloatField(blank=True, null=True)),
                ("nominal_height", models.FloatField(blank=True, null=True)),
                ("measured_height", models.FloatField(blank=True, null=True)),
                ("notes", models.CharField(blank=True, max_length=200)),
                (
                    "design",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="prints",
                        to="parts.holderdesign",
                    ),
                ),
            ],
            options={
                "ordering": ["printer", "material", "-created", "-pk"],
            },
        ),
        migrations.CreateModel(
            name="PartPicture",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("subject", models.CharField(max_length=20)),
                ("file", models.ImageField(upload_to=parts.models.picture._file_name)),
                ("flat", models.ImageField(blank=True, upload_to=parts.models.picture._file_name)),
                ("height", models.FloatField(default=0.0)),
                ("height_pm", models.FloatField(default=0.1)),
                ("focal", models.FloatField(blank=True, null=True)),
                ("per_mm", models.FloatField(blank=True, null=True)),
                ("plane", models.JSONField(blank=True, default=dict)),
                ("fault", models.CharField(blank=True, max_length=400)),
                ("picks", models.JSONField(blank=True, default=list)),
                ("outline", models.JSONField(blank=True, default=list)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("archived", models.BooleanField(default=False, editable=False)),
                (
                    "case",
                    models.ForeignKey(
                        null=True, on_delete=django.db.models.deletion.CASCADE, related_name="pictures", to="parts.case"
                    ),
                ),
                (
                    "dial",
                    models.ForeignKey(
                        null=True, on_delete=django.db.models.deletion.CASCADE, related_name="pictures", to="parts.dial"
                    ),
                ),
                (
                    "hands",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="pictures",
                        to="parts.handset",
                    ),
                ),
                (
                    "movement",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="pictures",
                        to="parts.movement",
                    ),
                ),
                (
                    "scanner",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="pictures",
                        to="parts.scanner",
                    ),
                ),
            ],
            options={
                "ordering": ["-pk"],
            },
        ),
        migrations.CreateModel(
            name="Stem",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("made_for", models.CharField(blank=True, editable=False, max_length=20)),
                (
                    "in_stock",
                    models.PositiveIntegerField(
                        blank=True, help_text="How many are in stock; blank if not counted.", null=True
                    ),
                ),
                ("supplier", models.CharField(blank=True, max_length=120)),
                (
                    "supplier_number",
                    models.CharField(
                        blank=True,
                        help_text="As the supplier lists it.",
                        max_length=60,
                        verbose_name="supplier's number",
                    ),
                ),
                (
                    "cost",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        help_text="What you pay for one, in your currency. Only the owner sees it.",
                        max_digits=9,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(Decimal(0))],
                    ),
                ),
                ("thread", models.FloatField(blank=True, null=True)),
                ("thread_pm", models.FloatField(default=0.0)),
                (
                    "thread_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("taken", models.JSONField(blank=True, default=dict, editable=False)),
                ("thread_pitch", models.FloatField(blank=True, null=True)),
                ("thread_pitch_pm", models.FloatField(default=0.0)),
                (
                    "thread_pitch_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("thread_length", models.FloatField(blank=True, null=True)),
                ("thread_length_pm", models.FloatField(default=0.0)),
                (
                    "thread_length_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("diameter", models.FloatField(blank=True, null=True)),
                ("diameter_pm", models.FloatField(default=0.0)),
                (
                    "diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("length", models.FloatField(blank=True, null=True)),
                ("length_pm", models.FloatField(default=0.0)),
                (
                    "length_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("uncut_gap", models.FloatField(blank=True, null=True)),
                ("uncut_gap_pm", models.FloatField(default=0.0)),
                (
                    "uncut_gap_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                (
                    "copied_from",
                    models.ForeignKey(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="own_copies",
                        to="parts.stem",
                    ),
                ),
            ],
            options={
                "ordering": ["name", "pk"],
                "abstract": False,
            },
        ),
        migrations.AddField(
            model_name="pairing",
            name="stem",
            field=models.ForeignKey(
                blank=True,
                null=True,
                on_delete=django.db.models.deletion.PROTECT,
                related_name="pairings",
                to="parts.stem",
            ),
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
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("taken", models.JSONField(blank=True, default=dict, editable=False)),
                ("length", models.FloatField(blank=True, null=True)),
                ("length_pm", models.FloatField(default=0.0)),
                (
                    "length_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("tail", models.FloatField(blank=True, null=True)),
                ("tail_pm", models.FloatField(default=0.0)),
                (
                    "tail_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("thickness", models.FloatField(blank=True, null=True)),
                ("thickness_pm", models.FloatField(default=0.0)),
                (
                    "thickness_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("hub_height", models.FloatField(blank=True, null=True)),
                ("hub_height_pm", models.FloatField(default=0.0)),
                (
                    "hub_height_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("hub_diameter", models.FloatField(blank=True, null=True)),
                ("hub_diameter_pm", models.FloatField(default=0.0)),
                (
                    "hub_diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("boss_diameter", models.FloatField(blank=True, null=True)),
                ("boss_diameter_pm", models.FloatField(default=0.0)),
                (
                    "boss_diameter_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("blade_step", models.FloatField(blank=True, null=True)),
                ("blade_step_pm", models.FloatField(default=0.0)),
                (
                    "blade_step_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("cap_thickness", models.FloatField(blank=True, null=True)),
                ("cap_thickness_pm", models.FloatField(default=0.0)),
                (
                    "cap_thickness_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("made_for", models.FloatField(blank=True, null=True)),
                ("made_for_pm", models.FloatField(default=0.0)),
                (
                    "made_for_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="s",
                        max_length=1,
                    ),
                ),
                ("mass", models.FloatField(blank=True, null=True)),
                ("mass_pm", models.FloatField(default=0.0)),
                (
                    "mass_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
                        default="m",
                        max_length=1,
                    ),
                ),
                ("centre_of_mass", models.FloatField(blank=True, null=True)),
                ("centre_of_mass_pm", models.FloatField(default=0.0)),
                (
                    "centre_of_mass_source",
                    models.CharField(
                        choices=[
                            ("m", "measured"),
                            ("s", "maker's sheet"),
                            ("e", "estimated"),
                            ("l", "at least: it ran so"),
                        ],
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
        migrations.AddConstraint(
            model_name="holderdesign",
            constraint=models.UniqueConstraint(
                fields=("family", "movement", "kind", "revision"), name="one_design_a_revision_of_its_kind"
            ),
        ),
        migrations.AddConstraint(
            model_name="partnote",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("family__isnull", False), ("movement__isnull", True)),
                    models.Q(("family__isnull", True), ("movement__isnull", False)),
                    _connector="OR",
                ),
                name="a_note_is_of_one_part",
            ),
        ),
        migrations.AddConstraint(
            model_name="partpicture",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(
                        ("case__isnull", False),
                        ("dial__isnull", True),
                        ("hands__isnull", True),
                        ("movement__isnull", True),
                    ),
                    models.Q(
                        ("case__isnull", True),
                        ("dial__isnull", False),
                        ("hands__isnull", True),
                        ("movement__isnull", True),
                    ),
                    models.Q(
                        ("case__isnull", True),
                        ("dial__isnull", True),
                        ("hands__isnull", True),
                        ("movement__isnull", False),
                    ),
                    models.Q(
                        ("case__isnull", True),
                        ("dial__isnull", True),
                        ("hands__isnull", False),
                        ("movement__isnull", True),
                    ),
                    _connector="OR",
                ),
                name="a_picture_is_of_one_part",
            ),
        ),
        migrations.RunPython(INSTRUMENTS.usual_ones, migrations.RunPython.noop),
    ]
