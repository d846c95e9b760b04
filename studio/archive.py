"""The file a backup is: a tar that any tar reads, then one line with the SHA-256 of every byte before it.

Inside are `manifest.json`, the database, and the keys. A file that is short, cut or changed by a single bit is refused
before anything in it is looked at.
"""

import hashlib
import io
import json
import os
import re
import tarfile
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import IO, Any

FORMAT = 1
MANIFEST = "manifest.json"
SQLITE = "garlandry.sqlite3"
POSTGRESQL = "garlandry.pgdump"
KEYS = ("secret.key", "link.key")
MEMBERS = (MANIFEST, SQLITE, POSTGRESQL, *KEYS)
NAME = re.compile(r"garlandry-\d{8}T\d{6}Z(-\d+)?\.tar")

_SEAL = re.compile(rb"sha256 ([0-9a-f]{64})\n")
_SEAL_LENGTH = len(b"sha256 ") + 64 + 1
_AT_ONCE = 1 << 20
_LONGEST_MANIFEST = 8 << 20


class ArchiveRefused(Exception):
    """This is no whole backup; the message is a sentence that says what is wrong with it."""


@dataclass(frozen=True)
class Archive:
    """A backup that was found whole: where it is, what its manifest says, and where each member begins in it."""

    path: Path
    manifest: dict[str, Any]
    places: Mapping[str, tuple[int, int]]

    @property
    def made_at(self) -> datetime:
        """When it was made."""
        return datetime.fromisoformat(self.manifest["made_at"])

    @property
    def database(self) -> str:
        """The member that is the database."""
        return POSTGRESQL if POSTGRESQL in self.places else SQLITE

    def take_out(self, member: str, to: Path) -> None:
        """Write one member to a file nobody else can read, safe on the disk. Raises ArchiveRefused, OSError."""
        begins, length = self.places[member]
        found, left = hashlib.sha256(), length
        with self.path.open("rb") as source, _private(to) as target:
            source.seek(begins)
            while left:
                piece = source.read(min(_AT_ONCE, left))
                if not piece:
                    raise ArchiveRefused(f"{self.path.name} became shorter while it was read.")
                found.update(piece)
                target.write(piece)
                left -= len(piece)
            flush_to_disk(target)
        if found.hexdigest() != self.manifest["files"][member]["sha256"]:
            raise ArchiveRefused(f"{member} in {self.path.name} is not what was backed up.")


def name_of(at: datetime) -> str:
    """What a backup made at a moment is called, by the time in UTC: garlandry-20260601T120000Z.tar."""
    return f"garlandry-{at.astimezone(UTC):%Y%m%dT%H%M%SZ}.tar"


def write_archive(to: Path, *, manifest: Mapping[str, Any], files: Mapping[str, Path]) -> None:
    """Write a whole backup and see it safe on the disk. The manifest gets the size and SHA-256 of each file.

    Raises OSError; what was written of `to` is then for the caller to clear away.
    """
    at = int(datetime.fromisoformat(manifest["made_at"]).timestamp())
    told = {name: {"bytes": path.stat().st_size, "sha256": sha256_of(path)} for name, path in files.items()}
    said = json.dumps({**manifest, "files": told}, ensure_ascii=False, indent=1, sort_keys=True).encode()
    with _private(to) as raw:
        sealing = _Sealing(raw)
        with tarfile.open(  # type: ignore[call-overload]
            fileobj=sealing, mode="w|", format=tarfile.GNU_FORMAT, bufsize=_AT_ONCE, copybufsize=_AT_ONCE
        ) as tar:
            _add(tar, MANIFEST, io.BytesIO(said), len(said), at)
            for name, path in files.items():
                with path.open("rb") as content:
                    _add(tar, name, content, path.stat().st_size, at)
        raw.write(b"sha256 " + sealing.found.hexdigest().encode() + b"\n")
        flush_to_disk(raw)


