"""Django's SQLite, with a queue in front of its one writer."""
