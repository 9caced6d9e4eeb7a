"""All steps of this room up to 0005 at once, for a new workshop; an older one goes through them one by one."""

import django.db.models.deletion
from django.conf import settings
from django.db import migrations, models


class Migration(migrations.Migration):
    initial = True

    replaces = [
        ("workshop", "0001_access"),
        ("workshop", "0002_sent_forms"),
        ("workshop", "0003_hashed_sessions"),
        ("workshop", "0004_access_log"),
        ("workshop", "0005_second_step"),
    ]

    dependencies = [
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="SentForm",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("key", models.CharField(max_length=64, unique=True)),
                ("location", models.TextField(blank=True)),
                ("at", models.DateTimeField(db_index=True)),
            ],
        ),
        migrations.CreateModel(
            name="AccessEvent",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                (
                    "kind",
                    models.CharField(
                        choices=[
                            ("signed-in", "Signed in"),
                            ("wrong-password", "Wrong name or password"),
                            ("wrong-code", "Wrong second step"),
                            ("turned-away", "Turned away after wrong ones"),
                            ("refused", "Page refused"),
                            ("account-added", "Account added"),
                            ("role-changed", "Role changed"),
                            ("switched-off", "Account switched off"),
                            ("switched-on", "Account switched on"),
                            ("link-made", "Password link created"),
                            ("password-changed", "Password changed"),
                            ("step-added", "Second step added"),
                            ("step-removed", "Second step removed"),
                            ("exported", "Everything exported"),
                            ("given-out", "Customer's data downloaded"),
                            ("erased", "Customer's data erased"),
                            ("restored", "Backup restored"),
                            ("imported", "Export imported"),
                        ],
                        max_length=16,
                    ),
                ),
                ("at", models.DateTimeField(auto_now_add=True)),
                ("address", models.CharField(blank=True, max_length=45)),
                ("about", models.CharField(blank=True, max_length=120)),
                (
                    "by",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "whom",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ["-pk"],
            },
        ),
        migrations.CreateModel(
            name="CodeApp",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("secret", models.CharField(max_length=64)),
                ("since", models.DateTimeField(auto_now_add=True)),
                ("last_step", models.BigIntegerField(default=0)),
                (
                    "user",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="code_app",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="OneTimeLink",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("digest", models.CharField(max_length=64, unique=True)),
                ("until", models.DateTimeField(null=True)),
                (
                    "user",
                    models.OneToOneField(
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="link",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Passkey",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=60)),
                ("credential", models.CharField(max_length=1400, unique=True)),
                ("public_key", models.BinaryField()),
                ("uses", models.BigIntegerField(default=0)),
                ("since", models.DateTimeField(auto_now_add=True)),
                ("used", models.DateTimeField(null=True)),
                (
                    "user",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="passkeys",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ["pk"],
            },
        ),
        migrations.CreateModel(
            name="ProvenPassword",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("digest", models.CharField(max_length=64)),
                (
                    "user",
                    models.OneToOneField(
                        on_delete=django.db.models.deletion.CASCADE, related_name="proven", to=settings.AUTH_USER_MODEL
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="RecoveryCode",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("digest", models.CharField(max_length=64)),
                (
                    "user",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="recovery_codes",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
        ),
        migrations.CreateModel(
            name="Session",
            fields=[
                (
                    "session_key",
                    models.CharField(max_length=40, primary_key=True, serialize=False, verbose_name="session key"),
                ),
                ("session_data", models.TextField(verbose_name="session data")),
                ("expire_date", models.DateTimeField(db_index=True, verbose_name="expire date")),
                ("browser", models.CharField(blank=True, max_length=120)),
                ("address", models.CharField(blank=True, max_length=45)),
                ("since", models.DateTimeField(null=True)),
                ("used", models.DateTimeField(null=True)),
                ("trusted", models.BooleanField(default=False)),
                (
                    "user",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="sessions",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
            ],
            options={
                "ordering": ["-used"],
            },
        ),
        migrations.CreateModel(
            name="SignInFailure",
            fields=[
                ("id", models.BigAutoField(auto_created=True, primary_key=True, serialize=False, verbose_name="ID")),
                ("name", models.CharField(max_length=150)),
                ("address", models.CharField(max_length=45)),
                ("at", models.DateTimeField()),
            ],
            options={
                "indexes": [models.Index(fields=["at"], name="workshop_si_at_3a1bf1_idx")],
            },
        ),
    ]
