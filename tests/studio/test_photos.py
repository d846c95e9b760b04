"""Photos as phones, scanners and ill will send them: what is kept, and what is refused."""

import io
import resource
import struct
import time
import zipfile
import zlib
from typing import Any

import pytest
from PIL import Image, ImageFile

from studio.photos import LONGEST_SIDE, MOST_BYTES, PICTURE_BYTES, PICTURE_SIDE, PhotoError, clean_photo

GPS, ORIENTATION, MAKE = 0x8825, 0x0112, 0x010F
SECRETS = (b"Exif", b"GPS", b"Acme Phones", b"<x:xmpmeta", b"8BIM", b"Photoshop", b"secret-profile", b"PK\x03\x04")
"""What a picture may carry besides its pixels."""


def exif(orientation: int = 1) -> bytes:
    written = Image.Exif()
    written[ORIENTATION] = orientation
    written[MAKE] = "Acme Phones"
    place = written.get_ifd(GPS)
    place[1], place[2], place[3], place[4] = "N", (51.0, 30.0, 26.0), "W", (0.0, 7.0, 39.0)
    return written.tobytes()


def half_red(width: int = 640, height: int = 480) -> Image.Image:
    """Red above, blue below: its upside is told at a glance."""
    picture = Image.new("RGB", (width, height), "#2040d0")
    picture.paste("#d02020", (0, 0, width, height // 2))
    return picture


def written(picture: Image.Image, kind: str, **options: object) -> bytes:
    out = io.BytesIO()
    picture.save(out, kind, **options)
    return out.getvalue()


def cleaned(content: bytes):
    return clean_photo(io.BytesIO(content), len(content))


def refusal(content: bytes) -> str:
    with pytest.raises(PhotoError) as caught:
        cleaned(content)
    return str(caught.value)


def opened(content: bytes) -> Image.Image:
    return Image.open(io.BytesIO(content))


def is_red(colour: Any) -> bool:
    return colour[0] > 150 and colour[2] < 100


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF"])
def test_every_format_phones_send_becomes_a_plain_jpeg(kind):
    photo = cleaned(written(half_red(), kind))
    picture = opened(photo.full)
    assert picture.format == "JPEG"
    assert picture.size == (photo.width, photo.height) == (640, 480)
    assert is_red(picture.getpixel((320, 100)))


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF"])
def test_nothing_but_the_picture_is_kept(kind):
    photo = cleaned(written(half_red(), kind, exif=exif()))
    for kept in (photo.full, photo.picture):
        assert not opened(kept).getexif()
        assert not any(secret in kept for secret in SECRETS)
        assert set(opened(kept).info) <= {
            "jfif",
            "jfif_version",
            "jfif_unit",
            "jfif_density",
            "progressive",
            "progression",
        }


def test_profiles_and_captions_in_other_segments_go_too():
    marked = written(
        half_red(), "JPEG", icc_profile=b"secret-profile" * 20, xmp=b"<x:xmpmeta>51.5N</x:xmpmeta>", comment=b"8BIM"
    )
    photo = cleaned(marked)
    assert any(secret in marked for secret in SECRETS)
    assert not any(secret in photo.full for secret in SECRETS)


@pytest.mark.parametrize(
    ("orientation", "size", "red_at"),
    [
        pytest.param(1, (640, 480), (320, 100), id="as-it-is"),
        pytest.param(3, (640, 480), (320, 380), id="upside-down"),
        pytest.param(6, (480, 640), (380, 320), id="held-upright"),
        pytest.param(8, (480, 640), (100, 320), id="held-upright-the-other-way"),
    ],
)
def test_a_photo_is_turned_as_the_camera_was_held(orientation, size, red_at):
    photo = cleaned(written(half_red(), "JPEG", exif=exif(orientation)))
    assert opened(photo.full).size == opened(photo.picture).size == size
    assert is_red(opened(photo.full).getpixel(red_at))


def test_a_large_photo_is_shrunk_twice():
    photo = cleaned(written(half_red(4000, 3000), "JPEG"))
    assert (photo.width, photo.height) == (LONGEST_SIDE, 1500)
    assert max(opened(photo.picture).size) == PICTURE_SIDE


def test_the_picture_in_a_quote_stays_small_however_busy_the_photo():
    noise = Image.effect_noise((1600, 1200), 90).convert("RGB")
    photo = cleaned(written(noise, "JPEG", quality=95))
    assert len(photo.picture) <= PICTURE_BYTES


def test_what_is_see_through_is_shown_on_white():
    glass = Image.new("RGBA", (300, 300), (200, 0, 0, 0))
    assert opened(cleaned(written(glass, "PNG")).full).getpixel((150, 150)) == (255, 255, 255)


def test_a_file_hidden_behind_the_picture_is_left_behind():
    archive = io.BytesIO()
    with zipfile.ZipFile(archive, "w") as bundle:
        bundle.writestr("run.sh", "echo hello")
    photo = cleaned(written(half_red(), "JPEG") + archive.getvalue())
    assert not zipfile.is_zipfile(io.BytesIO(photo.full))
    assert b"run.sh" not in photo.full + photo.picture


def test_a_page_hidden_in_a_comment_is_left_behind():
    photo = cleaned(written(half_red(), "JPEG", comment=b"<script>alert(1)</script>"))
    assert b"<script" not in photo.full + photo.picture


def png_of(width: int, height: int) -> bytes:
    """A tiny file that says it is huge: one bit a pixel, all of them the same."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))

    packer = zlib.compressobj(9)
    row = b"\0" * (1 + (width + 7) // 8)
    pixels = b"".join(packer.compress(row) for _ in range(height)) + packer.flush()
    header = struct.pack(">IIBBBBB", width, height, 1, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", header) + chunk(b"IDAT", pixels) + chunk(b"IEND", b"")


@pytest.mark.parametrize("side", [12_000, 20_000])
def test_a_bomb_is_refused_before_it_is_unpacked(side):
    bomb = png_of(side, side)
    assert len(bomb) < 60_000
    before, started = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss, time.process_time()
    assert "at most 40 million pixels" in refusal(bomb)
    assert time.process_time() - started < 0.5
    assert resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before < 20_000


BUSY = Image.effect_noise((640, 480), 90).convert("RGB")


def archive() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as bundle:
        bundle.writestr("photo.jpg", written(half_red(), "JPEG"))
    return out.getvalue()


@pytest.mark.parametrize(
    ("content", "said"),
    [
        pytest.param(b"", "must hold a picture (got an empty file)", id="empty"),
        pytest.param(b"<svg xmlns='http://www.w3.org/2000/svg'><script/></svg>", "must be a JPEG, PNG", id="svg"),
        pytest.param(b"%PDF-1.7\n", "must be a JPEG, PNG", id="pdf"),
        pytest.param(b"<html><body>", "must be a JPEG, PNG", id="page"),
        pytest.param(archive(), "must be a JPEG, PNG", id="picture-in-a-zip"),
        pytest.param(written(half_red(), "GIF"), "must be a JPEG, PNG", id="gif"),
        pytest.param(written(half_red(), "TIFF"), "must be a JPEG, PNG", id="tiff"),
        pytest.param(b"\xff\xd8\xff\xe0", "must be", id="four-bytes"),
        pytest.param(written(half_red(), "JPEG")[:3000], "must be whole", id="jpeg-cut-off"),
        pytest.param(written(half_red(), "PNG")[:400], "must be whole", id="png-cut-off"),
        pytest.param(written(BUSY, "HEIF")[:9000], "must be", id="heic-cut-off"),
        pytest.param(written(half_red(), "WEBP")[:100], "must be", id="webp-cut-off"),
        pytest.param(written(half_red(90, 60), "JPEG"), "at least 200 pixels wide and high (got 90 × 60)", id="tiny"),
        pytest.param(written(half_red(8000, 5100), "PNG"), "at most 40 million pixels (got 8,000 × 5,100)", id="41-MP"),
    ],
)
def test_what_is_no_usable_photo_is_refused_in_a_sentence(content, said):
    sentence = refusal(content)
    assert said in sentence
    assert sentence.startswith("Photo must")


def test_a_photo_cut_off_is_refused_where_the_maker_of_pdfs_lets_it_pass(monkeypatch):
    monkeypatch.setattr(ImageFile, "LOAD_TRUNCATED_IMAGES", True)
    assert "must be whole" in refusal(written(half_red(), "JPEG")[:3000])
    assert ImageFile.LOAD_TRUNCATED_IMAGES


def test_a_photo_over_25_megabytes_is_refused_by_its_size():
    with pytest.raises(PhotoError, match=r"must be at most 25 MB \(got 25\.0 MB\)"):
        clean_photo(io.BytesIO(b"x"), MOST_BYTES + 1)


def test_the_pixels_do_not_depend_on_what_was_removed():
    plain, marked = cleaned(written(half_red(), "JPEG")), cleaned(written(half_red(), "JPEG", exif=exif()))
    assert plain.full == marked.full
