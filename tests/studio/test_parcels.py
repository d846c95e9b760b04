"""What two programs hand each other: whole, or not at all."""

import socket
import struct
import threading
import time

import pytest

from studio.parcels import LONGEST, read_parcel, write_parcel


@pytest.fixture
def line():
    """Both ends of a line."""
    here, there = socket.socketpair()
    with here, there:
        yield here, there


def numbers(*given: int) -> bytes:
    """Lengths as they are written."""
    return b"".join(struct.pack(">Q", number) for number in given)


@pytest.mark.parametrize(
    "parts",
    [
        pytest.param([], id="a head alone"),
        pytest.param([b""], id="an empty part"),
        pytest.param([b"a", b"\0" * 3_000_000], id="more than the line holds at once"),
    ],
)
def test_what_is_sent_arrives(line, parts):
    here, there = line
    sending = threading.Thread(target=write_parcel, args=(here, b"head", parts))
    sending.start()
    assert read_parcel(there) == (b"head", parts)
    sending.join()


def test_an_end_in_between_is_no_parcel(line):
    here, there = line
    here.close()
    assert read_parcel(there) is None


@pytest.mark.parametrize(
    "sent",
    [
        pytest.param(b"abc", id="a piece of a length"),
        pytest.param(numbers(1, 9) + b"half", id="half a part"),
        pytest.param(numbers(0), id="no part at all"),
        pytest.param(numbers(2**40), id="more parts than there can be"),
        pytest.param(numbers(1, LONGEST + 1), id="longer than one may be"),
        pytest.param(numbers(2, LONGEST, 1), id="longer together than one may be"),
    ],
)
def test_what_is_no_whole_parcel_is_refused(line, sent):
    here, there = line
    here.sendall(sent)
    here.close()
    with pytest.raises(EOFError):
        read_parcel(there)


def test_nobody_waits_longer_than_was_said(line):
    begun = time.monotonic()
    with pytest.raises(TimeoutError):
        read_parcel(line[0], until=begun + 0.1)
    with pytest.raises(TimeoutError):
        write_parcel(line[0], b"x" * 10_000_000, [], until=time.monotonic() + 0.1)
    assert time.monotonic() - begun < 60
