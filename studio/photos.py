"""A photo somebody sends: read by what it is, turned upright, shrunk, and rid of everything but its picture.

Whatever comes in, what is kept is a JPEG we wrote ourselves: no place, camera, thumbnail or hidden file goes with it.
"""

from __future__ import annotations

import io
import threading
import warnings
from dataclasses import dataclass
from typing import IO

from PIL import Image, ImageFile, ImageOps, UnidentifiedImageError
from pillow_heif import register_heif_opener

from studio.refusals import FieldRuleError

register_heif_opener(thumbnails=False, depth_images=False, aux_images=False)

MOST_BYTES = 25 * 1024 * 1024
MOST_PIXELS = 40_000_000
LEAST_SIDE = 200
LONGEST_SIDE, PICTURE_SIDE = 2000, 1000
PICTURE_BYTES = 96 * 1024
"""The photo inside a quote's picture: with 1,500 balloons over it the drawing stays below 250 KB."""

FORMATS = ("JPEG", "PNG", "WEBP", "HEIF")
NAMES = "JPEG, PNG, WebP or HEIC"

# A photo unpacked takes some 200 MB at the most; one at a time is enough for a studio.
_one_at_a_time = threading.Lock()


class PhotoError(FieldRuleError):
    """A photo that cannot be used."""

    def __init__(self, rule: str, value: object, field: str = "Photo") -> None:
        super().__init__(field, rule, value)

    def __str__(self) -> str:
        return f"{super().__str__()}."


@dataclass(frozen=True, slots=True)
class CleanPhoto:
    """A photo as it is kept. `full` and `picture` are JPEGs, the longer side at most 2,000 and 1,000 pixels."""

    full: bytes
    picture: bytes
    width: int
    height: int


def clean_photo(file: IO[bytes], size: int) -> CleanPhoto:
    """The photo in a file of `size` bytes, cleaned. Raises PhotoError; the file's name is never asked for."""
    if size == 0:
        raise PhotoError("must hold a picture", "an empty file")
    if size > MOST_BYTES:
        megabytes = f"{size / 1024 / 1024:.1f} MB" if size < 2 * MOST_BYTES else "far more"
        raise PhotoError(f"must be at most {MOST_BYTES // 1024 // 1024} MB", megabytes)
    with _one_at_a_time, warnings.catch_warnings():
        # What Pillow only warns of (a bomb, a broken header) is refused.
        warnings.simplefilter("error")
        upright = _whole(file)
        return CleanPhoto(_jpeg(upright, 84), small_picture(upright), upright.width, upright.height)


def small_picture(upright: Image.Image) -> bytes:
    """A JPEG for inside a drawing: 1,000 pixels at most, and as good as fits the bytes there are."""
    for side in (PICTURE_SIDE, 800, 640):
        small = upright.copy()
        small.thumbnail((side, side), Image.Resampling.LANCZOS)
        for quality in (78, 66, 54, 42):
            written = _jpeg(small, quality)
            if len(written) <= PICTURE_BYTES:
                return written
    return written


def _whole(file: IO[bytes]) -> Image.Image:
    """As `_upright`, whatever else in this process lets pictures that are cut off pass (the maker of PDFs does)."""
    lenient = ImageFile.LOAD_TRUNCATED_IMAGES
    ImageFile.LOAD_TRUNCATED_IMAGES = False
    try:
        return _upright(file)
    finally:
        ImageFile.LOAD_TRUNCATED_IMAGES = lenient


def _upright(file: IO[bytes]) -> Image.Image:
    """The pixels alone, turned as the camera was held, at most 2,000 on the longer side."""
    try:
        with Image.open(file, formats=FORMATS) as opened:
            _check_size(opened)
            # A JPEG this large is decoded at a half or a quarter at once, which is faster and takes less memory.
            opened.draft("RGB", (LONGEST_SIDE, LONGEST_SIDE))
            opened.load()
            return _pixels(opened)
    except PhotoError:
        raise
    except UnidentifiedImageError:
        raise PhotoError(f"must be a {NAMES} file, whatever it is called", "something else") from None
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise PhotoError(f"must have at most {MOST_PIXELS // 1_000_000} million pixels", "many more") from None
    except (OSError, SyntaxError, ValueError, EOFError, RuntimeError, MemoryError, Warning):
        raise PhotoError("must be whole", "a file that is cut off or damaged") from None


def _check_size(opened: Image.Image) -> None:
    width, height = opened.size
    if width * height > MOST_PIXELS:
        said = f"must have at most {MOST_PIXELS // 1_000_000} million pixels"
        raise PhotoError(said, f"{width:,} × {height:,}")
    if min(width, height) < LEAST_SIDE:
        raise PhotoError(f"must be at least {LEAST_SIDE} pixels wide and high", f"{width:,} × {height:,}")


def _pixels(opened: Image.Image) -> Image.Image:
    turned = ImageOps.exif_transpose(opened)
    turned.thumbnail((LONGEST_SIDE, LONGEST_SIDE), Image.Resampling.LANCZOS)
    if "A" in turned.getbands() or "transparency" in turned.info:
        paper = Image.new("RGBA", turned.size, "#ffffff")
        paper.alpha_composite(turned.convert("RGBA"))
        turned = paper
    plain = turned.convert("RGB")
    # A new image knows nothing of where the old one was taken.
    clean = Image.new("RGB", plain.size)
    clean.paste(plain)
    return clean


def _jpeg(picture: Image.Image, quality: int) -> bytes:
    written = io.BytesIO()
    picture.save(written, "JPEG", quality=quality, optimize=True, progressive=True)
    return written.getvalue()
