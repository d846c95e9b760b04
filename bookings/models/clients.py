"""Who pays."""

from django.db import models
from django.db.models import Q


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
