from decimal import Decimal

from django.db import migrations, models

import kits.models.fields


class Migration(migrations.Migration):
    dependencies = [
        ("kits", "0002_terms_of_offers"),
    ]

    operations = [
        migrations.AddField(
            model_name="material",
            name="storage",
            field=kits.models.fields.DecimalField(default=Decimal(0)),
            preserve_default=False,
        ),
        migrations.AddField(
            model_name="month",
            name="short_goods",
            field=models.TextField(default="tier"),
            preserve_default=False,
        ),
        migrations.AddConstraint(
            model_name="material",
            constraint=models.CheckConstraint(
                condition=models.Q(("storage__startswith", "-"), _negated=True),
                name="kits_material_storage_not_negative",
            ),
        ),
    ]
