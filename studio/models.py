"""The people who work here, the studio itself, the forms already answered, the letters on their way out."""

from zoneinfo import ZoneInfo, available_timezones

from django.conf import settings
from django.contrib.auth.models import AbstractUser
from django.core.exceptions import ValidationError
from django.db import models
from django.utils import timezone

from studio.units import PlainUnit, System


class User(AbstractUser):
    """Somebody of the studio: an owner, who sees prices and commits the studio, or crew, who do neither."""

    class Role(models.TextChoices):
        OWNER = "owner", "Owner"
        CREW = "crew", "Crew"

    role = models.CharField(max_length=5, choices=Role.choices, default=Role.CREW)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=models.Q(role__in=["owner", "crew"]), name="user_role_is_known"),
        ]

    @property
    def is_owner(self) -> bool:
        """Whether this person may see prices and change what the studio promises."""
        return self.role == self.Role.OWNER

    @property
    def shown_name(self) -> str:
        """The name to greet them by: what they are called, else how they sign in."""
        return self.first_name or self.username

    @property
    def initials(self) -> str:
        """One or two letters for the disc in the page's corner."""
        words = self.get_full_name().split() or [self.username]
        return "".join(word[0] for word in words[:2]).upper()


def check_time_zone(name: str) -> None:
    """Refuse a zone the machine does not know."""
    if name not in available_timezones():
        raise ValidationError(f"Time zone must be a name such as Europe/Lisbon (got “{name}”).")


class StudioQuerySet(models.QuerySet["Studio"]):
    """The one studio this installation belongs to."""

    def current(self) -> "Studio":
        """The studio, or an unsaved one with the defaults before it has been set up."""
        return self.filter(pk=1).first() or Studio(pk=1)


class Studio(models.Model):
    """What a client reads on a quote, and how this studio counts and measures. There is exactly one row."""

    class Measures(models.TextChoices):
        IMPERIAL = "imperial", "Feet and inches"
        METRIC = "metric", "Metres"

    name = models.CharField(max_length=120, default="My studio")
    email = models.EmailField(blank=True)
    phone = models.CharField(max_length=40, blank=True)
    address = models.CharField(max_length=200, blank=True)
    currency = models.CharField(max_length=3, default="USD", help_text="The three letters of ISO 4217.")
    measures = models.CharField(max_length=8, choices=Measures.choices, default=Measures.IMPERIAL)
    time_zone = models.CharField(max_length=60, default="UTC", validators=[check_time_zone])
    terms = models.TextField(
        max_length=4000,
        default="The deposit holds your date. The balance is due a week before the event. "
        "Moving the date is free up to two weeks before, if we are free.",
        help_text="Printed on every quote. A quote keeps the terms it was sent with.",
    )
    quote_days = models.PositiveSmallIntegerField(
        "days a quote stays open", default=14, help_text="After that the client is asked to write to you."
    )

    accent = models.CharField("colour of your own", max_length=7, blank=True, help_text="As #rrggbb; empty: plum.")

    objects = StudioQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=models.Q(pk=1), name="there_is_one_studio"),
            models.CheckConstraint(
                condition=models.Q(quote_days__gte=1, quote_days__lte=365),
                name="a_quote_is_open_1_to_365_days",
            ),
        ]

    def __str__(self) -> str:
        return self.name

    @property
    def zone(self) -> ZoneInfo:
        """The zone its days begin and end in."""
        return ZoneInfo(self.time_zone)

    @property
    def system(self) -> System:
        """How lengths are shown."""
        return "metric" if self.measures == self.Measures.METRIC else "imperial"

    @property
    def plain_number_is(self) -> PlainUnit:
        """The unit meant by a length typed as a bare number."""
        return "ft" if self.measures == self.Measures.IMPERIAL else "m"


