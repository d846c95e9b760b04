"""Drawing a garland on a photo of the place: the wall is measured, the path drawn, and the garland seen on it."""

from collections.abc import Callable
from dataclasses import dataclass, replace
from decimal import Decimal
from math import ceil
from typing import Any

from django.http import Http404, HttpResponse
from django.shortcuts import get_object_or_404, render
from django.urls import reverse
from django.utils import timezone
from django.views.decorators.http import require_http_methods, require_POST

from bookings import actions, queries
from bookings.models import Booking, Photo, Piece, Sketch
from estimating.forms.sketch import SketchForm
from estimating.kinds import GarlandSpec, SpecErrors
from estimating.layout import Layout
from estimating.over_photo import Backdrop
from estimating.queries import laid_out
from estimating.spines import length_of
from studio.access import StudioRequest, owner_only
from studio.once import answer_once
from studio.units import System, from_inches, inches

MENDABLE = 422
BLANK_WALL = "wall"
BLANK_SIZE = (1600, 1000)
NARROWEST, WIDEST = 6, 60
"""Inches the slider reaches; what the sizes cannot make is refused in a sentence."""


class NotSound(Exception):
    """The form has something to mend; nothing has happened."""


@dataclass(frozen=True, slots=True)
class Ground:
    """What is drawn on: a photo, or a blank wall where there is none, and its pixels."""

    photo: Photo | None
    width: int
    height: int

    @property
    def size(self) -> tuple[int, int]:
        """Across and down."""
        return self.width, self.height

    @property
    def name(self) -> str:
        """How the form and the address call it."""
        return self.photo.name if self.photo else BLANK_WALL

    @property
    def address(self) -> str:
        """Where the photo is found; empty for a blank wall."""
        return queries.photo_address(self.photo) if self.photo else ""


@dataclass(frozen=True, slots=True)
class Drawn:
    """The garland along the path, and what is said of it."""

    spec: GarlandSpec
    layout: Layout
    picture: str
    said: str


@require_http_methods(["GET", "HEAD", "POST"])
@owner_only
def sketch(request: StudioRequest, booking_id: int, piece_id: int) -> HttpResponse:
    """The photo to draw on; keeping it lays the garland along the path. Without a photo chosen, those there are."""
    piece = _garland(booking_id, piece_id)
    kept = queries.sketch_of(piece)
    asked = request.POST.get("photo", "") if request.method == "POST" else request.GET.get("photo", "")
    if request.method != "POST" and not asked and (kept is None or "another" in request.GET):
        return _choice(request, piece)
    ground = _ground(piece.booking, asked, kept)
    if request.method != "POST":
        return _page(request, piece, ground, _form(request, ground, _first_data(request, piece, ground, kept)))
    form = _form(request, ground, request.POST)
    if "look" in request.POST:
        return _page(request, piece, ground, form)
    refusal = ""
    try:
        return answer_once(request, _keeping(request, piece, ground, form))
    except NotSound:
        pass
    except SpecErrors as errors:
        _refuse(form, errors)
    except (actions.StaleForm, actions.PiecesAreFixed, actions.PieceIsGone) as refused:
        refusal = str(refused)
    return _page(request, piece, ground, form, refusal=refusal, status=MENDABLE)


@require_POST
@owner_only
def redraw(request: StudioRequest, booking_id: int, piece_id: int) -> HttpResponse:
    """The garland along the path as it is now. Always 200: what is in the way is said, and the last picture stays."""
    piece = _garland(booking_id, piece_id)
    kept = queries.sketch_of(piece)
    ground = _ground(piece.booking, request.POST.get("photo", ""), kept)
    form = _form(request, ground, request.POST)
    drawn = _drawn(form, piece, ground, request.studio.system)
    return render(request, "bookings/sketch_redrawn.html", _shown(form, drawn))


def _garland(booking_id: int, piece_id: int) -> Piece:
    found = queries.with_sketches(Piece.objects.select_related("booking", "booking__client"))
    return get_object_or_404(found, pk=piece_id, booking=booking_id, kind="garland")


def _ground(booking: Booking, asked: str, kept: Sketch | None) -> Ground:
    """What was asked for by name, else what the kept sketch is on. A size that was kept is kept."""
    if kept is not None and asked in ("", kept.photo.name if kept.photo else BLANK_WALL):
        return Ground(kept.photo, kept.width, kept.height)
    if asked == BLANK_WALL:
        return Ground(None, *BLANK_SIZE)
    photo = queries.photos_of(booking).filter(name=asked).first()
    if photo is None:
        raise Http404("There is no such photo of this booking.")
    return Ground(photo, photo.width, photo.height)


def _form(request: StudioRequest, ground: Ground, data: Any) -> SketchForm:
    return SketchForm(data, photo_size=ground.size, measures=request.studio.system)


