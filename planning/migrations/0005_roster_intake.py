import django.db.models.deletion
import django.utils.timezone
from django.conf import settings
from django.db import migrations, models

import planning.models.fields


class Migration(migrations.Migration):
    dependencies = [
        ("kits", "0003_storage_and_short_goods"),
        ("planning", "0004_months_to_come"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.CreateModel(
            name="Intake",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("name", models.TextField()),
                ("path", models.TextField(blank=True)),
                (
                    "step",
                    models.TextField(
                        choices=[
                            ("waiting", "Waiting"),
                            ("looked at", "Looked At"),
                            ("agreed", "Agreed"),
                            ("taken in", "Taken"),
                            ("refused", "Refused"),
                            ("dropped", "Dropped"),
                        ],
                        default="waiting",
                    ),
                ),
                ("fingerprint", models.TextField(blank=True)),
                ("rows", models.PositiveIntegerField(default=0)),
                ("new", models.PositiveIntegerField(default=0)),
                ("changed", models.PositiveIntegerField(default=0)),
                ("same", models.PositiveIntegerField(default=0)),
                ("faulty", models.PositiveIntegerField(default=0)),
                ("kept", models.PositiveIntegerField(default=0)),
                ("found", models.JSONField(default=list)),
                ("error", models.TextField(blank=True)),
                ("owner", models.TextField(blank=True)),
                ("created_at", models.DateTimeField(default=django.utils.timezone.now)),
                ("ended_at", models.DateTimeField(null=True)),
                (
                    "asked_by",
                    models.ForeignKey(
                        null=True,
                        on_delete=django.db.models.deletion.SET_NULL,
                        related_name="+",
                        to=settings.AUTH_USER_MODEL,
                    ),
                ),
                (
                    "month",
                    models.ForeignKey(
                        on_delete=django.db.models.deletion.CASCADE, related_name="intakes", to="kits.month"
                    ),
                ),
            ],
            options={
                "ordering": ["-id"],
            },
        ),
        migrations.CreateModel(
            name="IntakeRow",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("number", models.PositiveIntegerField()),
                ("faulty", models.BooleanField()),
                ("reference", models.TextField()),
                ("name", models.TextField()),
                ("address_1", models.TextField()),
                ("address_2", models.TextField(blank=True)),
                ("address_3", models.TextField(blank=True)),
                ("city", models.TextField()),
                ("region", models.TextField(blank=True)),
                ("postcode", models.TextField(blank=True)),
                ("country", models.TextField()),
                ("tier", models.TextField()),
                ("quantity", models.PositiveIntegerField()),
                ("active", models.BooleanField()),
                ("joined", models.DateField(null=True)),
                ("skips", planning.models.fields.MonthsField(default=tuple)),
                ("note", models.TextField(blank=True)),
                (
                    "intake",
                    models.ForeignKey(
                        db_index=False,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to="planning.intake",
                    ),
                ),
            ],
            options={
                "constraints": [
                    models.UniqueConstraint(fields=("intake", "number"), name="one_intake_row_of_a_number")
                ],
            },
        ),
    ]
