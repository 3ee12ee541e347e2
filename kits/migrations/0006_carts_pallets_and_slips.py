from fractions import Fraction

from django.db import migrations, models

import kits.models.fields

MM = 8_000  # a length of one millimetre


class Migration(migrations.Migration):
    dependencies = [
        ("kits", "0005_month_digests"),
    ]

    operations = [
        migrations.AddField(
            model_name="material",
            name="shelf",
            field=models.TextField(blank=True, default=""),
            preserve_default=False,
        ),
        migrations.RenameField(model_name="month", old_name="wave_size", new_name="cart_boxes"),
        *(
            migrations.AddField(model_name="month", name=name, field=field, preserve_default=False)
            for name, field in (
                ("shelf_boxes", models.PositiveIntegerField(default=8)),
                ("wave_fills", models.TextField(default="cart")),
                ("pallet_length", kits.models.fields.LengthField(default=1_200 * MM)),
                ("pallet_width", kits.models.fields.LengthField(default=800 * MM)),
                ("pallet_height", kits.models.fields.LengthField(default=1_200 * MM)),
                ("pallet_weight", kits.models.fields.FractionField(default=Fraction(400_000))),
                ("slips", models.TextField(default="A6")),
            )
        ),
    ]
