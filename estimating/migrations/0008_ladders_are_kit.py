"""Ladders were typed with the rates and listed with the kit: now with the kit alone, and none that was typed is lost."""

from decimal import Decimal

from django.conf import settings
from django.db import migrations
from django.db.backends.base.schema import BaseDatabaseSchemaEditor
from django.db.migrations.state import StateApps
from django.utils import timezone

FOOT = Decimal("304.8")


def list_them(apps: StateApps, _editor: BaseDatabaseSchemaEditor) -> None:
    rates = apps.get_model("estimating", "Rates").objects.filter(pk=1).first()
    people = apps.get_model("studio", "User").objects
    by = people.filter(role="owner").order_by("pk").first() or people.order_by("pk").first()
    if rates is None or by is None:
        return
    kits, at = apps.get_model("stock", "Kit").objects, timezone.now()
    listed = {kit.height_mm for kit in kits.filter(sort="ladder", retired_at=None, height_mm__isnull=False)}
    for mm in dict.fromkeys(Decimal(typed) for typed in rates.ladders_mm):
        if mm in listed:
            continue
        name = f"Ladder, {(mm / FOOT).quantize(Decimal('0.01')).normalize():f} ft"
        while kits.filter(name__iexact=name).exists():
            name = f"{name} (typed with the rates)"[:60] if "typed" not in name else f"{name[:50]} {kits.count()}"
        kit = kits.create(name=name, sort="ladder", cleaning_days=0, height_mm=mm)
        apps.get_model("stock", "KitMovement").objects.create(
            kit=kit, kind="got", quantity=1, at=at, by=by, why="typed with the rates"
        )


class Migration(migrations.Migration):
    dependencies = [
        ("estimating", "0007_what_is_pinned"),
        ("stock", "0010_kit"),
        migrations.swappable_dependency(settings.AUTH_USER_MODEL),
    ]

    operations = [
        migrations.RunPython(list_them, migrations.RunPython.noop),
        migrations.RemoveField(model_name="rates", name="ladders_mm"),
    ]
