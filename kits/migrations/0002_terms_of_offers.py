from decimal import Decimal

from django.db import migrations, models

import kits.catalogue.offers
import kits.models.fields


class Migration(migrations.Migration):
    dependencies = [
        ("kits", "0001_first_rows"),
    ]

    operations = [
        migrations.AddField(
            model_name="material",
            name="split",
            field=models.BooleanField(default=False),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="material",
            name="cut_from",
            field=kits.models.fields.CodesField(default=tuple),
        ),
        migrations.AddField(
            model_name="month",
            name="leftover_percent",
            field=kits.models.fields.DecimalField(default=Decimal(0)),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="month",
            name="leftover_months",
            field=kits.models.fields.DecimalField(default=Decimal(1)),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="offer",
            name="maximum",
            field=models.PositiveIntegerField(null=True),
        ),
        migrations.AddField(
            model_name="offer",
            name="breaks",
            field=kits.models.fields.EnumField(kits.catalogue.offers.Breaks, default="all units"),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="offer",
            name="even_late",
            field=models.BooleanField(default=False),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="offer",
            name="order_until",
            field=models.DateField(null=True),
        ),
    ]
