"""Guessing a password is slow: ten wrong tries in a quarter of an hour, per user name and address.

The tries are kept in the database, so that a restart or a second process forgets none. Another address has tries
of its own: somebody guessing an owner's password does not lock the owner out.
"""

import datetime as dt

from django.db import transaction
from django.utils.crypto import salted_hmac

from studio.models import SignInAttempt

MOST_TRIES = 10
WINDOW = dt.timedelta(minutes=15)


class TooManyTries(Exception):
    """No more tries for now: `wait` is how long until the next one counts again."""

    def __init__(self, wait: dt.timedelta) -> None:
        self.wait = wait
        super().__init__("Too many tries.")

    @property
    def minutes(self) -> int:
        """The wait in whole minutes, at least one."""
        return max(-(-int(self.wait.total_seconds()) // 60), 1)


def key_for(username: str, address: str) -> str:
    """The key tries are counted under; upper and lower case are one user name."""
    return salted_hmac("studio.throttle", f"{username.casefold()}\n{address}", algorithm="sha256").hexdigest()


@transaction.atomic
def count_try(*, key: str, at: dt.datetime) -> None:
    """Write one more try down before the password is looked at; raises `TooManyTries` instead of the eleventh.

    Counting first means that many tries sent at the same instant are counted one after another.
    """
    SignInAttempt.objects.filter(at__lte=at - WINDOW).delete()
    earlier = list(SignInAttempt.objects.filter(key=key).order_by("at").values_list("at", flat=True))
    if len(earlier) >= MOST_TRIES:
        raise TooManyTries(earlier[len(earlier) - MOST_TRIES] + WINDOW - at)
    SignInAttempt.objects.create(key=key, at=at)


@transaction.atomic
def forget_tries(*, key: str) -> None:
    """They got in: earlier slips no longer count."""
    SignInAttempt.objects.filter(key=key).delete()
