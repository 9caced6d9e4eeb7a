"""All steps of this room up to 0026 at once, for a new workshop; an older one goes through them one by one."""

from decimal import Decimal
from importlib import import_module

import django.core.serializers.json
import django.core.validators
import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models

import jobs.models.intake
import jobs.models.photo
import jobs.models.shop

WORD_INDEX = import_module("jobs.migrations.0006_past_word_index")


class Migration(migrations.Migration):
    initial = True

    replaces = [
        ("jobs", "0001_initial"),
        ("jobs", "0002_quotes"),
        ("jobs", "0003_price_not_set"),
        ("jobs", "0004_timing_rules"),
        ("jobs", "0005_past_swaps"),
        ("jobs", "0006_past_word_index"),
        ("jobs", "0007_past_check_title"),
        ("jobs", "0008_past_by_writing"),
        ("jobs", "0009_stale_record"),
        ("jobs", "0010_event_kinds"),
        ("jobs", "0011_event_facts"),
        ("jobs", "0012_photo_kind"),
        ("jobs", "0013_signed_quotes"),
        ("jobs", "0014_own_copies"),
        ("jobs", "0015_keys"),
        ("jobs", "0016_keys_filled"),
        ("jobs", "0017_one_word"),
        ("jobs", "0018_one_stale_guard"),
        ("jobs", "0019_tick_keys"),
        ("jobs", "0020_words"),
        ("jobs", "0021_measuring_sheet"),
        ("jobs", "0022_ticked_words"),
        ("jobs", "0023_bench_indexes"),
        ("jobs", "0024_customer_papers"),
        ("jobs", "0025_label_size"),
        ("jobs", "0026_money"),
    ]

    dependencies = [
        ("parts", "0001_squashed_0016"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Customer",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(error_messages={"blank": "Give it a name."}, max_length=80)),
                ("notes", models.TextField(blank=True, max_length=5000)),
                ("archived", models.BooleanField(default=False, editable=False)),
                ("created", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                ("email", models.EmailField(blank=True, max_length=254, verbose_name="e-mail")),
                ("phone", models.CharField(blank=True, max_length=40)),
                ("address", models.TextField(blank=True, max_length=500)),
                ("is_erased", models.BooleanField(default=False, editable=False)),
                (
                    "reach",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("email", "e-mail"),
                            ("phone", "phone"),
                            ("message", "text message"),
                            ("post", "post"),
                        ],
                        max_length=7,
                        verbose_name="prefers",
                    ),
                ),
            ],
            options={
                "ordering": ["name", "pk"],
                "abstract": False,
            },
        ),
        migrations.CreateModel(
            name="InvoiceSeries",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("prefix", models.CharField(max_length=24, unique=True)),
                ("last", models.PositiveIntegerField()),
            ],
        ),
        migrations.CreateModel(
            name="Job",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("number", models.CharField(editable=False, max_length=12, unique=True)),
                ("watch", models.CharField(blank=True, max_length=200, verbose_name="the watch as found")),
                ("serial", models.CharField(blank=True, max_length=60, verbose_name="serial number")),
                ("wish", models.TextField(max_length=2000, verbose_name="what the customer wants")),
                (
                    "came_with",
                    models.TextField(
                        blank=True, help_text="Box, strap, papers.", max_length=1000, verbose_name="came with"
                    ),
                ),
                ("keep", models.TextField(blank=True, max_length=1000, verbose_name="to be kept")),
                (
                    "luminous",
                    models.CharField(
                        choices=[
                            ("none", "none"),
                            ("aged", "old, unmarked: treat as radium"),
                            ("marked", "old, marked non-radium"),
                            ("modern", "modern"),
                        ],
                        max_length=6,
                        verbose_name="luminous paint",
                    ),
                ),
                ("promised", models.DateField(blank=True, null=True, verbose_name="promised for")),
                (
                    "diagnosis_fee",
                    models.DecimalField(
                        blank=True, decimal_places=2, max_digits=8, null=True, verbose_name="agreed diagnosis fee"
                    ),
                ),
                (
                    "declared_value",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        max_digits=9,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(0)],
                        verbose_name="declared value",
                    ),
                ),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("open", "open"),
                            ("finished", "finished"),
                            ("declined", "declined by the customer"),
                            ("returned", "returned as it came"),
                        ],
                        default="open",
                        max_length=8,
                    ),
                ),
                ("archived", models.BooleanField(default=False, editable=False)),
                (
                    "waits_for",
                    models.CharField(
                        choices=[
                            ("me", "Your turn"),
                            ("parts", "Waiting for parts"),
                            ("customer", "Waiting for the customer"),
                            ("nothing", "Paused"),
                        ],
                        default="me",
                        max_length=8,
                        verbose_name="status",
                    ),
                ),
                ("stage", models.CharField(default="teardown", editable=False, max_length=9)),
                ("remarks", models.TextField(blank=True, max_length=5000)),
                ("logged", models.DateTimeField(auto_now_add=True)),
                ("updated", models.DateTimeField(auto_now=True)),
                (
                    "case_family",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="jobs",
                        to="parts.casefamily",
                    ),
                ),
                (
                    "customer",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="jobs", to="jobs.customer"
                    ),
                ),
            ],
            options={
                "ordering": ["-pk"],
            },
        ),
        migrations.CreateModel(
            name="JobNumber",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("year", models.PositiveSmallIntegerField(unique=True)),
                ("last", models.PositiveIntegerField(default=0)),
            ],
        ),
        migrations.CreateModel(
            name="PastWord",
            fields=[
                ("word", models.CharField(max_length=60, primary_key=True, serialize=False)),
                ("length", models.PositiveSmallIntegerField(db_index=True)),
            ],
        ),
        migrations.CreateModel(
            name="Shop",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(blank=True, max_length=120)),
                ("address", models.TextField(blank=True, max_length=500)),
                ("tax_number", models.CharField(blank=True, max_length=60, verbose_name="tax number")),
                ("logo", models.ImageField(blank=True, upload_to="shop/")),
                (
                    "paper",
                    models.CharField(choices=[("A4", "A4"), ("letter", "US Letter")], default="A4", max_length=6),
                ),
                (
                    "label",
                    models.CharField(
                        choices=[
                            ("90x40", "single, 90 × 40 mm"),
                            ("62x29", "single, 62 × 29 mm"),
                            ("57x32", "single, 57 × 32 mm"),
                            ("a4-24", "A4 sheet of 24, 70 × 37 mm"),
                            ("a4-21", "A4 sheet of 21, 63.5 × 38.1 mm"),
                            ("letter-30", "US Letter sheet of 30, 66.7 × 25.4 mm"),
                        ],
                        default="90x40",
                        max_length=9,
                        verbose_name="tray label",
                    ),
                ),
                (
                    "currency",
                    models.CharField(
                        default="EUR",
                        help_text="Three letters: EUR, GBP.",
                        max_length=3,
                        validators=[jobs.models.shop._currency],
                    ),
                ),
                (
                    "hourly_rate",
                    models.DecimalField(
                        decimal_places=2,
                        default=Decimal(60),
                        max_digits=8,
                        validators=[django.core.validators.MinValueValidator(Decimal(0))],
                        verbose_name="rate per hour",
                    ),
                ),
                (
                    "mark_up",
                    models.DecimalField(
                        decimal_places=2,
                        default=Decimal(30),
                        max_digits=5,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal(0)),
                            django.core.validators.MaxValueValidator(Decimal(500)),
                        ],
                        verbose_name="mark-up on parts, %",
                    ),
                ),
                (
                    "tax_rate",
                    models.DecimalField(
                        decimal_places=2,
                        default=Decimal(0),
                        max_digits=5,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal(0)),
                            django.core.validators.MaxValueValidator(Decimal(100)),
                        ],
                        verbose_name="tax, %",
                    ),
                ),
                ("tax_inclusive", models.BooleanField(default=True, verbose_name="prices include tax")),
                ("tax_by_line", models.BooleanField(default=False, verbose_name="round tax line by line")),
                (
                    "deposit",
                    models.DecimalField(
                        decimal_places=2,
                        default=Decimal(0),
                        max_digits=5,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal(0)),
                            django.core.validators.MaxValueValidator(Decimal(100)),
                        ],
                        verbose_name="deposit, %",
                    ),
                ),
                ("valid_days", models.PositiveSmallIntegerField(default=30, verbose_name="quotes are valid for, days")),
                (
                    "country",
                    models.CharField(
                        blank=True,
                        help_text="Two letters, such as IE; electronic invoices need it.",
                        max_length=2,
                        validators=[jobs.models.shop.country_known],
                    ),
                ),
                (
                    "invoice_prefix",
                    models.CharField(
                        blank=True,
                        default="{year}-",
                        help_text="{year} becomes the year, and each year has a series of its own.",
                        max_length=20,
                        validators=[jobs.models.shop._prefix],
                        verbose_name="invoice numbers begin with",
                    ),
                ),
                (
                    "invoice_start",
                    models.PositiveIntegerField(
                        default=1,
                        help_text="Of a series that has no number yet; a series that has begun goes on without a gap.",
                        validators=[
                            django.core.validators.MinValueValidator(1),
                            django.core.validators.MaxValueValidator(999999),
                        ],
                        verbose_name="first number",
                    ),
                ),
                (
                    "credit_prefix",
                    models.CharField(
                        blank=True,
                        help_text="Leave it blank to number credit notes with the invoices.",
                        max_length=20,
                        validators=[jobs.models.shop._prefix],
                        verbose_name="credit note numbers begin with",
                    ),
                ),
                (
                    "payment_days",
                    models.PositiveSmallIntegerField(
                        default=14,
                        validators=[django.core.validators.MaxValueValidator(365)],
                        verbose_name="invoices are due after, days",
                    ),
                ),
                (
                    "how_to_pay",
                    models.TextField(
                        blank=True,
                        help_text="Printed on invoices: bank, account, what to quote.",
                        max_length=1000,
                        verbose_name="how to pay",
                    ),
                ),
                (
                    "no_tax_reason",
                    models.CharField(
                        blank=True,
                        help_text="Printed on invoices with lines at 0 %, where the law asks for it.",
                        max_length=200,
                        verbose_name="why no tax is charged",
                    ),
                ),
                (
                    "tap_s",
                    models.FloatField(
                        default=0.2,
                        help_text="Standard uncertainty of one reading of a timing run; common practice, no source.",
                        validators=[
                            django.core.validators.MinValueValidator(0.01),
                            django.core.validators.MaxValueValidator(5.0),
                        ],
                        verbose_name="tap uncertainty, s",
                    ),
                ),
                (
                    "wrist_c",
                    models.FloatField(
                        default=30.0,
                        help_text="The rate is converted to this temperature; common practice, no source.",
                        validators=[
                            django.core.validators.MinValueValidator(-10.0),
                            django.core.validators.MaxValueValidator(45.0),
                        ],
                        verbose_name="temperature at the wrist, °C",
                    ),
                ),
                (
                    "greeting",
                    models.TextField(
                        blank=True,
                        default="Thank you for trusting us with your watch. Here is what we found, and what we suggest.",
                        max_length=2000,
                    ),
                ),
                (
                    "terms",
                    models.TextField(
                        blank=True,
                        default="This quote is valid until the date above. We start once you have agreed to it and, where one is due, paid the deposit.",
                        max_length=4000,
                    ),
                ),
                (
                    "warranty",
                    models.TextField(
                        blank=True,
                        default="We stand by our work for twelve months from the day you collect your watch. Your statutory rights are not affected.",
                        max_length=4000,
                    ),
                ),
                (
                    "warranty_months",
                    models.PositiveSmallIntegerField(
                        default=12,
                        help_text="The handover note names the first and the last day; 0 names none.",
                        verbose_name="warranty, months",
                    ),
                ),
                (
                    "liability",
                    models.TextField(
                        blank=True,
                        default="We look after your watch as if it were our own. If it is lost or damaged while it is with us, the value declared above is the basis on which we settle it. Please tell us if that value is not right.",
                        max_length=2000,
                        verbose_name="declared value and liability",
                    ),
                ),
                (
                    "uncollected",
                    models.TextField(
                        blank=True,
                        default="Please collect your watch within three months of hearing from us that it is ready. We will remind you in writing before we do anything else with it.",
                        max_length=2000,
                        verbose_name="uncollected watches",
                    ),
                ),
                (
                    "privacy",
                    models.TextField(
                        blank=True,
                        default="We use your details only for this job and for questions about it, and give them to nobody else. Ask us at any time what we hold on you, or to erase it.",
                        max_length=2000,
                        verbose_name="privacy line",
                    ),
                ),
                (
                    "quote_email",
                    models.TextField(
                        blank=True,
                        default="Hello {name},\n\nhere is our quote for your watch ({watch}), attached as a PDF: quote {number}, version {version}, {total}. It is valid until {valid until}.\n\nIf you would like us to go ahead, please sign it and send it back, or simply reply to this message.\n\nKind regards\n{shop}",
                        max_length=2000,
                        verbose_name="e-mail with a quote",
                    ),
                ),
                (
                    "quote_message",
                    models.TextField(
                        blank=True,
                        default="Hello {name}, our quote for your watch is ready: {total}, valid until {valid until}. Shall we go ahead? {shop}, job {number}",
                        max_length=600,
                        verbose_name="message with a quote",
                    ),
                ),
                (
                    "care",
                    models.TextField(
                        blank=True,
                        default="Please keep your watch dry and away from strong magnets, and wipe it with a soft cloth.",
                        max_length=2000,
                    ),
                ),
                (
                    "button_cell",
                    models.TextField(
                        default="This watch contains a button battery. Keep new and used ones out of reach of children. If swallowed, it can cause severe or fatal burns inside the body in as little as two hours: get medical help at once, even if you are only guessing. Please recycle used batteries.",
                        max_length=2000,
                        verbose_name="button-cell caution",
                    ),
                ),
                (
                    "water",
                    models.TextField(
                        default="Once a watch has been opened, its water-resistance rating no longer counts until that watch has passed a pressure test.",
                        max_length=2000,
                        verbose_name="water resistance",
                    ),
                ),
                (
                    "nickel",
                    models.TextField(
                        blank=True,
                        default="New parts that touch the skin may contain nickel. Please tell us if you are sensitive to it.",
                        max_length=2000,
                        verbose_name="nickel caution",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Draft",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("key", models.CharField(default=jobs.models.intake._draft_key, max_length=32)),
                ("data", models.JSONField(default=dict)),
                ("updated", models.DateTimeField(auto_now=True)),
                (
                    "user",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="intake_draft",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Invoice",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[("invoice", "invoice"), ("credit", "credit note")], default="invoice", max_length=7
                    ),
                ),
                ("number", models.CharField(max_length=40, unique=True)),
                ("issued", models.DateField()),
                ("supplied", models.DateField(verbose_name="date of supply")),
                ("due_on", models.DateField(null=True, verbose_name="due date")),
                ("reason", models.CharField(blank=True, max_length=300)),
                ("watch", models.CharField(max_length=200)),
                ("seller_name", models.CharField(max_length=120)),
                ("seller_address", models.TextField(max_length=500)),
                ("seller_country", models.CharField(blank=True, max_length=2)),
                ("seller_tax_number", models.CharField(blank=True, max_length=60)),
                ("buyer_name", models.CharField(max_length=200)),
                ("buyer_address", models.TextField(blank=True, max_length=500)),
                ("buyer_country", models.CharField(blank=True, max_length=2)),
                ("currency", models.CharField(max_length=3)),
                ("tax_inclusive", models.BooleanField()),
                ("discount", models.DecimalField(decimal_places=2, max_digits=5, verbose_name="discount, %")),
                ("lines_net", models.DecimalField(decimal_places=2, max_digits=12)),
                ("discount_net", models.DecimalField(decimal_places=2, max_digits=12)),
                ("net", models.DecimalField(decimal_places=2, max_digits=12)),
                ("tax", models.DecimalField(decimal_places=2, max_digits=12)),
                ("total", models.DecimalField(decimal_places=2, max_digits=12)),
                ("prepaid", models.DecimalField(decimal_places=2, default=Decimal(0), max_digits=12)),
                ("due", models.DecimalField(decimal_places=2, max_digits=12)),
                ("how_to_pay", models.TextField(blank=True, max_length=1000)),
                ("no_tax_reason", models.CharField(blank=True, max_length=200)),
                ("at", models.DateTimeField(auto_now_add=True)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "corrects",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="credits",
                        to="jobs.invoice",
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="invoices", to="jobs.job"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="InvoiceLine",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("position", models.PositiveSmallIntegerField()),
                ("text", models.CharField(max_length=400)),
                ("price", models.DecimalField(decimal_places=2, max_digits=9)),
                ("net", models.DecimalField(decimal_places=2, max_digits=9)),
                ("tax_rate", models.DecimalField(decimal_places=2, max_digits=5, verbose_name="tax, %")),
                (
                    "invoice",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="lines", to="jobs.invoice"
                    ),
                ),
                (
                    "takes_back",
                    models.OneToOneField(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="taken_back_by",
                        to="jobs.invoiceline",
                    ),
                ),
            ],
            options={
                "ordering": ["position", "pk"],
            },
        ),
        migrations.CreateModel(
            name="InvoiceTax",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("rate", models.DecimalField(decimal_places=2, max_digits=5, verbose_name="tax, %")),
                ("discount_net", models.DecimalField(decimal_places=2, max_digits=12)),
                ("net", models.DecimalField(decimal_places=2, max_digits=12)),
                ("tax", models.DecimalField(decimal_places=2, max_digits=12)),
                (
                    "invoice",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="taxes", to="jobs.invoice"
                    ),
                ),
            ],
            options={
                "ordering": ["rate"],
            },
        ),
        migrations.CreateModel(
            name="Past",
            fields=[
                (
                    "job",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        primary_key=True,
                        related_name="past",
                        serialize=False,
                        to="jobs.job",
                    ),
                ),
                ("state", models.CharField(max_length=8)),
                ("stage", models.CharField(blank=True, max_length=9)),
                ("outcome", models.CharField(blank=True, max_length=7)),
                ("learn", models.BooleanField(default=False)),
                ("day", models.DateField()),
                ("month", models.PositiveIntegerField()),
                ("days", models.FloatField(null=True)),
                ("quoted", models.FloatField(null=True)),
                ("took", models.FloatField(null=True)),
                ("spent", models.JSONField(default=dict)),
                ("reported", models.BooleanField(default=False)),
                ("facts", models.JSONField(default=dict)),
                ("written", models.DateTimeField(auto_now=True)),
                (
                    "case",
                    models.ForeignKey(
                        null=True, on_delete=django.db.models.deletion.SET_NULL, related_name="+", to="parts.case"
                    ),
                ),
                (
                    "family",
                    models.ForeignKey(
                        null=True, on_delete=django.db.models.deletion.SET_NULL, related_name="+", to="parts.casefamily"
                    ),
                ),
                (
                    "hands",
                    models.ForeignKey(
                        null=True, on_delete=django.db.models.deletion.SET_NULL, related_name="+", to="parts.handset"
                    ),
                ),
                (
                    "movement",
                    models.ForeignKey(
                        null=True, on_delete=django.db.models.deletion.SET_NULL, related_name="+", to="parts.movement"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="PastText",
            fields=[
                (
                    "job",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        primary_key=True,
                        related_name="past_text",
                        serialize=False,
                        to="jobs.job",
                    ),
                ),
                ("head", models.TextField()),
                ("body", models.TextField()),
                ("told", models.JSONField()),
            ],
        ),
        migrations.CreateModel(
            name="Hindsight",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("check_key", models.CharField(max_length=40)),
                ("title", models.CharField(max_length=120)),
                ("said", models.CharField(max_length=7)),
                (
                    "found",
                    models.CharField(
                        blank=True,
                        choices=[("fits", "fitted as it was"), ("work", "needed work"), ("no", "did not fit")],
                        max_length=4,
                    ),
                ),
                ("note", models.CharField(blank=True, max_length=300)),
                ("at", models.DateTimeField(auto_now=True)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="hindsights", to="jobs.job"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="GoAhead",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "how",
                    models.CharField(
                        choices=[
                            ("phone", "by phone"),
                            ("email", "by e-mail"),
                            ("person", "in person"),
                            ("signed", "signed on paper"),
                        ],
                        max_length=6,
                    ),
                ),
                ("said_by", models.CharField(max_length=120, verbose_name="given by")),
                ("note", models.TextField(blank=True, max_length=1000)),
                ("on", models.DateField()),
                ("undone", models.BooleanField(default=False, editable=False)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="go_aheads", to="jobs.job"
                    ),
                ),
            ],
            options={
                "ordering": ["-pk"],
            },
        ),
        migrations.CreateModel(
            name="Event",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("at", models.DateTimeField(auto_now_add=True)),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("logged", "Watch logged"),
                            ("changed", "Changed"),
                            ("waits", "Status"),
                            ("closed", "Job closed"),
                            ("reopened", "Job reopened"),
                            ("archived", "Job archived"),
                            ("brought-back", "Job brought back"),
                            ("taken-over", "Taken over"),
                            ("erased", "Customer's personal data erased"),
                            ("go-ahead", "Go-ahead noted"),
                            ("go-ahead-undone", "Go-ahead undone"),
                            ("cleared", "Luminous paint cleared"),
                            ("clearance-undone", "Clearance of luminous paint undone"),
                            ("stage-closed", "done"),
                            ("stage-skipped", "skipped"),
                            ("stage-reopened", "reopened"),
                            ("ticked", "Ticked"),
                            ("tick-undone", "Tick undone"),
                            ("measured", "Measured"),
                            ("measurement-undone", "Measurement undone"),
                            ("own-copy", "Own copy made"),
                            ("time-added", "Time added by hand"),
                            ("time-left-out", "Time left out"),
                            ("time-counted", "Time counted again"),
                            ("option-added", "Option added"),
                            ("option-chosen", "Option chosen"),
                            ("option-ruled-out", "Option ruled out"),
                            ("option-reconsidered", "Option reconsidered"),
                            ("report-renewed", "Report renewed"),
                            ("quote-drafted", "Quote drafted"),
                            ("quote-sent", "Quote marked as sent"),
                            ("quote-accepted", "Quote accepted"),
                            ("quote-refused", "Quote declined"),
                            ("answer-undone", "Answer to the quote undone"),
                            ("payment", "Payment noted"),
                            ("payment-undone", "Payment undone"),
                            ("invoiced", "Invoice issued"),
                            ("credited", "Credit note issued"),
                            ("order", "Part to buy"),
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
                            ("put-aside", "Part set aside"),
                            ("part-used", "Part used"),
                            ("part-put-back", "Part put back"),
                            ("outcome", "Outcome"),
                            ("hindsight", "At the bench"),
                            ("to-learn", "Kept as a lesson"),
                            ("not-to-learn", "No longer a lesson"),
                            ("unread", "Told in words only"),
                        ],
                        max_length=20,
                    ),
                ),
                ("data", models.JSONField(default=dict, encoder=django.core.serializers.json.DjangoJSONEncoder)),
                (
                    "stage",
                    models.CharField(
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
                ("before", models.TextField(blank=True)),
                ("after", models.TextField(blank=True)),
                ("what", models.CharField(blank=True, max_length=200)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="events", to="jobs.job"
                    ),
                ),
            ],
            options={
                "ordering": ["-pk"],
            },
        ),
        migrations.CreateModel(
            name="Condition",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "subject",
                    models.CharField(
                        choices=[
                            ("crystal", "crystal"),
                            ("case", "case"),
                            ("crown", "crown"),
                            ("tube", "tube"),
                            ("gasket", "gasket"),
                            ("dial", "dial"),
                            ("luminous", "luminous paint"),
                            ("hands", "hands"),
                            ("runs", "movement runs"),
                            ("water", "signs of water"),
                        ],
                        max_length=8,
                    ),
                ),
                (
                    "finding",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("good", "good"),
                            ("worn", "worn"),
                            ("damaged", "damaged"),
                            ("missing", "missing"),
                            ("yes", "yes"),
                            ("no", "no"),
                        ],
                        max_length=7,
                    ),
                ),
                ("remark", models.CharField(blank=True, max_length=300)),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="conditions", to="jobs.job"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="LuminousClearance",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "how",
                    models.CharField(
                        choices=[
                            ("reading", "instrument reading"),
                            ("marking", "maker's mark for non-radium paint"),
                            ("declined", "work on hands and dial declined"),
                        ],
                        max_length=8,
                    ),
                ),
                ("note", models.TextField(max_length=1000)),
                ("on", models.DateField()),
                ("undone", models.BooleanField(default=False, editable=False)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="clearances", to="jobs.job"
                    ),
                ),
            ],
            options={
                "ordering": ["-pk"],
            },
        ),
        migrations.CreateModel(
            name="Option",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("chosen", models.BooleanField(default=False)),
                ("ruled_out", models.BooleanField(default=False, editable=False)),
                ("added", models.DateTimeField(auto_now_add=True)),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="options", to="jobs.job"
                    ),
                ),
                (
                    "pairing",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.PROTECT, related_name="job_option", to="parts.pairing"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="OptionReport",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("report", models.JSONField()),
                ("why", models.CharField(max_length=200)),
                ("computed", models.DateTimeField(auto_now_add=True)),
                (
                    "option",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="reports", to="jobs.option"
                    ),
                ),
            ],
            options={
                "ordering": ["-pk"],
            },
        ),
        migrations.CreateModel(
            name="Order",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("text", models.CharField(max_length=400)),
                ("supplier", models.CharField(blank=True, max_length=120)),
                ("expected", models.DateField(blank=True, null=True)),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("wanted", "to order"),
                            ("ordered", "ordered"),
                            ("arrived", "arrived"),
                            ("dropped", "not needed"),
                        ],
                        default="wanted",
                        max_length=8,
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="orders", to="jobs.job"
                    ),
                ),
            ],
            options={
                "ordering": ["state", "expected", "pk"],
            },
        ),
        migrations.CreateModel(
            name="Outcome",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "word",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("well", "fitted as planned"),
                            ("trouble", "fitted, with trouble on the way"),
                            ("changed", "fitted, but not as planned"),
                            ("failed", "did not fit"),
                        ],
                        max_length=7,
                        verbose_name="how it turned out",
                    ),
                ),
                ("went_wrong", models.TextField(blank=True, max_length=5000, verbose_name="what went wrong")),
                ("next_time", models.TextField(blank=True, max_length=5000, verbose_name="for next time")),
                ("learn", models.BooleanField(default=False, verbose_name="keep as a lesson")),
                ("learn_why", models.CharField(blank=True, max_length=300, verbose_name="the lesson")),
                ("updated", models.DateTimeField(auto_now=True)),
                (
                    "job",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE, related_name="outcome", to="jobs.job"
                    ),
                ),
                (
                    "ring",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="ring_of",
                        to="parts.holderdesign",
                    ),
                ),
                (
                    "spacer",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="spacer_of",
                        to="parts.holderdesign",
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Payment",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("on", models.DateField(verbose_name="date")),
                (
                    "amount",
                    models.DecimalField(
                        decimal_places=2,
                        max_digits=9,
                        validators=[django.core.validators.MinValueValidator(Decimal("0.01"))],
                    ),
                ),
                ("currency", models.CharField(max_length=3)),
                (
                    "how",
                    models.CharField(
                        choices=[
                            ("cash", "in cash"),
                            ("card", "by card"),
                            ("transfer", "by bank transfer"),
                            ("other", "another way"),
                        ],
                        max_length=8,
                        verbose_name="how paid",
                    ),
                ),
                (
                    "purpose",
                    models.CharField(
                        choices=[
                            ("deposit", "deposit"),
                            ("balance", "balance"),
                            ("other", "other payment"),
                            ("refund", "paid back to the customer"),
                        ],
                        max_length=7,
                        verbose_name="what for",
                    ),
                ),
                ("note", models.CharField(blank=True, max_length=200)),
                ("at", models.DateTimeField(auto_now_add=True)),
                ("undone", models.BooleanField(default=False, editable=False)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="payments", to="jobs.job"
                    ),
                ),
            ],
            options={
                "ordering": ["on", "pk"],
            },
        ),
        migrations.CreateModel(
            name="Quote",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("version", models.PositiveSmallIntegerField()),
                (
                    "state",
                    models.CharField(
                        choices=[
                            ("draft", "draft"),
                            ("sent", "sent"),
                            ("accepted", "accepted"),
                            ("refused", "declined"),
                        ],
                        default="draft",
                        max_length=8,
                    ),
                ),
                (
                    "title",
                    models.CharField(
                        blank=True,
                        help_text="As the customer calls it.",
                        max_length=160,
                        verbose_name="title for the watch",
                    ),
                ),
                ("currency", models.CharField(max_length=3)),
                ("tax_inclusive", models.BooleanField(verbose_name="prices include tax")),
                ("tax_by_line", models.BooleanField(verbose_name="round tax line by line")),
                (
                    "discount",
                    models.DecimalField(
                        decimal_places=2,
                        default=Decimal(0),
                        max_digits=5,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal(0)),
                            django.core.validators.MaxValueValidator(Decimal(100)),
                        ],
                        verbose_name="discount, %",
                    ),
                ),
                (
                    "deposit",
                    models.DecimalField(
                        decimal_places=2,
                        default=Decimal(0),
                        max_digits=5,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal(0)),
                            django.core.validators.MaxValueValidator(Decimal(100)),
                        ],
                        verbose_name="deposit, %",
                    ),
                ),
                ("valid_until", models.DateField(verbose_name="valid until")),
                ("note", models.TextField(blank=True, max_length=2000, verbose_name="to the customer")),
                ("made", models.DateTimeField(auto_now_add=True)),
                ("sent", models.DateTimeField(blank=True, editable=False, null=True)),
                ("decided_on", models.DateField(blank=True, null=True)),
                ("decided_by", models.CharField(blank=True, max_length=120, verbose_name="by whom")),
                (
                    "decided_how",
                    models.CharField(
                        blank=True,
                        choices=[
                            ("email", "by e-mail"),
                            ("phone", "by phone"),
                            ("person", "in person"),
                            ("signed", "signed on paper"),
                        ],
                        max_length=6,
                        verbose_name="how",
                    ),
                ),
                ("decision_note", models.TextField(blank=True, max_length=1000)),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="quotes", to="jobs.job"
                    ),
                ),
            ],
            options={
                "ordering": ["-version"],
            },
        ),
        migrations.CreateModel(
            name="Photo",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[("watch", "the watch"), ("signed", "a signed quote")],
                        default="watch",
                        editable=False,
                        max_length=6,
                    ),
                ),
                ("stage", models.CharField(default="intake", max_length=9)),
                ("file", models.ImageField(upload_to=jobs.models.photo._file_name)),
                ("thumbnail", models.ImageField(upload_to=jobs.models.photo._thumbnail_name)),
                ("caption", models.CharField(blank=True, max_length=200)),
                ("taken", models.DateTimeField(auto_now_add=True)),
                ("archived", models.BooleanField(default=False, editable=False)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="photos", to="jobs.job"
                    ),
                ),
                (
                    "quote",
                    models.ForeignKey(
                        blank=True,
                        editable=False,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="photos",
                        to="jobs.quote",
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="PaperOut",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("receipt", "intake receipt"),
                            ("label", "tray label"),
                            ("quote", "quote"),
                            ("sheet", "job sheet"),
                            ("measure", "measuring sheet"),
                            ("template", "dial-foot template"),
                            ("handover", "handover note"),
                            ("invoice", "invoice"),
                            ("credit", "credit note"),
                            ("e-form", "electronic invoice"),
                        ],
                        max_length=8,
                    ),
                ),
                ("file", models.FileField(upload_to="papers/")),
                ("made", models.DateTimeField(auto_now_add=True)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "invoice",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.PROTECT,
                        related_name="papers",
                        to="jobs.invoice",
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="papers", to="jobs.job"
                    ),
                ),
                (
                    "quote",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="papers",
                        to="jobs.quote",
                    ),
                ),
            ],
            options={
                "ordering": ["-pk"],
            },
        ),
        migrations.AddField(
            model_name="invoice",
            name="quote",
            field=models.ForeignKey(
                on_delete=django.db.models.deletion.PROTECT, related_name="invoices", to="jobs.quote"
            ),
        ),
        migrations.CreateModel(
            name="QuotePart",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("title", models.CharField(max_length=160, verbose_name="in the customer's words")),
                ("position", models.PositiveSmallIntegerField(default=1)),
                ("accepted", models.BooleanField(default=False, editable=False)),
                (
                    "option",
                    models.ForeignKey(
                        blank=True,
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to="jobs.option",
                    ),
                ),
                (
                    "quote",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="parts", to="jobs.quote"
                    ),
                ),
            ],
            options={
                "ordering": ["position", "pk"],
            },
        ),
        migrations.CreateModel(
            name="QuoteLine",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("position", models.PositiveSmallIntegerField(default=1)),
                (
                    "kind",
                    models.CharField(
                        choices=[("work", "work"), ("part", "part"), ("accept", "to accept")],
                        default="work",
                        max_length=6,
                    ),
                ),
                ("text", models.CharField(max_length=400)),
                ("minutes", models.PositiveSmallIntegerField(blank=True, null=True)),
                (
                    "cost",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        max_digits=9,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(Decimal(0))],
                    ),
                ),
                (
                    "price",
                    models.DecimalField(
                        blank=True,
                        decimal_places=2,
                        max_digits=9,
                        null=True,
                        validators=[django.core.validators.MinValueValidator(Decimal(0))],
                    ),
                ),
                (
                    "tax_rate",
                    models.DecimalField(
                        decimal_places=2,
                        default=Decimal(0),
                        max_digits=5,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal(0)),
                            django.core.validators.MaxValueValidator(Decimal(100)),
                        ],
                        verbose_name="tax, %",
                    ),
                ),
                ("optional", models.BooleanField(default=False, verbose_name="optional")),
                ("taken", models.BooleanField(default=True, editable=False, verbose_name="chosen by the customer")),
                ("from_check", models.CharField(blank=True, editable=False, max_length=40)),
                ("bought", models.CharField(blank=True, editable=False, max_length=20)),
                ("basis", models.CharField(blank=True, editable=False, max_length=160)),
                (
                    "part",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="lines", to="jobs.quotepart"
                    ),
                ),
            ],
            options={
                "ordering": ["position", "pk"],
            },
        ),
        migrations.CreateModel(
            name="Stage",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
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
                (
                    "state",
                    models.CharField(
                        choices=[("ahead", "to do"), ("done", "done"), ("skipped", "skipped")],
                        default="ahead",
                        max_length=7,
                    ),
                ),
                ("reason", models.CharField(blank=True, max_length=300, verbose_name="why it was skipped")),
                ("remarks", models.TextField(blank=True, max_length=5000)),
                (
                    "pressure_bar",
                    models.DecimalField(
                        blank=True,
                        decimal_places=1,
                        max_digits=4,
                        null=True,
                        validators=[
                            django.core.validators.MinValueValidator(Decimal("0.1")),
                            django.core.validators.MaxValueValidator(Decimal(200)),
                        ],
                        verbose_name="pressure test passed at",
                    ),
                ),
                ("measured", models.JSONField(default=dict, editable=False)),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="stages", to="jobs.job"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="StaleRecord",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "job",
                    models.ForeignKey(on_delete=django.db.models.deletion.CASCADE, related_name="+", to="jobs.job"),
                ),
            ],
        ),
        migrations.CreateModel(
            name="StockCount",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("kind", models.CharField(max_length=20)),
                ("part", models.PositiveBigIntegerField()),
                ("before", models.PositiveIntegerField(null=True)),
                ("after", models.PositiveIntegerField()),
                ("reason", models.CharField(max_length=200)),
                ("at", models.DateTimeField(auto_now_add=True)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
            ],
            options={
                "ordering": ["-pk"],
            },
        ),
        migrations.CreateModel(
            name="StockUse",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("kind", models.CharField(max_length=20)),
                ("part", models.PositiveBigIntegerField()),
                ("name", models.CharField(max_length=160)),
                (
                    "state",
                    models.CharField(
                        choices=[("reserved", "set aside"), ("used", "used"), ("released", "put back")],
                        default="reserved",
                        max_length=8,
                    ),
                ),
                ("at", models.DateTimeField(auto_now_add=True)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="stock_uses", to="jobs.job"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="Tick",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=50)),
                ("key", models.CharField(max_length=60)),
                ("text", models.TextField(blank=True)),
                ("at", models.DateTimeField(auto_now_add=True)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "stage",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="ticks", to="jobs.stage"
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="TimingRun",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("as_found", models.BooleanField(default=False, help_text="The watch as it came, before any work.")),
                ("started", models.DateTimeField(auto_now_add=True)),
                ("bench_temperature", models.FloatField(blank=True, null=True, verbose_name="bench temperature")),
                ("cell_voltage", models.FloatField(blank=True, null=True, verbose_name="cell voltage")),
                ("current_draw", models.FloatField(blank=True, null=True, verbose_name="current draw")),
                ("note", models.CharField(blank=True, max_length=300)),
                ("archived", models.BooleanField(default=False, editable=False)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "job",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="timing_runs", to="jobs.job"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="Reading",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("at", models.DateTimeField()),
                ("offset_s", models.FloatField()),
                ("plus_minus_s", models.FloatField(default=0.0)),
                ("how", models.CharField(choices=[("tap", "tapped"), ("typed", "typed")], max_length=5)),
                ("undone", models.BooleanField(default=False, editable=False)),
                (
                    "run",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="readings", to="jobs.timingrun"
                    ),
                ),
            ],
            options={
                "ordering": ["at", "pk"],
            },
        ),
        migrations.CreateModel(
            name="WorkTime",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("started", models.DateTimeField()),
                ("ended", models.DateTimeField(blank=True, null=True)),
                ("by_hand", models.BooleanField(default=False)),
                ("note", models.CharField(blank=True, max_length=200)),
                ("undone", models.BooleanField(default=False, editable=False)),
                (
                    "by",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.PROTECT, related_name="+", to=settings.AUTH_USER_MODEL
                    ),
                ),
                (
                    "stage",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="work_times", to="jobs.stage"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="PastCheck",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("check_key", models.CharField(max_length=40)),
                ("title", models.CharField(default="", max_length=120)),
                ("said", models.CharField(max_length=7)),
                ("found", models.CharField(blank=True, max_length=4)),
                (
                    "past",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="checks", to="jobs.past"
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.AddIndex(
            model_name="job",
            index=models.Index(
                models.F("state"),
                models.F("waits_for"),
                models.Func(
                    "promised", output_field=models.DateField(), template="COALESCE(%(expressions)s, '9999-12-31')"
                ),
                models.F("id"),
                condition=models.Q(("archived", False)),
                name="jobs_waiting",
            ),
        ),
        migrations.AddIndex(
            model_name="job",
            index=models.Index(
                models.F("state"),
                models.Func(
                    "promised", output_field=models.DateField(), template="COALESCE(%(expressions)s, '9999-12-31')"
                ),
                models.F("id"),
                condition=models.Q(("archived", False)),
                name="jobs_by_day",
            ),
        ),
        migrations.AddConstraint(
            model_name="hindsight",
            constraint=models.UniqueConstraint(fields=("job", "check_key"), name="one_hindsight_a_check"),
        ),
        migrations.AddConstraint(
            model_name="condition",
            constraint=models.UniqueConstraint(fields=("job", "subject"), name="one_condition_a_subject"),
        ),
        migrations.AddConstraint(
            model_name="option",
            constraint=models.UniqueConstraint(
                condition=models.Q(("chosen", True)), fields=("job",), name="one_chosen_option"
            ),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.UniqueConstraint(fields=("job", "version"), name="one_quote_a_version"),
        ),
        migrations.AddConstraint(
            model_name="quote",
            constraint=models.UniqueConstraint(
                condition=models.Q(("state", "accepted")), fields=("job",), name="one_accepted_quote"
            ),
        ),
        migrations.AddConstraint(
            model_name="invoice",
            constraint=models.CheckConstraint(
                condition=models.Q(
                    models.Q(("corrects", None), ("kind", "invoice")),
                    models.Q(("corrects__isnull", False), ("kind", "credit")),
                    _connector="OR",
                ),
                name="credit_notes_correct_an_invoice",
            ),
        ),
        migrations.AddConstraint(
            model_name="stage",
            constraint=models.UniqueConstraint(fields=("job", "kind"), name="one_stage_of_each_kind"),
        ),
        migrations.AddConstraint(
            model_name="stockuse",
            constraint=models.UniqueConstraint(
                condition=models.Q(("state", "reserved")), fields=("job", "kind", "part"), name="one_reservation_a_part"
            ),
        ),
        migrations.AddConstraint(
            model_name="tick",
            constraint=models.UniqueConstraint(fields=("stage", "key"), name="one_tick_an_item"),
        ),
        migrations.AddConstraint(
            model_name="worktime",
            constraint=models.UniqueConstraint(
                condition=models.Q(("ended__isnull", True), ("undone", False)),
                fields=("by",),
                name="one_timer_a_person",
            ),
        ),
        migrations.AddIndex(
            model_name="past",
            index=models.Index(fields=["-day", "-job"], name="past_by_day"),
        ),
        migrations.AddIndex(
            model_name="past",
            index=models.Index(fields=["state", "-day", "-job"], name="past_by_state"),
        ),
        migrations.AddIndex(
            model_name="past",
            index=models.Index(fields=["family", "-day", "-job"], name="past_by_family"),
        ),
        migrations.AddIndex(
            model_name="past",
            index=models.Index(fields=["movement", "-day", "-job"], name="past_by_movement"),
        ),
        migrations.AddIndex(
            model_name="past",
            index=models.Index(fields=["outcome", "-day", "-job"], name="past_by_outcome"),
        ),
        migrations.AddIndex(
            model_name="past",
            index=models.Index(fields=["stage", "-day", "-job"], name="past_by_stage"),
        ),
        migrations.AddIndex(
            model_name="past",
            index=models.Index(fields=["-written"], name="past_by_writing"),
        ),
        migrations.AddIndex(
            model_name="past",
            index=models.Index(condition=models.Q(("learn", True)), fields=["-day", "-job"], name="past_to_learn"),
        ),
        migrations.RunPython(WORD_INDEX.lay, WORD_INDEX.drop),
    ]
