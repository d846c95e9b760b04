"""Who pays: how to reach them, what they must not come near, what they agreed to."""

from django.conf import settings
from django.db import models
from django.db.models import F, Q


class ClientQuerySet(models.QuerySet["Client"]):
    """Clients asked for by how they are reached."""

    def reached_by(self, *, phone_key: str, email_key: str) -> "ClientQuerySet":
        """With that number or that address, as they are compared; nobody where both are empty."""
        same = Q(pk__in=[])
        if phone_key:
            same |= Q(phone_key=phone_key)
        if email_key:
            same |= Q(email_key=email_key)
        return self.filter(same)


class Client(models.Model):
    """Who pays. At least one of the name and the ways to reach them is known.

    The keys are what the name, the number and the address are compared by; `bookings.actions` writes them together.
    """

    name = models.CharField(max_length=120, blank=True)
    phone = models.CharField(max_length=40, blank=True)
    email = models.EmailField(blank=True)
    notes = models.TextField(max_length=4000, blank=True)
    latex_allergy = models.BooleanField("allergic to latex", default=False)
    allergies = models.CharField("other allergies", max_length=300, blank=True)
    found_us = models.CharField("how they found the studio", max_length=120, blank=True)
    name_key = models.CharField(max_length=240, blank=True, editable=False)
    phone_key = models.CharField(max_length=40, blank=True, editable=False)
    email_key = models.CharField(max_length=254, blank=True, editable=False)
    erased_at = models.DateTimeField(null=True, blank=True, editable=False)

    objects = ClientQuerySet.as_manager()

    class Meta:
        constraints = [
            models.CheckConstraint(condition=~Q(name="", phone="", email=""), name="a_client_has_a_name_or_a_contact"),
            models.CheckConstraint(
                condition=Q(erased_at__isnull=True)
                | Q(phone="", email="", notes="", allergies="", found_us="", phone_key="", email_key="")
                & Q(latex_allergy=False),
                name="nothing_is_known_of_an_erased_client",
            ),
        ]
        indexes = [
            models.Index(fields=["phone_key"], name="clients_by_phone"),
            models.Index(fields=["email_key"], name="clients_by_email"),
            models.Index(fields=["name_key", "id"], name="clients_by_name"),
        ]

    def __str__(self) -> str:
        return self.shown_name

    @property
    def shown_name(self) -> str:
        """The name, or the contact where no name is known yet."""
        return self.name or self.phone or self.email

    @property
    def has_allergies(self) -> bool:
        """Whether anything has to be kept away from them."""
        return self.latex_allergy or bool(self.allergies)

    @property
    def allergy_words(self) -> str:
        """“Latex; nuts”, for every job of theirs; empty where nothing is known."""
        return "; ".join(part for part in ("Latex" if self.latex_allergy else "", self.allergies) if part)


class ConsentEntry(models.Model):
    """A client said yes, or took it back. Never edited, never deleted; it says nothing but that."""

    class What(models.TextChoices):
        OFFERS = "offers", "To be written to with offers"
        PHOTOS = "photos", "To photos of the job being shown"

    class How(models.TextChoices):
        SAID = "said", "said so"
        WROTE = "wrote", "in a message"
        SIGNED = "signed", "on paper, signed"

    client = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="consents")
    what = models.CharField(max_length=6, choices=What.choices)
    is_given = models.BooleanField(help_text="Given, or withdrawn.")
    how = models.CharField(max_length=6, choices=How.choices)
    on = models.DateField()
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        verbose_name_plural = "consent entries"
        constraints = [
            models.CheckConstraint(condition=Q(what__in=["offers", "photos"]), name="consent_is_to_something_known"),
            models.CheckConstraint(
                condition=Q(how__in=["said", "wrote", "signed"]), name="consent_came_in_a_known_way"
            ),
        ]

    def __str__(self) -> str:
        return f"{self.get_what_display()}: {'yes' if self.is_given else 'withdrawn'}, {self.on}"


class ClientMerge(models.Model):
    """A client who was written down twice became one. Never edited, never deleted; it holds nobody's data.

    `gone` is the number that is no more: an old address of theirs leads to who was kept.
    """

    kept = models.ForeignKey(Client, on_delete=models.PROTECT, related_name="merges")
    gone = models.PositiveBigIntegerField(unique=True)
    taken = models.JSONField(help_text="The fields whose value is the one that is gone’s.")
    moved = models.JSONField(help_text="How many rows of each sort became the kept one’s.")
    at = models.DateTimeField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, on_delete=models.PROTECT, related_name="+")

    class Meta:
        constraints = [
            models.CheckConstraint(condition=~Q(kept=F("gone")), name="nobody_is_merged_with_themselves"),
        ]

    def __str__(self) -> str:
        return f"Client {self.gone} is client {self.kept_id}"
