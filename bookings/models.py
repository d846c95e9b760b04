"""Clients, and the life of a job: enquiry, quote, yes, done."""

from datetime import date, timedelta

from django.conf import settings
from django.core.validators import MaxValueValidator, MinValueValidator
from django.db import models
from django.db.models import Q

from stock.models import Item


class Client(models.Model):
    """Who pays. At least one of the name and the ways to reach them is known."""

    name = models.CharField(max_length=120, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)
    notes = models.TextField(max_length=4000, blank=True)

    class Meta:
        constraints = [
            models.CheckConstraint(condition=~Q(name="", phone="", email=""), name="a_client_has_a_name_or_a_contact"),
        ]

    def __str__(self) -> str:
        return self.shown_name

    @property
    def shown_name(self) -> str:
        """The name, or the contact where no name is known yet."""
        return self.name or self.phone or self.email


class BookingQuerySet(models.QuerySet["Booking"]):
    """Bookings asked for by where they stand."""

    def going_ahead(self) -> "BookingQuerySet":
        """Accepted and not yet done."""
        return self.filter(stage=Booking.Stage.BOOKED)

    def between(self, start: date, end: date) -> "BookingQuerySet":
        """With an event from `start` up to, not including, `end`."""
        return self.filter(event_on__gte=start, event_on__lt=end)


class Booking(models.Model):
    """One job for one client. Its number is its key."""

    class Stage(models.TextChoices):
        ENQUIRY = "enquiry", "enquiry"
        QUOTED = "quoted", "quoted"
        BOOKED = "booked", "booked"
        DONE = "done", "done"
        LOST = "lost", "lost"
        CANCELLED = "cancelled", "cancelled"

    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="bookings")
    title = models.CharField(max_length=120, blank=True)
    stage = models.CharField(max_length=9, choices=Stage.choices, default=Stage.ENQUIRY)
    event_on = models.DateField("event day", null=True, blank=True)
    date_text = models.CharField("date, as it was said", max_length=80, blank=True)
    needed_on = models.DateField("prep day", null=True, blank=True)
    ready_by = models.TimeField(null=True, blank=True)
    place = models.CharField(max_length=200, blank=True)
    wants = models.TextField("what they want", max_length=4000, blank=True)
    budget = models.CharField(max_length=60, blank=True)
    distance = models.PositiveIntegerField(
        default=0, help_text="One way, in miles or kilometres.", validators=[MaxValueValidator(2000)]
    )
    travel_minutes = models.PositiveIntegerField(default=0, help_text="One way.", validators=[MaxValueValidator(2880)])
    crew = models.PositiveSmallIntegerField(
        default=1, help_text="People on the job.", validators=[MinValueValidator(1), MaxValueValidator(12)]
    )
    hang_height_mm = models.DecimalField(
        "hanging height",
        max_digits=9,
        decimal_places=4,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(30_480)],
        help_text="Of the highest point, above the floor.",
    )
    altitude_mm = models.DecimalField(
        "height above the sea",
        max_digits=11,
        decimal_places=4,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(5_000_000)],
    )
    celsius = models.DecimalField(
        "temperature",
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(-40), MaxValueValidator(60)],
    )
    gusts_mph = models.DecimalField(
        "gusts expected",
        max_digits=4,
        decimal_places=1,
        null=True,
        blank=True,
        validators=[MinValueValidator(0), MaxValueValidator(250)],
    )
    hours_afloat = models.PositiveSmallIntegerField(
        "hours it must last",
        null=True,
        blank=True,
        validators=[MinValueValidator(1), MaxValueValidator(336)],
    )
    created_at = models.DateTimeField()
    created_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    objects = BookingQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=~Q(stage="booked") | Q(needed_on__isnull=False), name="a_booked_job_has_a_prep_day"
            ),
            models.CheckConstraint(
                condition=Q(needed_on__isnull=True) | Q(event_on__isnull=True) | Q(needed_on__lte=models.F("event_on")),
                name="prep_comes_no_later_than_the_event",
            ),
            models.CheckConstraint(condition=Q(crew__gte=1), name="somebody_is_on_the_job"),
        ]
        indexes = [models.Index(fields=["stage", "event_on"], name="booking_by_stage_and_day")]

    def __str__(self) -> str:
        return self.shown_title

    @property
    def shown_title(self) -> str:
        """What the job is called, or whose it is."""
        return self.title or self.client.shown_name

    @property
    def prep_day(self) -> date | None:
        """The prep day: as set, else the day before the event."""
        if self.needed_on is not None or self.event_on is None:
            return self.needed_on
        return self.event_on - timedelta(days=1)


