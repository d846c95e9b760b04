"""What a web server calls."""

import os

from django.core.wsgi import get_wsgi_application

os.environ.setdefault("DJANGO_SETTINGS_MODULE", "studio.settings")

application = get_wsgi_application()

if os.environ.get("GARLANDRY_SENDS_MAIL") == "1":
    # Set by `serve`: letters go out from here while pages are answered.
    from studio.sending import start_sending

    start_sending()
