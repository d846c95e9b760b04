"""The token in a client's link: derived from a key, so that only its hash has to be stored.

A copy of the database holds each link's salt and the hash of its token, and opens nothing without the key. The owner
can still be shown the link again, because the token is made anew from the salt. A new salt is a new link.
"""

import base64
import hashlib
import hmac
import secrets

_TOKEN_BYTES = 24  # 192 bits: 32 characters, none of them guessable.


def new_salt() -> str:
    """192 random bits, as 32 characters."""
    return secrets.token_urlsafe(_TOKEN_BYTES)


def token_for(salt: str, *, key: str, opens: str = "quote") -> str:
    """The token of the link with this salt: HMAC-SHA-256 under the studio's key, cut to 192 bits.

    `opens` says what it is for, so that a token of one sort is never one of another.
    """
    digest = hmac.new(key.encode(), f"{opens} link {salt}".encode(), hashlib.sha256).digest()
    return base64.urlsafe_b64encode(digest[:_TOKEN_BYTES]).decode()


def calendar_uid(booking: int, part: str, *, key: str) -> str:
    """What a part of a job is known by in every calendar, for good (RFC 5545, section 3.8.4.7)."""
    digest = hmac.new(key.encode(), f"calendar entry {booking}".encode(), hashlib.sha256).hexdigest()
    return f"{digest[:32]}-{part}@garlandry"


def hash_of(token: str) -> str:
    """What is stored and looked up. A search by hash compares no secret, so it leaks none by its timing."""
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()