def _first_data(request: StudioRequest, piece: Piece, ground: Ground, kept: Sketch | None) -> dict[str, Any]:
    """What was kept where it is on the same photo, else marks in the middle and no path."""
    measures = request.studio.system
    data: dict[str, Any] = {"width": _slider_width(piece, measures), "path": ""}
    if kept is not None and kept.photo == ground.photo:
        typed = {f"known_{name}": kept.known.get(f"{name}_typed", "") for name in queries.LENGTHS}
        return data | typed | {
            "known": kept.known["what"], "marks": _points(kept.marks), "path": _points(kept.path)
        }  # fmt: skip
    across, down = ground.size
    if ground.photo is None:
        wall = {"known": "length", "known_length": "16 ft" if measures == "imperial" else "5 m"}
        return data | wall | {"marks": _points([(across * 0.04, down * 0.94), (across * 0.96, down * 0.94)])}
    left, right, top, bottom = across * 0.36, across * 0.64, down * 0.3, down * 0.74
    return data | {
        "known": "rectangle",
        "marks": _points([(left, top), (right, top), (right, bottom), (left, bottom)]),
    }


def _slider_width(piece: Piece, measures: System) -> str:
    """The piece's width as the slider gives it: whole inches or centimetres."""
    width = inches(Decimal(piece.spec["width_mm"]))
    return str(round(width if measures == "imperial" else width * 2.54))


def _points(points: Any) -> str:
    return "\n".join(f"{x:.1f}".removesuffix(".0") + "," + f"{y:.1f}".removesuffix(".0") for x, y in points)


def _spec(form: SketchForm, piece: Piece, measures: System) -> GarlandSpec:
    """The piece as it is, but along the path, and as wide as the slider says where that was moved."""
    spec = GarlandSpec.from_json(piece.spec)
    moved = form.data["width"].strip() != _slider_width(piece, measures)
    return replace(
        spec,
        shape=queries.SKETCHED,
        path=form.along,
        length_mm=from_inches(Decimal(str(length_of(form.along)))).quantize(Decimal("0.0001")),
        width_mm=form.cleaned_data["width"] if moved else spec.width_mm,
    )


def _drawn(form: SketchForm, piece: Piece, ground: Ground, measures: System) -> Drawn | None:
    """The garland as the form has it, or None where the form says what is in the way."""
    if not form.is_valid():
        return None
    try:
        spec = _spec(form, piece, measures)
        layout = laid_out(piece.kind, spec)
    except SpecErrors as errors:
        _refuse(form, errors)
        return None
    backdrop = Backdrop(form.cleaned_data["plane"], *ground.size)
    balloons = sum(layout.counts().values())
    said = f"{queries.length_words(spec.path, measures)} along the path, {balloons} balloons"
    # The drawing escapes every name it writes, so the markup is ours alone.
    return Drawn(spec, layout, queries.as_picture(queries.drawn_alone(layout, backdrop, title=piece.name)), said)


def _refuse(form: SketchForm, errors: SpecErrors) -> None:
    """Say what cannot be made beside the slider or the path."""
    for error in errors:
        field = "width" if error.field == "width_mm" else "path"
        label = {"width_mm": "Finished width", "length_mm": "The path"}.get(error.field, error.field)
        form.add_error(field, f"{label} {error.rule} (got {error.value}).")


def _keeping(request: StudioRequest, piece: Piece, ground: Ground, form: SketchForm) -> Callable[[], str]:
    """What a press of Keep does, once: check, write, and lead back to the piece."""

    def act() -> str:
        if not form.is_valid():
            raise NotSound
        edition = request.POST.get("edition", "")
        typed = piece.spec.get("typed", {})
        spec = _spec(form, piece, request.studio.system)
        same_width = str(spec.width_mm) == piece.spec["width_mm"]
        actions.keep_sketch(
            piece=piece,
            edition=int(edition) if edition.isdecimal() and len(edition) < 10 else 0,
            spec=spec,
            typed={"width": typed["width"]} if same_width and "width" in typed else {},
            photo=ground.photo,
            size=ground.size,
            marks=form.cleaned_data["marks"],
            known=form.known_lengths,
            path=form.cleaned_data["path"],
            by=request.user,
            at=timezone.now(),
        )
        return reverse("bookings:piece", args=[piece.booking_id, piece.pk])

    return act


def _choice(request: StudioRequest, piece: Piece) -> HttpResponse:
    """The photos there are to draw on."""
    context = {"booking": piece.booking, "piece": piece, "photos": list(queries.photos_of(piece.booking))}
    return render(request, "bookings/sketch_choose.html", context)


def _page(
    request: StudioRequest,
    piece: Piece,
    ground: Ground,
    form: SketchForm,
    *,
    refusal: str = "",
    status: int = 200,
) -> HttpResponse:
    measures = request.studio.system
    drawn = _drawn(form, piece, ground, measures) if form.data.get("path") else None
    by = 1.0 if measures == "imperial" else 2.54
    context = _shown(form, drawn) | {
        "booking": piece.booking,
        "piece": piece,
        "ground": ground,
        "slider": {"low": ceil(NARROWEST * by), "high": int(WIDEST * by), "unit": "in" if by == 1.0 else "cm"},
        "door": ("36 in", "80 in") if by == 1.0 else ("90 cm", "2 m"),
        "refusal": refusal,
        "is_new": not form.data.get("path"),
    }
    if request.method != "POST":
        # Nobody has typed yet, so nothing typed is wrong.
        form.errors.clear()
    return render(request, "bookings/sketch.html", context, status=status)


def _shown(form: SketchForm, drawn: Drawn | None) -> dict[str, Any]:
    """What follows from the form: the picture or what is in the way of it."""
    in_the_way = next((str(error) for errors in form.errors.values() for error in errors), "")
    return {"form": form, "drawn": drawn, "in_the_way": in_the_way}
