"""What two programs hand each other over a socket: a head, and parts of bytes, each after its length."""

import socket
import struct
from collections.abc import Sequence
from time import monotonic

LONGEST = 256 * 1024 * 1024
"""Bytes of one parcel; a longer one is no parcel of ours."""
_MOST_PARTS = 10_000
_LENGTH = struct.Struct(">Q")


def write_parcel(line: socket.socket, head: bytes, parts: Sequence[bytes], *, until: float | None = None) -> None:
    """Send one; `until` is a moment of `time.monotonic`. Raises TimeoutError, OSError."""
    lengths = [_LENGTH.pack(len(part)) for part in (head, *parts)]
    _within(line, until)
    line.sendall(b"".join([_LENGTH.pack(len(lengths)), *lengths]))
    for part in (head, *parts):
        _within(line, until)
        line.sendall(part)


def read_parcel(line: socket.socket, *, until: float | None = None) -> tuple[bytes, list[bytes]] | None:
    """Receive one; None where the other side has ended in between. Raises TimeoutError, EOFError, OSError."""
    begun = _read(line, _LENGTH.size, until, may_end=True)
    if not begun:
        return None
    (count,) = _LENGTH.unpack(begun)
    if not 1 <= count <= _MOST_PARTS:
        raise EOFError(f"{count} parts are no parcel")
    lengths = [_LENGTH.unpack(_read(line, _LENGTH.size, until))[0] for _ in range(count)]
    if sum(lengths) > LONGEST:
        raise EOFError(f"{sum(lengths)} bytes are no parcel")
    head, *parts = [_read(line, length, until) for length in lengths]
    return head, parts


def _read(line: socket.socket, length: int, until: float | None, *, may_end: bool = False) -> bytes:
    found = bytearray()
    while len(found) < length:
        _within(line, until)
        piece = line.recv(min(length - len(found), 1 << 20))
        if not piece:
            if may_end and not found:
                return b""
            raise EOFError("the other side ended half-way")
        found += piece
    return bytes(found)


def _within(line: socket.socket, until: float | None) -> None:
    if until is None:
        return
    left = until - monotonic()
    if left <= 0:
        raise TimeoutError
    line.settimeout(left)
