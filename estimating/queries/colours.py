"""The studio's colours as a drawing asks for them."""

from collections.abc import Iterable

from estimating.drawing import Swatch
from stock.models import Colour


def palette(colours: Iterable[Colour] | None = None) -> dict[str, Swatch]:
    """Every colour of the studio as a drawing asks for it: by the text of its key.

    `colours` are all of them, where the caller has read them.
    """
    listed = Colour.objects.all() if colours is None else colours
    return {colour.key: Swatch(colour.swatch, str(colour), colour.finish, colour.form) for colour in listed}
