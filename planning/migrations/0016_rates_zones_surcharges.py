from decimal import Decimal

import django.db.models.deletion
from django.db import migrations, models

import kits.models.fields


class Migration(migrations.Migration):
    dependencies = [
        ("kits", "0007_cartons_and_extra_parcels"),
        ("planning", "0015_past_and_uncertain"),
    ]

    operations = [
        migrations.CreateModel(
            name="SurchargeRow",
            fields=[
                (
                    "id",
                    models.BigAutoField(
                        auto_created=True, primary_key=True, serialize=False, verbose_name="ID"
                    ),
                ),
                ("position", models.PositiveIntegerField()),
                ("service", models.TextField()),
                ("name", models.TextField()),
                ("amount", kits.models.fields.DecimalField()),
                ("percent", kits.models.fields.DecimalField()),
                ("on_all", models.BooleanField()),
                ("zones", kits.models.fields.CodesField(default=tuple)),
                ("over_weight", kits.models.fields.FractionField(null=True)),
                ("over_longest", kits.models.fields.LengthField(null=True)),
                ("over_second", kits.models.fields.LengthField(null=True)),
                ("over_girth", kits.models.fields.LengthField(null=True)),
                ("valid_from", models.DateField(null=True)),
                ("valid_to", models.DateField(null=True)),
            ],
            options={
                "abstract": False,
            },
        ),
        migrations.RemoveConstraint(
            model_name="rate",
            name="planning_rate_once",
        ),
        migrations.RemoveConstraint(
            model_name="zone",
            name="planning_zone_once",
        ),
        migrations.AddField(
            model_name="rate",
            name="over",
            field=kits.models.fields.FractionField(null=True),
        ),
        migrations.AddField(
            model_name="rate",
            name="valid_from",
            field=models.DateField(null=True),
        ),
        migrations.AddField(
            model_name="rate",
            name="valid_to",
            field=models.DateField(null=True),
        ),
        migrations.AddField(
            model_name="service",
            name="charged_to",
            field=kits.models.fields.FractionField(null=True),
        ),
        migrations.AddField(
            model_name="service",
            name="max_girth",
            field=kits.models.fields.LengthField(null=True),
        ),
        migrations.AddField(
            model_name="service",
            name="max_longest",
            field=kits.models.fields.LengthField(null=True),
        ),
        migrations.AddField(
            model_name="service",
            name="max_second",
            field=kits.models.fields.LengthField(null=True),
        ),
        migrations.AddField(
            model_name="service",
            name="max_thickness",
            field=kits.models.fields.LengthField(null=True),
        ),
        migrations.AddField(
            model_name="service",
            name="min_longest",
            field=kits.models.fields.LengthField(null=True),
        ),
        migrations.AddField(
            model_name="service",
            name="min_second",
            field=kits.models.fields.LengthField(null=True),
        ),
        migrations.AddField(
            model_name="service",
            name="sides_to",
            field=kits.models.fields.DecimalField(default=Decimal("1")),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="service",
            name="weight_to",
            field=kits.models.fields.DecimalField(default=Decimal("1")),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="zone",
            name="last",
            field=models.TextField(blank=True, default=""),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="zone",
            name="prefix",
            field=models.TextField(blank=True, default=""),
            preserve_default=False,
        ),
        migrations.AddConstraint(
            model_name="rate",
            constraint=models.CheckConstraint(
                condition=models.Q(("over__startswith", "-"), _negated=True),
                name="planning_rate_over_not_negative",
            ),
        ),
        migrations.AddConstraint(
            model_name="zone",
            constraint=models.UniqueConstraint(
                fields=("month", "carrier", "country", "prefix", "last"), name="planning_zone_once"
            ),
        ),
        migrations.AddField(
            model_name="surchargerow",
            name="month",
            field=models.ForeignKey(
                db_index=False, on_delete=django.db.models.deletion.CASCADE, related_name="+", to="kits.month"
            ),
        ),
        migrations.AddConstraint(
            model_name="surchargerow",
            constraint=models.UniqueConstraint(
                fields=("month", "position"), name="planning_surchargerow_in_order"
            ),
        ),
        migrations.AddConstraint(
            model_name="surchargerow",
            constraint=models.CheckConstraint(
                condition=models.Q(("amount__startswith", "-"), _negated=True),
                name="planning_surchargerow_amount_not_negative",
            ),
        ),
        migrations.AddConstraint(
            model_name="surchargerow",
            constraint=models.CheckConstraint(
                condition=models.Q(("percent__startswith", "-"), _negated=True),
                name="planning_surchargerow_percent_not_negative",
            ),
        ),
        migrations.AddConstraint(
            model_name="surchargerow",
            constraint=models.CheckConstraint(
                condition=models.Q(("over_weight__startswith", "-"), _negated=True),
                name="planning_surchargerow_over_weight_not_negative",
            ),
        ),
    ]
