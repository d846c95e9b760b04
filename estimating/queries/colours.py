"""The studio's colours as a drawing asks for them."""

from collections.abc import Iterable

from estimating.drawing import Swatch
from estimating.layout import FORMS, Form
from stock.models import Colour


def palette(colours: Iterable[Colour] | None = None) -> dict[str, Swatch]:
    """Every colour of the studio as a drawing asks for it: by the text of its key.

    `colours` are all of them, where the caller has read them.
    """
    listed = Colour.objects.all() if colours is None else colours
    return {colour.key: Swatch(colour.swatch, str(colour), colour.finish, colour.form) for colour in listed}


def foils_of(colours: Iterable[Colour]) -> dict[str, Form]:
    """The keys of those of these colours that are foil, each with the outline it comes in."""
    foil = [colour for colour in colours if colour.finish == Colour.Finish.FOIL]
    return {colour.key: next(form for form in FORMS if form == colour.form) for colour in foil}
