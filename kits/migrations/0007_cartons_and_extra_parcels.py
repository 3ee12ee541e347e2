from decimal import Decimal

from django.db import migrations, models

import kits.models.fields


class Migration(migrations.Migration):
    dependencies = [
        ("kits", "0006_carts_pallets_and_slips"),
    ]

    operations = [
        migrations.AddField(
            model_name="material",
            name="carries",
            field=kits.models.fields.FractionField(null=True),
        ),
        migrations.AddField(
            model_name="material",
            name="soft",
            field=models.BooleanField(default=False),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="month",
            name="just_over",
            field=kits.models.fields.DecimalField(default=Decimal("10")),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="month",
            name="minutes_per_parcel",
            field=kits.models.fields.DecimalField(default=Decimal("0")),
            preserve_default=False,
        ),
        migrations.AddConstraint(
            model_name="material",
            constraint=models.CheckConstraint(
                condition=models.Q(("carries__startswith", "-"), _negated=True),
                name="kits_material_carries_not_negative",
            ),
        ),
    ]
