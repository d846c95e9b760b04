"""Making a piece: its picture, what it takes and what the job then costs, redrawn as the fields change."""

from collections.abc import Callable
from dataclasses import replace
from decimal import Decimal
from typing import Any

from django.contrib import messages
from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.gzip import gzip_page
from django.views.decorators.http import require_http_methods, require_POST

from bookings import actions, queries
from bookings.lifecycle import may_be_quoted
from bookings.models import Piece
from bookings.queries import PiecePreview
from bookings.views.editing import Editing, editing, with_piece, with_piece_named
from estimating import actions as estimating
from estimating.forms import FORMS, PieceForm
from estimating.kinds import KINDS, SpecErrors
from estimating.models import Favourite
from stock.models import Item
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
    return _editor(request, editing(booking_id), _known(kind))


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def edit(request: StudioRequest, booking_id: int, piece_id: int) -> HttpResponse:
    """A piece of this booking, to be changed. One that was removed meanwhile is answered with what was typed."""
    at, kind = editing(booking_id), request.POST.get("kind", "")
    found = with_piece(at, piece_id)
    if found.piece is not None:
        return _editor(request, found, _known(found.piece.kind))
    if kind not in FORMS:
        raise Http404("There is no such piece.")
    return _page(request, at, _form(request, at, kind, request.POST), MENDABLE, refusal=str(actions.PieceIsGone()))


@require_POST
@owner_only
@gzip_page
def preview(request: StudioRequest, booking_id: int, kind: str) -> HttpResponse:
    """The parts of the page that follow from the fields; what cannot be made is said beside its field.

    Always 200: the last good picture stays where it is. A press of one of the form's own buttons brings the fields it
    changed as well. A picture is a quarter as long packed, and a phone waits for it at every change; nothing secret is
    in it, and nobody else's page can post here.
    """
    at = with_piece_named(editing(booking_id), request.POST.get("piece", ""))
    pressed = FORMS[_known(kind)].pressed(request.POST)
    form = _form(request, at, kind, pressed.data if pressed else request.POST)
    shown = _previewed(request, at, form)
    return _parts(request, at, form, shown, redrawn=pressed.field if pressed else "")


@require_POST
@owner_only
def keep_favourite(request: StudioRequest, booking_id: int, kind: str) -> HttpResponse:
    """Keep what the form holds as one of the studio's favourites; the piece itself stays as it is."""
    at = with_piece_named(editing(booking_id), request.POST.get("piece", ""))
    form = _form(request, at, _known(kind), request.POST)
    shown, note = _previewed(request, at, form), ""
    if shown is not None and form.is_valid():
        try:
            name = form.cleaned_data["name"]
            kept = estimating.keep_favourite(name=name, kind=kind, spec=form.spec, typed=form.typed)
            note = f"“{kept.name}” is one of your favourites now: it comes first when you add a piece."
        except estimating.TooManyFavourites as refused:
            form.add_error("name", str(refused))
    if request.headers.get("HX-Request"):
        return _parts(request, at, form, shown, note=note or "Not kept yet: mend what is marked.")
    return _page(request, at, form, 200 if note else MENDABLE, note=note)


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


def _known(kind: str) -> str:
    if kind not in FORMS:
        raise Http404(f"There is no kind of piece called {kind!r}.")
    return kind


def _form(request: StudioRequest, at: Editing, kind: str, data: Any) -> PieceForm:
    """The form over `data`; sizes and things on the shelf are asked for only where they are drawn."""
    sizes: Any = Item.objects.filter(sort=Item.Sort.LATEX).order_by("size").values_list("size", flat=True).distinct()
    things = Item.objects.filter(sort__in=GOES_WITH_A_PIECE).order_by("name", "pk")
    return FORMS[kind](data, colours=at.choosable, sizes=sizes, things=things, measures=request.studio.system)


def _first_data(request: StudioRequest, at: Editing, kind: str) -> tuple[dict[str, Any], str]:
    """What the form holds when it is opened, and what there is to say about it.

    That is the piece as it was kept, or a favourite, or something to start from. A new piece starts in the colours
    named in what the client wants, else in the studio's first ones.
    """
    measures, asked = request.studio.system, FORMS[kind]
    if at.piece is not None:
        return asked.data_of(at.piece.name, at.piece.spec, measures), ""
    named = request.GET.get("favourite", "")
    if named.isdecimal() and len(named) < 10:
        favourite = get_object_or_404(Favourite, pk=int(named), kind=kind)
        data = asked.data_of(favourite.name, favourite.spec, measures)
        data, lost = asked.without_lost_colours(data, [colour.key for colour in at.choosable])
        return data, _lost_said(lost)
    wants = at.booking.wants.casefold()
    wanted = [colour for colour in at.choosable if colour.name.casefold() in wants]
    start_in = (wanted or at.choosable)[:COLOURS_TO_START_WITH]
    return asked.first_data(start_in, measures, request.GET.get("start", "")), ""


def _lost_said(lost: int) -> str:
    if not lost:
        return ""
    gone = "One colour of this favourite is" if lost == 1 else f"{lost} colours of this favourite are"
    return f"{gone} no longer yours. The others stand in; choose another where something is missing."


