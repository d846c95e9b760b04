"""What people type about a booking, checked."""

from bookings.forms.jobs import CLIENT_FIELDS, AcceptForm, BookingForm, EnquiryForm, JobForm, ReasonForm, shown

__all__ = ["CLIENT_FIELDS", "AcceptForm", "BookingForm", "EnquiryForm", "JobForm", "ReasonForm", "shown"]
