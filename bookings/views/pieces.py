"""Making a piece: its picture, what it takes and what the job then costs, redrawn as the fields change."""

from collections.abc import Callable
from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.db.models import Q
from django.http import Http404, HttpResponse, QueryDict
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from bookings import actions, queries
from bookings.lifecycle import may_be_quoted
from bookings.models import Booking, Piece
from bookings.queries import PiecePreview
from estimating import actions as estimating
from estimating.forms import FORMS, PieceForm
from estimating.kinds import KINDS, SpecErrors
from estimating.models import Favourite
from stock.models import Colour, Item
from studio.access import StudioRequest, owner_only
from studio.once import answer_once
from studio.units import System, from_inches, show_length

COLOURS_TO_START_WITH = 3
MENDABLE = 422
GOES_WITH_A_PIECE = (Item.Sort.OTHER, Item.Sort.RIBBON, Item.Sort.WEIGHT, Item.Sort.LINE, Item.Sort.HOOK)


class NotSound(Exception):
    """The form has something to mend; nothing has happened."""


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def new(request: StudioRequest, booking_id: int, kind: str) -> HttpResponse:
    """A piece that is not there yet."""
    return _editor(request, _booking(booking_id), None, _known(kind))


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def edit(request: StudioRequest, booking_id: int, piece_id: int) -> HttpResponse:
    """A piece of this booking, to be changed."""
    booking = _booking(booking_id)
    kind = request.POST.get("kind", "")
    if kind in FORMS and not Piece.objects.filter(pk=piece_id).exists():
        form = _form(request, kind, request.POST, None)
        return _page(request, booking, None, form, status=MENDABLE, refusal=str(actions.PieceIsGone()))
    piece = get_object_or_404(Piece, pk=piece_id, booking=booking)
    return _editor(request, booking, piece, _known(piece.kind))


@require_POST
@owner_only
def preview(request: StudioRequest, booking_id: int, kind: str) -> HttpResponse:
    """The parts of the page that follow from the fields; what cannot be made is said beside its field.

    Always 200: the last good picture stays where it is. A press of one of the form's own buttons brings the fields it
    changed as well.
    """
    booking = _booking(booking_id)
    piece = _piece_named(request.POST, booking)
    pressed = FORMS[_known(kind)].pressed(request.POST)
    form = _form(request, kind, pressed.data if pressed else request.POST, piece)
    shown = _previewed(request, form, booking, piece)
    return _parts(request, booking, form, shown, redrawn=pressed.field if pressed else "")


@require_POST
@owner_only
def keep_favourite(request: StudioRequest, booking_id: int, kind: str) -> HttpResponse:
    """Keep what the form holds as one of the studio's favourites; the piece itself stays as it is."""
    booking = _booking(booking_id)
    piece = _piece_named(request.POST, booking)
    form = _form(request, _known(kind), request.POST, piece)
    shown, note = _previewed(request, form, booking, piece), ""
    if shown is not None and form.is_valid():
        try:
            kept = estimating.keep_favourite(
                name=form.cleaned_data["name"], kind=kind, spec=form.spec, typed=form.typed
            )
            note = f"“{kept.name}” is one of your favourites now: it comes first when you add a piece."
        except estimating.TooManyFavourites as refused:
            form.add_error("name", str(refused))
    if request.headers.get("HX-Request"):
        return _parts(request, booking, form, shown, note=note or "Not kept yet: mend what is marked.")
    return _page(request, booking, piece, form, status=200 if note else MENDABLE, note=note)


@require_POST
@owner_only
def remove(request: StudioRequest, booking_id: int, piece_id: int) -> HttpResponse:
    """Take the piece off the booking; a quote already sent keeps it."""

    def act() -> str:
        piece = get_object_or_404(Piece.objects.select_related("booking"), pk=piece_id, booking=booking_id)
        try:
            actions.remove_piece(piece=piece, by=request.user, at=timezone.now())
        except actions.PiecesAreFixed as fixed:
            messages.error(request, str(fixed))
        else:
            messages.success(request, f"{piece.name} is removed.")
        return reverse("bookings:detail", args=[booking_id])

    return answer_once(request, act)


