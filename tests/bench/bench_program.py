"""How fast the program that answers starts, and what it weighs, beside a bare one of Django's.

Run by name; not part of the tests: python -m pytest tests/bench/bench_program.py -s
"""

import os
import subprocess
import sys
from pathlib import Path

from django.conf import settings as django_settings
from django.urls import reverse

from tests.bench.bench_pages import FEW, LISTS, REPEATS, open_doors
from tests.databases import fresh_database

ROOT = Path(__file__).resolve().parents[2]

# Run by programs of their own, which then say what they weigh and how long the first page took them.
PLAIN_PROGRAM = """
import os, sys
from django.conf import settings
settings.configure(
    SECRET_KEY="x" * 50, ALLOWED_HOSTS=["*"], ROOT_URLCONF=__name__,
    INSTALLED_APPS=["django.contrib.auth", "django.contrib.contenttypes", "django.contrib.sessions"],
    MIDDLEWARE=["django.contrib.sessions.middleware.SessionMiddleware", "django.middleware.csrf.CsrfViewMiddleware",
                "django.contrib.auth.middleware.AuthenticationMiddleware"],
    DATABASES={"default": {"ENGINE": "django.db.backends.sqlite3", "NAME": ":memory:"}},
    TEMPLATES=[{"BACKEND": "django.template.backends.django.DjangoTemplates"}],
)
from django.core.wsgi import get_wsgi_application
application = get_wsgi_application()
from django.http import HttpResponse
from django.template import engines
from django.urls import path
def page(request):
    rows = engines["django"].from_string("{% for row in rows %}<p>{{ row }}</p>{% endfor %}")
    return HttpResponse(rows.render({"rows": range(40)}, request))
urlpatterns = [path("", page)]
addresses = ["/"]
"""
OUR_PROGRAM = """
import os, sys
from studio.wsgi import application
addresses = sys.argv[2].split()
"""
ASKING = """
from django.test import RequestFactory
def ask(address):
    environ = RequestFactory(headers={"cookie": sys.argv[1]}).get(address).environ
    said = []
    answer = application(environ, lambda status, headers, *_: said.append(status))
    b"".join(answer)
    answer.close()
    assert said == ["200 OK"], (address, said)
def weighs():
    with open("/proc/self/statm") as file:
        return int(file.read().split()[1]) * os.sysconf("SC_PAGE_SIZE") / 1e6
ask(addresses[0])
taken = sum(os.times()[:2])
for address in addresses * 20:
    ask(address)
steady = weighs()
for n in range(int(sys.argv[3])):
    ask(addresses[n % len(addresses)])
print(taken, steady, weighs())
"""


def program(source: str, *words: str, environment: dict[str, str] | None = None) -> list[float]:
    """Seconds of the processor until the first page was answered, megabytes after hundreds, and after so many more."""
    command = [sys.executable, "-c", source + ASKING, *words]
    # A program keeps what it compiled from its first start on, whatever the shell of whoever measures says.
    ours = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    answer = subprocess.run(
        command, cwd=ROOT, env=ours | (environment or {}), capture_output=True, text=True, timeout=900
    )
    assert answer.returncode == 0, answer.stderr
    return [float(figure) for figure in answer.stdout.split()]


def test_the_program_that_answers_starts_fast_and_stays_small(tmp_path, migrated, django_db_blocker):
    """Ten thousand pages later it weighs no more: nothing is kept that was only needed once."""
    with fresh_database(tmp_path, migrated, django_db_blocker) as environment, open_doors(FEW) as doors:
        pages = " ".join(reverse(name) for name in LISTS)
        cookie = f"{django_settings.SESSION_COOKIE_NAME}={doors.ours.session}"
        key = {"GARLANDRY_SECRET_KEY": django_settings.SECRET_KEY, "GARLANDRY_REDIRECT_TO_HTTPS": "0"}
        plain = min(program(PLAIN_PROGRAM, "", "", "0") for _ in range(REPEATS))
        ours = [program(OUR_PROGRAM, cookie, pages, "0", environment=environment | key) for _ in range(REPEATS)]
        _, before, after = program(OUR_PROGRAM, cookie, pages, "10000", environment=environment | key)
    start = min(one[0] for one in ours)
    print(f"\nfirst page after {start:.2f} s, plain {plain[0]:.2f} s: {start / plain[0]:.2f} times")
    print(f"weighs {before:.0f} MB, plain {plain[1]:.0f} MB; {after - before:+.1f} MB after ten thousand pages")
    assert start <= 4 * plain[0]
    assert start <= 1.2
    assert before <= 110
    assert after - before <= 10
