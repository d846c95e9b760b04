from django.apps import AppConfig


class StudioConfig(AppConfig):
    name = "studio"

    def ready(self) -> None:
        """Register the checks."""
        from studio import checks  # noqa: F401
