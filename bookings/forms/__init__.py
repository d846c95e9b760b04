"""What people type about a booking, checked."""

from bookings.forms.accepting import AcceptForm
from bookings.forms.jobs import CLIENT_FIELDS, BookingForm, EnquiryForm, JobForm, ReasonForm, shown
from bookings.forms.wrapup import CorrectionForm, TickForm, WrapUpFields, WrapUpForm

__all__ = [
    "CLIENT_FIELDS",
    "AcceptForm",
    "BookingForm",
    "CorrectionForm",
    "EnquiryForm",
    "JobForm",
    "ReasonForm",
    "TickForm",
    "WrapUpFields",
    "WrapUpForm",
    "shown",
]
