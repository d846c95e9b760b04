"""Getting ready and answering, in one call."""

import io
import os

from django.core.management import call_command

# django-htmx brings several versions and extensions of htmx; pages ask for version 2 alone.
NOT_SERVED = ["htmx-4*", "htmax*", "ext"]


def serve(host: str, port: int) -> None:
    """Bring the database up to date, collect the static files, and answer at `host`:`port` until told to stop.

    One process with several threads: SQLite writes one at a time anyway, and a slow phone holds no thread, for
    the server reads and writes the sockets outside Python. Ctrl-C and SIGTERM let running requests finish.
    Nothing writes an access log: quote links are keys, and would be readable in it.
    """
    # Imported here so that other commands start without the server.
    from granian import Granian
    from granian.constants import Interfaces
    from granian.log import LogLevels

    # What is kept here is nobody else's on this machine to read.
    os.umask(0o077)
    call_command("check", databases=["default"], stdout=io.StringIO())
    call_command("migrate", interactive=False, verbosity=0)
    call_command("collectstatic", interactive=False, verbosity=0, ignore_patterns=NOT_SERVED)
    # The process that answers is another one: it reads this when it starts, and sends the letters too.
    os.environ["GARLANDRY_SENDS_MAIL"] = "1"
    print(f"Garlandry is at http://{f'[{host}]' if ':' in host else host}:{port}/ (Ctrl-C stops it).", flush=True)
    Granian(
        "studio.wsgi:application",
        address=host,
        port=port,
        interface=Interfaces.WSGI,
        workers=1,
        blocking_threads=8,
        blocking_threads_idle_timeout=600,
        # Its warning is about more threads than processors; ours mostly wait for the database.
        log_level=LogLevels.error,
        log_access=False,
        workers_kill_timeout=10,
    ).serve()
