"""Minutes for gas and decals were set with what a day takes: now with the rates, as they were set."""

from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps


def move_them(apps: StateApps, _editor: BaseDatabaseSchemaEditor) -> None:
    limits = apps.get_model("bookings", "DayLimits").objects.filter(pk=1).first()
    if limits is None:
        return
    rates, _ = apps.get_model("estimating", "Rates").objects.get_or_create(pk=1)
    rates.gas_minutes, rates.decal_minutes = limits.gas_minutes, limits.decal_minutes
    rates.save(update_fields=["gas_minutes", "decal_minutes"])


class Migration(migrations.Migration):
    dependencies = [
        ("bookings", "0023_hours_of_the_place_and_of_getting_ready"),
        ("estimating", "0009_gas_and_decals_are_in_the_price"),
    ]

    operations = [
        migrations.RunPython(move_them, migrations.RunPython.noop),
        migrations.RemoveField(model_name="daylimits", name="decal_minutes"),
        migrations.RemoveField(model_name="daylimits", name="gas_minutes"),
    ]