def _previewed(request: StudioRequest, at: Editing, form: PieceForm) -> PiecePreview | None:
    """The piece as the form has it, or None where the form says what is in the way; a name never is."""
    if set(form.errors) - {"name"}:
        return None
    try:
        return queries.piece_preview(
            at.booking,
            at.piece,
            others=at.others,
            colours=at.colours,
            name=form.cleaned_data.get("name") or KINDS[form.kind].title,
            kind=form.kind,
            spec=form.spec,
            today=timezone.localdate(),
            studio=request.studio,
        )
    except SpecErrors as errors:
        form.refuse(errors)
        return None


def _editor(request: StudioRequest, at: Editing, kind: str) -> HttpResponse:
    """The page of a piece; a press of Keep writes it, of another button changes the fields and nothing else."""
    if request.method != "POST":
        data, said = _first_data(request, at, kind)
        return _page(request, at, _form(request, at, kind, data), note=said)
    if pressed := FORMS[kind].pressed(request.POST):
        return _page(request, at, _form(request, at, kind, pressed.data))
    form, refusal = _form(request, at, kind, request.POST), ""
    try:
        return answer_once(request, _keeping(request, at, form))
    except NotSound:
        pass
    except SpecErrors as errors:
        form.refuse(errors)
    except (actions.StaleForm, actions.PiecesAreFixed) as refused:
        refusal = str(refused)
    except actions.PieceIsGone as gone:
        at, refusal = replace(at, piece=None), str(gone)
    if at.piece is not None:
        at.piece.refresh_from_db()
    return _page(request, at, form, MENDABLE, refusal=refusal)


def _keeping(request: StudioRequest, at: Editing, form: PieceForm) -> Callable[[], str]:
    """What a press of Keep does, once: check, write, and lead back to the booking."""

    def act() -> str:
        if not form.is_valid():
            raise NotSound
        edition = request.POST.get("edition", "")
        kept = actions.keep_piece(
            booking=at.booking,
            piece=at.piece,
            edition=int(edition) if edition.isdecimal() and len(edition) < 10 else 0,
            name=form.cleaned_data["name"],
            kind=form.kind,
            spec=form.spec,
            by=request.user,
            at=timezone.now(),
            typed=form.typed,
        )
        if "draw" in request.POST:
            return reverse("bookings:piece-sketch", args=[at.booking.pk, kept.pk])
        return reverse("bookings:detail", args=[at.booking.pk])

    return act


def _page(
    request: StudioRequest, at: Editing, form: PieceForm, status: int = 200, *, refusal: str = "", note: str = ""
) -> HttpResponse:
    """The whole page; `refusal` says why nothing was kept, `note` what else there is to say."""
    shown = _previewed(request, at, form)
    may_keep = may_be_quoted(at.booking.stage)
    if not may_keep and not refusal:
        refusal = str(actions.PiecesAreFixed(at.booking))
    if at.piece is not None:
        action = reverse("bookings:piece", args=[at.booking.pk, at.piece.pk])
    else:
        action = reverse("bookings:piece-new", args=[at.booking.pk, form.kind])
    context = _context(request, at, form, shown) | {
        "piece": at.piece,
        "kind": KINDS[form.kind],
        "action": action,
        "refusal": refusal,
        "note": note,
        "may_keep": may_keep,
        "fields": f"bookings/piece_{form.kind}.html",
    }
    return render(request, "bookings/piece.html", context, status=status)


def _parts(
    request: StudioRequest,
    at: Editing,
    form: PieceForm,
    shown: PiecePreview | None,
    *,
    redrawn: str = "",
    note: str = "",
) -> HttpResponse:
    """The parts of the page that follow from its fields, and the fields that changed by a press."""
    context = _context(request, at, form, shown) | {
        "redrawn": redrawn,
        "redrawn_by": f"bookings/_piece_{redrawn}.html" if redrawn and redrawn != "seed" else "",
        "inside_changed": _inside_changed(request, form, redrawn),
        "note": note,
    }
    return render(request, "bookings/piece_preview.html", context)


def _inside_changed(request: StudioRequest, form: PieceForm, redrawn: str) -> bool:
    """Whether the colours that may hold another are not those the page shows, and nothing else redraws them."""
    if redrawn in ("colours", "lines") or "inside_of" not in request.POST or "inside" not in form.fields:
        return False
    return request.POST["inside_of"].split() != [row.colour.key for row in form.inside_rows]  # type: ignore[attr-defined]


def _context(request: StudioRequest, at: Editing, form: PieceForm, shown: PiecePreview | None) -> dict[str, Any]:
    drawn = _drawn(shown, request.studio.system)
    return {"booking": at.booking, "form": form, "preview": shown, "drawn": drawn}


def _drawn(shown: PiecePreview | None, measures: System) -> str:
    """What the picture measures, where it has a line to measure along: to the inch, or to the centimetre."""
    if shown is None or not shown.layout.spine:
        return ""
    step = Decimal("25.4") if measures == "imperial" else Decimal(10)
    length, width = (
        show_length(round(from_inches(inches) / step) * step, measures)
        for inches in (shown.layout.length, shown.layout.width)
    )
    made = shown.estimate.pieces[-1].piece
    if isinstance(made, queries.SketchedPiece):
        on = "the photo of the place" if made.photo else "a blank wall"
        return f"Drawn on {on}: {length} along the path and {width} wide, with every balloon in it."
    return f"Drawn {length} along the line and {width} wide, with every balloon in it."
