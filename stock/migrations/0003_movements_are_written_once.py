from django.db import migrations

from studio.write_once import refuse_changes


class Migration(migrations.Migration):
    dependencies = [("stock", "0002_initial")]

    operations = [refuse_changes("stock_movement", "a movement is never edited and never deleted")]