class Submission(models.Model):
    """A form that has been acted on: its key, what it said, and where the answer is.

    The key is made when the form is shown. Sending the same form twice finds this row and leads to the same
    answer, so a second tap does nothing a second time.
    """

    key = models.UUIDField(unique=True)
    digest = models.CharField(max_length=64)
    answer = models.CharField(max_length=300, blank=True)
    at = models.DateTimeField(default=timezone.now)

    def __str__(self) -> str:
        return str(self.key)


class SignInAttempt(models.Model):
    """A try at signing in that has not succeeded, kept for a quarter of an hour to slow down guessing.

    The key is a keyed digest of the user name and the address it came from: neither can be read back.
    """

    key = models.CharField(max_length=64)
    at = models.DateTimeField()

    class Meta:
        indexes = [models.Index(fields=["key", "at"], name="attempts_by_key_and_time")]

    def __str__(self) -> str:
        return f"attempt at {self.at}"


class OutgoingMail(models.Model):
    """A letter, from when it is written down until it is with the mail server. Its key makes sure there is one of it.

    `about` is a booking's number. The words hold {link} where the link goes: what it leads to is in `link_name`, and
    the link is made when it is sent, so that a copy of the database opens no quote.
    """

    class State(models.TextChoices):
        WAITING = "waiting", "waiting to be sent"
        SENDING = "sending", "being sent"
        SENT = "sent", "sent"
        KEPT = "kept", "not sent: no mail server is set"
        FAILED = "failed", "not sent"
        RETURNED = "returned", "came back"
        DROPPED = "dropped", "left unsent"

    key = models.CharField(max_length=120, unique=True)
    purpose = models.CharField(max_length=20)
    about = models.PositiveBigIntegerField(null=True, blank=True, db_index=True)
    to_address = models.CharField(max_length=254)
    to_name = models.CharField(max_length=60, blank=True)
    from_name = models.CharField(max_length=60)
    reply_to = models.CharField(max_length=254, blank=True)
    subject = models.CharField(max_length=160)
    text = models.TextField(max_length=8000)
    button = models.CharField(max_length=60, blank=True, help_text="What the link is called.")
    link_name = models.CharField(max_length=40, blank=True)
    base = models.CharField(max_length=200, blank=True, help_text="The site’s address, before the link’s path.")
    made_at = models.DateTimeField()
    made_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+"
    )
    due_at = models.DateTimeField(help_text="When sending is tried next.")
    state = models.CharField(max_length=8, choices=State.choices, default=State.WAITING)
    tries = models.PositiveSmallIntegerField(default=0)
    claimed_at = models.DateTimeField(null=True, blank=True)
    error = models.CharField(max_length=400, blank=True, help_text="What went wrong last.")
    message_id = models.CharField(max_length=320, blank=True)
    sent_at = models.DateTimeField(null=True, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(state__in=["waiting", "sending", "sent", "kept", "failed", "returned", "dropped"]),
                name="a_letter_is_in_a_known_state",
            ),
            models.CheckConstraint(
                condition=~models.Q(state="sent") | models.Q(sent_at__isnull=False), name="a_sent_letter_says_when"
            ),
        ]
        indexes = [models.Index(fields=["state", "due_at"], name="letters_by_state_and_time")]

    def __str__(self) -> str:
        return self.subject

    @property
    def needs_a_look(self) -> bool:
        """Whether somebody has to decide what becomes of it."""
        return self.state in (self.State.FAILED, self.State.RETURNED)

    @property
    def state_word(self) -> str:
        """How it stands, in a word or two for a list."""
        return "kept to copy" if self.state == self.State.KEPT else self.get_state_display()

    @property
    def badge(self) -> str:
        """The tint of its word."""
        troubled = {self.State.FAILED: "short", self.State.RETURNED: "short", self.State.KEPT: "waiting"}
        tints = {self.State.SENT: "covered", self.State.WAITING: "waiting", self.State.SENDING: "waiting"}
        return {**troubled, **tints}.get(self.State(self.state), "plain")