def _booking(booking_id: int) -> Booking:
    return get_object_or_404(Booking.objects.select_related("client"), pk=booking_id)


def _known(kind: str) -> str:
    if kind not in FORMS:
        raise Http404(f"There is no kind of piece called {kind!r}.")
    return kind


def _piece_named(data: QueryDict, booking: Booking) -> Piece | None:
    """The piece of this booking that the form is about, None for a new one or one that was removed."""
    named = data.get("piece", "")
    if not named:
        return None
    if not named.isdecimal() or len(named) > 18:
        raise Http404("That is no piece.")
    piece = Piece.objects.filter(pk=int(named)).first()
    if piece is not None and piece.booking_id != booking.pk:
        raise Http404("That piece belongs to another job.")
    return piece


def _form(request: StudioRequest, kind: str, data: Any, piece: Piece | None) -> PieceForm:
    """The form over `data`, with the colours that may be chosen: those in use, and those the piece has already."""
    things = Item.objects.filter(sort__in=GOES_WITH_A_PIECE).order_by("name", "pk")
    return FORMS[kind](data, colours=_colours(piece), sizes=_sizes(), things=things, measures=request.studio.system)


def _colours(piece: Piece | None) -> list[Colour]:
    kept = piece.layout["colours"] if piece is not None else []
    wanted = Q(in_use=True) | Q(pk__in=[int(key) for key in kept])
    return list(Colour.objects.filter(wanted).order_by("position", "name", "pk"))


def _sizes() -> Any:
    """The nominal sizes on the shelf; asked for only where the sliders are drawn."""
    return Item.objects.filter(sort=Item.Sort.LATEX).order_by("size").values_list("size", flat=True).distinct()


def _first_data(request: StudioRequest, booking: Booking, kind: str, piece: Piece | None) -> tuple[dict[str, Any], str]:
    """What the form holds when it is opened, and what there is to say about it.

    That is the piece as it was kept, or a favourite, or something to start from. A new piece starts in the colours
    named in what the client wants, else in the studio's first ones.
    """
    measures = request.studio.system
    if piece is not None:
        return FORMS[kind].data_of(piece.name, piece.spec, measures), ""
    colours = _colours(None)
    named = request.GET.get("favourite", "")
    if named.isdecimal() and len(named) < 10:
        favourite = get_object_or_404(Favourite, pk=int(named), kind=kind)
        data = FORMS[kind].data_of(favourite.name, favourite.spec, measures)
        data, lost = FORMS[kind].without_lost_colours(data, [colour.key for colour in colours])
        return data, _lost_said(lost)
    wants = booking.wants.casefold()
    wanted = [colour for colour in colours if colour.name.casefold() in wants]
    start_in = (wanted or colours)[:COLOURS_TO_START_WITH]
    return FORMS[kind].first_data(start_in, measures, request.GET.get("start", "")), ""


def _lost_said(lost: int) -> str:
    if not lost:
        return ""
    gone = "One colour of this favourite is" if lost == 1 else f"{lost} colours of this favourite are"
    return f"{gone} no longer yours. The others stand in; choose another where something is missing."


def _previewed(request: StudioRequest, form: PieceForm, booking: Booking, piece: Piece | None) -> PiecePreview | None:
    """The piece as the form has it, or None where the form says what is in the way; a name never is."""
    if set(form.errors) - {"name"}:
        return None
    try:
        return queries.piece_preview(
            booking,
            piece,
            name=form.cleaned_data.get("name") or KINDS[form.kind].title,
            kind=form.kind,
            spec=form.spec,
            today=timezone.localdate(),
            studio=request.studio,
        )
    except SpecErrors as errors:
        form.refuse(errors)
        return None


