import django.db.models.deletion
from django.db import migrations, models

import planning.models.fields


class Migration(migrations.Migration):
    dependencies = [
        ("kits", "0008_overtime_and_arrivals"),
        ("planning", "0018_people_looked_for"),
    ]

    operations = [
        migrations.RemoveConstraint(model_name="weekdaycrew", name="planning_weekdaycrew_once"),
        migrations.RemoveConstraint(model_name="dayoff", name="planning_dayoff_once"),
        migrations.AddField(
            "weekdaycrew", "who", models.TextField(blank=True, default=""), preserve_default=False
        ),
        migrations.AddField("weekdaycrew", "starts", models.TimeField(null=True)),
        migrations.AddField("weekdaycrew", "ends", models.TimeField(null=True)),
        migrations.AddField(
            "weekdaycrew", "overtime", models.PositiveIntegerField(default=0), preserve_default=False
        ),
        migrations.AddField(
            "weekdaycrew", "country", models.TextField(blank=True, default=""), preserve_default=False
        ),
        migrations.AddField(
            "dayoff", "country", models.TextField(blank=True, default=""), preserve_default=False
        ),
        migrations.AddField(
            "crewday", "overtime", models.PositiveIntegerField(default=0), preserve_default=False
        ),
        migrations.AddField("service", "cut_off", models.TimeField(null=True)),
        migrations.AddConstraint(
            "weekdaycrew",
            models.UniqueConstraint(fields=("month", "weekday", "who"), name="planning_weekdaycrew_once"),
        ),
        migrations.AddConstraint(
            "dayoff",
            models.UniqueConstraint(fields=("month", "day", "who", "country"), name="planning_dayoff_once"),
        ),
        migrations.CreateModel(
            name="DeliveryWeek",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("position", models.PositiveIntegerField()),
                ("country", models.TextField()),
                ("weekdays", planning.models.fields.WeekdaysField()),
                (
                    "month",
                    models.ForeignKey(
                        db_index=False,
                        on_delete=django.db.models.deletion.CASCADE,
                        related_name="+",
                        to="kits.month",
                    ),
                ),
            ],
            options={
                "abstract": False,
                "constraints": [
                    models.UniqueConstraint(
                        fields=("month", "position"), name="planning_deliveryweek_in_order"
                    ),
                    models.UniqueConstraint(fields=("month", "country"), name="planning_deliveryweek_once"),
                ],
            },
        ),
    ]
