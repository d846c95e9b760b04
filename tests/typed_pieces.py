"""What people type about a piece, and the forms that read it."""

from collections.abc import Mapping
from typing import Any

from django.http import QueryDict

from estimating.forms import CountedForm, GarlandForm, PieceForm
from stock.models import Colour

INK, SAND = Colour(pk=1, name="Ink", swatch="#1f2a44"), Colour(pk=2, name="Sand", swatch="#e2d6c2")
CLEAR = Colour(pk=3, name="Glass", swatch="#ddeeff", finish="clear")
COLOURS = [INK, SAND, CLEAR]

GARLAND = {
    "name": "Garland over the doorway",
    "length": "20 ft",
    "width": "22 in",
    "shape": "doorway",
    "outdoors": "False",
    "seed": "7",
    "sizes-5": "30",
    "sizes-11": "62",
    "sizes-16": "8",
    "colours-1": "60",
    "colours-2": "40",
}
COUNTED = {
    "name": "Bouquet",
    "outdoors": "True",
    "seed": "1",
    "minutes": "25",
    "line": "12 ft",
    "attachments": "2",
    "line-0-colour": "1",
    "line-0-size": "11",
    "line-0-count": "12",
    "line-1-colour": "",
    "line-1-size": "11",
    "line-1-count": "",
}


def garland(measures: Any = "imperial", sizes: Any = (), **changes: str | None) -> GarlandForm:
    """The garland's form as it was typed, but for some fields; one that is None was not sent."""
    data = {key: said for key, said in (GARLAND | changes).items() if said is not None}
    return GarlandForm(data, colours=COLOURS, sizes=sizes, measures=measures)


def counted(measures: Any = "imperial", **changes: str | None) -> CountedForm:
    """The same of a hand-counted piece."""
    data = {key: said for key, said in (COUNTED | changes).items() if said is not None}
    return CountedForm(data, colours=COLOURS, measures=measures)


def posted(data: Mapping[str, str], **pressed: str) -> QueryDict:
    """Fields as a browser sends them, with the button that was pressed."""
    sent = QueryDict(mutable=True)
    sent.update({**data, **pressed})
    return sent


def one_error(form: PieceForm, field: str) -> str:
    """The one sentence a form is refused with, which is that field's."""
    assert list(form.errors) == [field], form.errors
    (sentence,) = form.errors[field]
    return str(sentence)