def _editor(request: StudioRequest, booking: Booking, piece: Piece | None, kind: str) -> HttpResponse:
    """The page of a piece; a press of Keep writes it, of another button changes the fields and nothing else."""
    if request.method != "POST":
        data, said = _first_data(request, booking, kind, piece)
        return _page(request, booking, piece, _form(request, kind, data, piece), note=said)
    if pressed := FORMS[kind].pressed(request.POST):
        return _page(request, booking, piece, _form(request, kind, pressed.data, piece))
    form = _form(request, kind, request.POST, piece)
    refusal = ""
    try:
        return answer_once(request, _keeping(request, form, booking, piece))
    except NotSound:
        pass
    except SpecErrors as errors:
        form.refuse(errors)
    except (actions.StaleForm, actions.PiecesAreFixed) as refused:
        refusal = str(refused)
    except actions.PieceIsGone as gone:
        return _page(request, booking, None, form, status=MENDABLE, refusal=str(gone))
    if piece is not None:
        piece.refresh_from_db()
    return _page(request, booking, piece, form, status=MENDABLE, refusal=refusal)


def _keeping(request: StudioRequest, form: PieceForm, booking: Booking, piece: Piece | None) -> Callable[[], str]:
    """What a press of Keep does, once: check, write, and lead back to the booking."""

    def act() -> str:
        if not form.is_valid():
            raise NotSound
        edition = request.POST.get("edition", "")
        actions.keep_piece(
            booking=booking,
            piece=piece,
            edition=int(edition) if edition.isdecimal() and len(edition) < 10 else 0,
            name=form.cleaned_data["name"],
            kind=form.kind,
            spec=form.spec,
            by=request.user,
            at=timezone.now(),
            typed=form.typed,
        )
        return reverse("bookings:detail", args=[booking.pk])

    return act


def _page(
    request: StudioRequest,
    booking: Booking,
    piece: Piece | None,
    form: PieceForm,
    *,
    status: int = 200,
    refusal: str = "",
    note: str = "",
) -> HttpResponse:
    shown = _previewed(request, form, booking, piece)
    open_to_change = may_be_quoted(booking.stage)
    if not open_to_change and not refusal:
        refusal = str(actions.PiecesAreFixed(booking))
    address = ("bookings:piece", [booking.pk, piece.pk]) if piece else ("bookings:piece-new", [booking.pk, form.kind])
    context = _context(request, booking, form, shown) | {
        "piece": piece,
        "kind": KINDS[form.kind],
        "action": reverse(address[0], args=address[1]),
        "refusal": refusal,
        "note": note,
        "may_keep": open_to_change,
        "fields": f"bookings/piece_{form.kind}.html",
    }
    return render(request, "bookings/piece.html", context, status=status)


def _parts(
    request: StudioRequest,
    booking: Booking,
    form: PieceForm,
    shown: PiecePreview | None,
    *,
    redrawn: str = "",
    note: str = "",
) -> HttpResponse:
    """The parts of the page that follow from its fields, and the fields that changed by a press."""
    context = _context(request, booking, form, shown) | {
        "redrawn": redrawn,
        "redrawn_by": f"bookings/_piece_{redrawn}.html" if redrawn and redrawn != "seed" else "",
        "note": note,
    }
    return render(request, "bookings/piece_preview.html", context)


def _context(request: StudioRequest, booking: Booking, form: PieceForm, shown: PiecePreview | None) -> dict[str, Any]:
    drawn = _drawn(shown, request.studio.system)
    return {"booking": booking, "form": form, "preview": shown, "drawn": drawn}


def _drawn(shown: PiecePreview | None, measures: System) -> str:
    """What the picture measures, where it has a line to measure along: to the inch, or to the centimetre."""
    if shown is None or not shown.layout.spine:
        return ""
    step = Decimal("25.4") if measures == "imperial" else Decimal(10)
    length, width = (
        show_length(round(from_inches(inches) / step) * step, measures)
        for inches in (shown.layout.length, shown.layout.width)
    )
    return f"Drawn {length} along the line and {width} wide, with every balloon in it."
