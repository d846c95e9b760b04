"""Static files with a hash in the name, compressed once when collected."""

from whitenoise.storage import CompressedManifestStaticFilesStorage


class HashedFiles(CompressedManifestStaticFilesStorage):
    """Falls back on the plain name before `collectstatic` has run, so that tests need no build step."""

    manifest_strict = False

    def hashed_name(self, name: str, content: object = None, filename: str | None = None) -> str:
        """The hashed name, or the plain one where the file has not been collected yet."""
        try:
            hashed: str = super().hashed_name(name, content, filename)
        except ValueError:
            return name
        return hashed
