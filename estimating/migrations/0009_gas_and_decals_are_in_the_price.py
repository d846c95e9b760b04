from django.db import migrations, models


class Migration(migrations.Migration):
    dependencies = [
        ("estimating", "0008_ladders_are_kit"),
    ]

    operations = [
        migrations.AddField(
            model_name="rates",
            name="decal_minutes",
            field=models.PositiveIntegerField(default=10, verbose_name="minutes to cut a decal"),
        ),
        migrations.AddField(
            model_name="rates",
            name="gas_minutes",
            field=models.PositiveIntegerField(default=45, verbose_name="minutes to collect gas"),
        ),
    ]