def read_archive(path: Path) -> Archive:
    """Read every byte of a backup and say what is in it. Raises ArchiveRefused, OSError."""
    _check_seal(path)
    places: dict[str, tuple[int, int]] = {}
    try:
        with tarfile.open(path, mode="r:") as tar:
            for member in tar:
                if member.name not in MEMBERS or member.name in places or not member.isreg():
                    raise ArchiveRefused(f"{path.name} holds {member.name!r}, which is no part of a backup.")
                places[member.name] = (member.offset_data, member.size)
        manifest = _manifest_in(path, places)
    except (tarfile.TarError, ValueError, KeyError, TypeError) as error:
        raise ArchiveRefused(f"{path.name} is not a backup of Garlandry ({error}).") from error
    if manifest["format"] > FORMAT:
        raise ArchiveRefused(
            f"{path.name} was made by a newer Garlandry (format {manifest['format']}; this one reads {FORMAT})."
        )
    if set(places) != {MANIFEST, *manifest["files"]} or len({SQLITE, POSTGRESQL} & set(places)) != 1:
        raise ArchiveRefused(f"{path.name} does not hold what its manifest says.")
    return Archive(path, manifest, places)


def sha256_of(path: Path) -> str:
    """The SHA-256 of a file."""
    with path.open("rb") as file:
        return hashlib.file_digest(file, "sha256").hexdigest()


def flush_to_disk(file: IO[bytes]) -> None:
    """Wait until what was written is safe from a power cut, and have it read from the disk the next time."""
    file.flush()
    os.fsync(file.fileno())
    os.posix_fadvise(file.fileno(), 0, 0, os.POSIX_FADV_DONTNEED)


def flush_folder(folder: Path) -> None:
    """Wait until the names in a folder are safe from a power cut."""
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


class _Sealing:
    """Passes on what is written, and adds it up."""

    def __init__(self, to: IO[bytes]) -> None:
        self._to = to
        self.found = hashlib.sha256()

    def write(self, piece: bytes) -> int:
        self.found.update(piece)
        return self._to.write(piece)


def _private(path: Path) -> IO[bytes]:
    """A new file that only its owner can read."""
    return os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC, 0o600), "wb")


def _add(tar: tarfile.TarFile, name: str, content: IO[bytes], length: int, at: int) -> None:
    entry = tarfile.TarInfo(name)
    entry.size, entry.mtime, entry.mode = length, at, 0o600
    tar.addfile(entry, content)


def _check_seal(path: Path) -> None:
    length = path.stat().st_size - _SEAL_LENGTH
    found = hashlib.sha256()
    with path.open("rb") as file:
        left = length
        while left > 0:
            piece = file.read(min(_AT_ONCE, left))
            if not piece:
                break
            found.update(piece)
            left -= len(piece)
        seal = _SEAL.fullmatch(file.read()) if length > 0 else None
    if seal is None:
        raise ArchiveRefused(f"{path.name} is no whole backup of Garlandry: its last line is missing or damaged.")
    if seal[1].decode() != found.hexdigest():
        raise ArchiveRefused(f"{path.name} is damaged: what is in it is not what was written.")


def _manifest_in(path: Path, places: Mapping[str, tuple[int, int]]) -> dict[str, Any]:
    begins, length = places[MANIFEST]
    if length > _LONGEST_MANIFEST:
        raise ArchiveRefused(f"{path.name} has a manifest of {length:,} bytes; {_LONGEST_MANIFEST:,} are the most.")
    with path.open("rb") as file:
        file.seek(begins)
        manifest: dict[str, Any] = json.loads(file.read(length))
    for name in ("format", "made_at", "files", "tables", "schema"):
        if name not in manifest:
            raise KeyError(f"no {name}")
    for name, told in manifest["files"].items():
        if name not in places or places[name][1] != told["bytes"]:
            raise ValueError(f"{name} is missing or of another length")
    return manifest
