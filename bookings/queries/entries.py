"""A part of a job as the calendar says it."""

from dataclasses import dataclass
from typing import Any

from bookings.diary import short_day
from bookings.models import Booking
from bookings.timetable import Part, Slot

PART_WORDS: dict[Part, str] = {"prep": "Prep", "install": "Install", "event": "Event", "strike": "Strike"}


@dataclass(frozen=True, slots=True)
class Entry:
    """A part of a job on a day of the calendar."""

    booking: Any
    slot: Slot
    standing: str

    @property
    def what(self) -> str:
        """“Prep”, “Install”, “Event”, “Strike”."""
        return PART_WORDS[self.slot.part]

    @property
    def is_event(self) -> bool:
        """Whether it is the event itself."""
        return self.slot.part == "event"

    @property
    def time_words(self) -> str:
        """“14:00 to 18:00”, with “about” before a time that nobody has said; nothing for a whole day."""
        begins, ends = self.slot.begins, self.slot.ends
        if begins is None or ends is None:
            return ""
        after = "" if ends.date() == begins.date() else f" {ends:%a}"
        return f"{'about ' if self.slot.is_usual else ''}{begins:%H:%M} to {ends:%H:%M}{after}"

    @property
    def short_words(self) -> str:
        """What has room in a month: “Winter gala”, “Prep: Winter gala”, “Held: Barn wedding”."""
        name = self.booking.shown_title
        if self.standing != "booked":
            return f"{self.state_words.split()[0].capitalize()}: {name}"
        begins = f"{self.slot.begins:%H:%M} " if self.slot.begins and not self.slot.is_usual else ""
        return f"{begins}{name}" if self.is_event else f"{self.what}: {name}"

    @property
    def state_words(self) -> str:
        """How firm it is: “booked”, “held until Fri 27 Nov”, “quoted”, “enquiry”, “done”."""
        if self.booking.stage == Booking.Stage.DONE:
            return "done"
        if self.standing == "held":
            return f"held until {short_day(self.booking.held_until)}"
        return {"booked": "booked", "offered": "quoted", "asked": "enquiry"}[self.standing]

    @property
    def state(self) -> str:
        """The tint of its badge."""
        return {"booked": "covered", "held": "waiting"}.get(self.standing, "plain")
