"""What a pasted message says, offered beside the fields of an enquiry."""

from django.http import HttpResponse
from django.shortcuts import render
from django.utils import timezone
from django.views.decorators.http import require_POST

from bookings.forms import EnquiryForm
from bookings.forms.clients import WhoForm
from bookings.queries.clients import known_again
from bookings.queries.said import beside_fields, said_in
from bookings.reading import MessageTooLong, Suggestion
from studio.access import StudioRequest, owner_and_crew

APPENDED = {"length": "Length", "colour": "Colour"}
"""What has no field of its own is written under the message, in these words."""


@owner_and_crew
@require_POST
def read(request: StudioRequest) -> HttpResponse:
    """Suggestions from the message that was typed or pasted; nothing is kept.

    htmx is given the suggestions of each field. Without scripts the whole form comes back, what was typed in it, and
    a suggestion that was taken is in its field.
    """
    today, refusal = timezone.localdate(), ""
    found: dict[str, list[Suggestion]] = {}
    typed = {name: request.POST.get(name, "") for name in EnquiryForm.base_fields}
    message = typed["wants"]
    field, _, value = request.POST.get("use", "").partition("=")
    if field in APPENDED:
        typed["wants"] = f"{message.rstrip()}\n{APPENDED[field]}: {value}"
    elif field in typed:
        typed[field] = value
    try:
        found = beside_fields(said_in(message, studio=request.studio, today=today), typed)
    except MessageTooLong as error:
        refusal = str(error)
    context = {"says": found, "refusal": refusal, "has_read": bool(message.strip())}
    status = 422 if refusal else 200
    if request.htmx:
        fields = (*EnquiryForm.base_fields,)
        context["fields"] = [(name, found.get(name, [])) for name in fields]
        return render(request, "bookings/enquiry_says.html", context, status=status)
    context["form"] = EnquiryForm(initial=typed, today=today)
    context["who"] = WhoForm(known=known_again(phone=typed["phone"], email=typed["email"]))
    return render(request, "bookings/enquiry.html", context, status=status)