class Piece(models.Model):
    """One thing to be made. The spec says what was asked; the layout is made from it."""

    booking = models.ForeignKey(Booking, on_delete=models.CASCADE, related_name="pieces")
    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=20)
    spec = models.JSONField()
    layout = models.JSONField()
    position = models.PositiveIntegerField(default=0)
    edition = models.PositiveIntegerField(default=1, help_text="Goes up at every change, to catch a stale form.")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["booking", "position"], name="pieces_stand_in_order"),
        ]

    def __str__(self) -> str:
        return self.name


class Photo(models.Model):
    """A photo of the place, as a JPEG we wrote ourselves. It lives in the database, so that one file is a backup.

    `name` is random and is its address; `picture` is the smaller one, for inside a drawing.
    """

    booking = models.ForeignKey(Booking, on_delete=models.CASCADE, related_name="photos")
    name = models.CharField(max_length=32, unique=True)
    full = models.BinaryField()
    picture = models.BinaryField()
    width = models.PositiveIntegerField(help_text="Of the full one, in pixels.")
    height = models.PositiveIntegerField(help_text="Of the full one, in pixels.")
    added_at = models.DateTimeField()
    added_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(width__gte=1, height__gte=1), name="a_photo_has_pixels"),
        ]

    def __str__(self) -> str:
        return f"Photo of {self.added_at:%d %b %Y, %H:%M}"


class Sketch(models.Model):
    """How a piece was drawn on a photo, or on a blank wall: what measures the wall, and the path, all in pixels.

    The piece's spec holds the path along the wall, in inches; this is what it was read from.
    """

    piece = models.OneToOneField(Piece, on_delete=models.CASCADE, related_name="sketch")
    photo = models.ForeignKey(Photo, on_delete=models.SET_NULL, null=True, blank=True, related_name="sketches")
    width = models.PositiveIntegerField(help_text="Of the photo or the blank wall, in pixels.")
    height = models.PositiveIntegerField(help_text="Of the photo or the blank wall, in pixels.")
    marks = models.JSONField(help_text="Two points a known length apart, or four corners of a known rectangle.")
    known = models.JSONField(help_text="The lengths of what is marked, in millimetres, and as they were typed.")
    path = models.JSONField(help_text="The garland's path as it was drawn.")

    class Meta:
        verbose_name_plural = "sketches"

    def __str__(self) -> str:
        return f"Sketch of {self.piece}"


class QuoteQuerySet(models.QuerySet["Quote"]):
    """Quotes asked for by whether they can still be accepted."""

    def open(self, today: date) -> "QuoteQuerySet":
        """Neither accepted, withdrawn, replaced nor past their last day."""
        return self.filter(
            acceptance__isnull=True,
            withdrawn_at__isnull=True,
            replaced_at__isnull=True,
            valid_until__gte=today,
        )


class Quote(models.Model):
    """A numbered, versioned offer, frozen when it is issued.

    Everything a client sees is in this row and its pieces: the database refuses to change it. Only what happens to
    the quote afterwards (withdrawn, replaced, a new link) is written later.
    """

    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, related_name="quotes")
    number = models.PositiveIntegerField()
    version = models.PositiveIntegerField()
    issued_at = models.DateTimeField()
    issued_by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")
    valid_until = models.DateField(help_text="The last day it can be accepted on.")
    needed_on = models.DateField(help_text="The prep day its materials are held for.")
    currency = models.CharField(max_length=3)
    price_minor = models.PositiveBigIntegerField()
    tax_minor = models.PositiveBigIntegerField()
    total_minor = models.PositiveBigIntegerField()
    deposit_minor = models.PositiveBigIntegerField()
    cost_minor = models.PositiveBigIntegerField()
    person_minutes = models.PositiveIntegerField()
    told = models.JSONField(help_text="What the client is told: title, day, place, terms, cautions, the studio.")
    reasons = models.JSONField(help_text="What the price is made of, for the owner.")
    changes = models.JSONField(default=list, help_text="What this version changed, in sentences.")
    pdf = models.BinaryField()
    pdf_sha256 = models.CharField(max_length=64)

    withdrawn_at = models.DateTimeField(null=True, blank=True)
    replaced_at = models.DateTimeField(null=True, blank=True)
    link_salt = models.CharField(max_length=43)
    link_hash = models.CharField(max_length=64, unique=True)

    objects = QuoteQuerySet.as_manager()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["number", "version"], name="a_quote_version_is_issued_once"),
            models.CheckConstraint(
                condition=Q(total_minor=models.F("price_minor") + models.F("tax_minor")),
                name="a_total_is_price_and_tax",
            ),
            models.CheckConstraint(
                condition=Q(deposit_minor__lte=models.F("total_minor")), name="a_deposit_is_part_of_the_total"
            ),
        ]

    def __str__(self) -> str:
        return f"Quote {self.number}, version {self.version}"


