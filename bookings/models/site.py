"""The place a job goes to as whoever stands in it finds it, who took responsibility for what, and the strike."""

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from bookings.access import Access
from bookings.models.jobs import Booking


def _length(name: str) -> "models.DecimalField[None, None]":
    return models.DecimalField(name, max_digits=10, decimal_places=4, null=True, blank=True)


class PlaceQuerySet(models.QuerySet["Place"]):
    """Places asked for by the job they are of."""

    def of(self, booking: Booking) -> "Place":
        """What is written down of a booking's place, or an unsaved one that says nothing; asked for once."""
        return getattr(booking, "its_place", None) or Place(booking=booking)


class Place(models.Model):
    """The place of a booking: how to get in, whom to ask, what may be hung from, what stays clear.

    An empty word means that nobody has looked or asked yet. `ratings` has, by a piece's key, how many points it had
    and what each of them is rated for in grams: {"12": {"points": 5, "grams": {"3": 900}}}.
    """

    class Sprinklers(models.TextChoices):
        UNKNOWN = "", "Nobody has looked"
        NONE = "none", "There are none"
        SOME = "some", "There are some"

    class Exits(models.TextChoices):
        UNKNOWN = "", "Nobody has looked"
        CLEAR = "clear", "They stay clear"
        CROSSED = "crossed", "Something stands in the way"

    class Latex(models.TextChoices):
        UNKNOWN = "", "Nobody has asked"
        NONE = "none", "Asked: nobody is"
        SOME = "some", "Somebody is, or the venue refuses latex"

    booking = models.OneToOneField(Booking, on_delete=models.CASCADE, related_name="its_place")
    address = models.TextField(max_length=400, blank=True)
    contact_name = models.CharField("contact on the day", max_length=120, blank=True)
    contact_phone = models.CharField(max_length=40, blank=True)
    access_from = models.TimeField(null=True, blank=True)
    access_until = models.TimeField(null=True, blank=True)
    out_from = models.TimeField("may be taken down from", null=True, blank=True)
    out_by = models.TimeField("everything out by", null=True, blank=True)
    access_notes = models.TextField("how to get in", max_length=1000, blank=True)
    parking = models.CharField(max_length=300, blank=True)
    ceiling_notes = models.TextField("ceiling, sprinklers and exits", max_length=1000, blank=True)
    sprinklers = models.CharField(max_length=4, choices=Sprinklers.choices, blank=True)
    sprinkler_gap_mm = _length("clear below the sprinklers")
    exits = models.CharField(max_length=7, choices=Exits.choices, blank=True)
    latex = models.CharField(max_length=4, choices=Latex.choices, blank=True)
    point_grams = models.PositiveIntegerField(
        "what a point is rated for", null=True, blank=True, validators=[MinValueValidator(1)]
    )
    ratings = models.JSONField(default=dict, blank=True)
    ballast_grams = models.PositiveIntegerField("ballast on each base", null=True, blank=True)
    room_length_mm = _length("length of the room")
    room_width_mm = _length("width of the room")
    room_height_mm = _length("height of the room")
    photos_wanted = models.TextField(max_length=1000, blank=True)

    objects = PlaceQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(sprinklers__in=["", "none", "some"]), name="sprinklers_are_in_a_word"),
            models.CheckConstraint(condition=Q(exits__in=["", "clear", "crossed"]), name="exits_are_in_a_word"),
            models.CheckConstraint(condition=Q(latex__in=["", "none", "some"]), name="latex_is_in_a_word"),
            models.CheckConstraint(
                condition=Q(point_grams__isnull=True) | Q(point_grams__gte=1), name="a_rated_point_holds_something"
            ),
            models.CheckConstraint(
                condition=(Q(room_length_mm__isnull=True) | Q(room_length_mm__gt=0))
                & (Q(room_width_mm__isnull=True) | Q(room_width_mm__gt=0))
                & (Q(room_height_mm__isnull=True) | Q(room_height_mm__gt=0)),
                name="a_room_has_some_size",
            ),
        ]

    def __str__(self) -> str:
        return f"place of booking {self.booking_id}"

    @property
    def access(self) -> Access:
        """Its hours, as install and strike are placed within them."""
        return Access(self.access_from, self.access_until, self.out_from, self.out_by)


class Acknowledgement(models.Model):
    """Somebody knows that a check of the site is not met, and goes ahead. Never edited, never deleted.

    It keeps the sentence as it was. `stamp` is of the figures behind it: once they change it stands for nothing.
    """

    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, related_name="acknowledgements")
    key = models.CharField(max_length=40, help_text="Which check.")
    state = models.CharField(max_length=9)
    sentence = models.TextField(max_length=1000)
    source = models.CharField(max_length=400)
    stamp = models.CharField(max_length=32)
    name = models.CharField(max_length=120, help_text="As they typed it.")
    reason = models.CharField(max_length=400)
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = [
            models.CheckConstraint(condition=~Q(name="") & ~Q(reason=""), name="who_goes_ahead_says_who_and_why"),
            models.UniqueConstraint(fields=["booking", "key", "stamp"], name="a_check_is_acknowledged_once"),
        ]

    def __str__(self) -> str:
        return f"{self.name}: {self.sentence}"


class StrikeQuerySet(models.QuerySet["Strike"]):
    """Strikes asked for by the job they are of."""

    def of(self, booking: Booking) -> "Strike":
        """How a booking is taken down, or an unsaved one that says nothing; asked for once."""
        return getattr(booking, "its_strike", None) or Strike(booking=booking)


class Strike(models.Model):
    """Taking a job down: how many do it, who, and what is particular about it. When is the booking’s to say."""

    booking = models.OneToOneField(Booking, on_delete=models.CASCADE, related_name="its_strike")
    people = models.PositiveSmallIntegerField(
        null=True, blank=True, validators=[MinValueValidator(1), MaxValueValidator(12)]
    )
    who = models.CharField(max_length=200, blank=True)
    notes = models.TextField(max_length=1000, blank=True)

    objects = StrikeQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(people__isnull=True) | Q(people__gte=1, people__lte=12), name="somebody_strikes_it"
            ),
        ]

    def __str__(self) -> str:
        return f"strike of booking {self.booking_id}"
