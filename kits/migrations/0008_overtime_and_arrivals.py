from decimal import Decimal

from django.db import migrations, models

import kits.models.fields


class Migration(migrations.Migration):
    dependencies = [
        ("kits", "0007_cartons_and_extra_parcels"),
    ]

    operations = [
        migrations.AddField(
            model_name="month",
            name="overtime_cost_per_hour",
            field=kits.models.fields.DecimalField(default=Decimal(0)),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="month",
            name="arrive_together",
            field=models.BooleanField(default=False),
        ),
    ]