class QuotePiece(models.Model):
    """A piece as it was offered: its picture, its layout, its price."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="pieces")
    position = models.PositiveIntegerField()
    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=20)
    spec = models.JSONField()
    layout = models.JSONField()
    description = models.CharField(max_length=300)
    balloons = models.PositiveIntegerField()
    colours = models.JSONField(help_text="Name, swatch and ink of each colour, as they were.")
    price_minor = models.PositiveBigIntegerField()
    picture = models.TextField(help_text="The drawing, as SVG.")

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["quote", "position"], name="quoted_pieces_stand_in_order"),
        ]

    def __str__(self) -> str:
        return self.name


class QuoteMaterial(models.Model):
    """What a quote would take off the shelf: reserved as it stands when the client says yes."""

    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="materials")
    item = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="+")
    item_label = models.CharField(max_length=120)
    needed = models.PositiveIntegerField()
    spares = models.PositiveIntegerField()

    class Meta:
        constraints = [
            models.UniqueConstraint(fields=["quote", "item"], name="a_quote_lists_an_item_once"),
        ]

    def __str__(self) -> str:
        return self.item_label

    @property
    def total(self) -> int:
        """What is held: needed and spares."""
        return self.needed + self.spares


class QuoteOpening(models.Model):
    """Somebody followed the quote's link."""

    class What(models.TextChoices):
        PAGE = "page", "page"
        PDF = "pdf", "PDF"

    quote = models.ForeignKey(Quote, on_delete=models.CASCADE, related_name="openings")
    at = models.DateTimeField()
    what = models.CharField(max_length=4, choices=What.choices)

    def __str__(self) -> str:
        return f"{self.what} at {self.at}"


class Acceptance(models.Model):
    """The client's yes: who typed their name, when, and from where."""

    quote = models.OneToOneField(Quote, on_delete=models.PROTECT, related_name="acceptance")
    name = models.CharField(max_length=120)
    at = models.DateTimeField()
    address = models.GenericIPAddressField(null=True, blank=True)
    browser = models.CharField(max_length=300, blank=True)

    def __str__(self) -> str:
        return f"{self.name} at {self.at}"


class AmountDue(models.Model):
    """Money a booking owes the studio by a day."""

    class Kind(models.TextChoices):
        DEPOSIT = "deposit", "Deposit"
        BALANCE = "balance", "Balance"

    booking = models.ForeignKey(Booking, on_delete=models.PROTECT, related_name="amounts_due")
    quote = models.ForeignKey(Quote, on_delete=models.PROTECT, related_name="+")
    kind = models.CharField(max_length=7, choices=Kind.choices)
    amount_minor = models.PositiveBigIntegerField()
    due_on = models.DateField()
    void_at = models.DateTimeField(null=True, blank=True, help_text="When it stopped being owed.")

    class Meta:
        constraints = [
            models.UniqueConstraint(
                fields=["booking", "kind"], condition=Q(void_at__isnull=True), name="each_kind_is_due_once"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.kind} of {self.booking_id}"


class MaterialSwap(models.Model):
    """A material a booked job takes in place of one its accepted picture shows."""

    booking = models.ForeignKey(Booking, on_delete=models.CASCADE, related_name="swaps")
    given_up = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="+")
    taken = models.ForeignKey(Item, on_delete=models.PROTECT, related_name="+")
    quantity = models.PositiveIntegerField()
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = [
            models.CheckConstraint(condition=Q(quantity__gte=1), name="a_swap_swaps_something"),
            models.CheckConstraint(condition=~Q(given_up=models.F("taken")), name="a_swap_is_of_two_items"),
        ]

    def __str__(self) -> str:
        return f"{self.quantity} of item {self.given_up_id} for item {self.taken_id}"


class HistoryEntry(models.Model):
    """One thing that happened to a booking, in a sentence. Nobody's name: the client did it."""

    booking = models.ForeignKey(Booking, on_delete=models.CASCADE, related_name="history")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, null=True, blank=True, related_name="+")
    what = models.CharField(max_length=400)
    money = models.BooleanField(default=False, help_text="Says an amount, so it is not shown to crew.")

    def __str__(self) -> str:
        return self.what
