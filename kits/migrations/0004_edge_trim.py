from django.db import migrations

import kits.models.fields


class Migration(migrations.Migration):
    dependencies = [
        ("kits", "0003_storage_and_short_goods"),
    ]

    operations = [
        migrations.AddField(
            model_name="material",
            name="edge_trim",
            field=kits.models.fields.LengthField(default=0),
            preserve_default=False,
        ),
    ]
