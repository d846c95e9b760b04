"""How much of a sent file is taken in: no more than a photo may have, whatever follows."""

from typing import Any

from django.core.files.uploadhandler import FileUploadHandler

from studio.photos import MOST_BYTES


class NoMoreThanAPhoto(FileUploadHandler):
    """Stands before the others and lets each file's first bytes through to them, and one part more to tell it by."""

    def receive_data_chunk(self, raw_data: bytes, start: int) -> bytes | None:
        """The part, or nothing once the limit was passed by an earlier one."""
        return raw_data if start <= MOST_BYTES else None

    def file_complete(self, file_size: int) -> Any:
        """The next handler has the file."""
        return
