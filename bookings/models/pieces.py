"""What is to be made for a job, and how it was drawn."""

from django.conf import settings
from django.db import models
from django.db.models import Q

from bookings.models.jobs import Booking


class Piece(models.Model):
    """One thing to be made. The spec says what was asked; the layout is made from it.

    `goes_in` says in which option of the quote it is; `is_taken` of an extra that the client has chosen it.
    """

    class GoesIn(models.TextChoices):
        ALL = "all", "In every option"
        FIRST = "1", "Option 1"
        SECOND = "2", "Option 2"
        THIRD = "3", "Option 3"
        EXTRA = "extra", "An extra to tick"
        NONE = "none", "Not offered"

    booking = models.ForeignKey(Booking, on_delete=models.CASCADE, related_name="pieces")
    name = models.CharField(max_length=80)
    kind = models.CharField(max_length=20)
    spec = models.JSONField()
    layout = models.JSONField()
    position = models.PositiveIntegerField(default=0)
    edition = models.PositiveIntegerField(default=1, help_text="Goes up at every change, to catch a stale form.")
    goes_in = models.CharField(max_length=5, choices=GoesIn.choices, default=GoesIn.ALL)
    is_taken = models.BooleanField(default=False)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=Q(goes_in__in=["all", "1", "2", "3", "extra", "none"]), name="a_piece_goes_somewhere_known"
            ),
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
