"""What people type about a piece, read into the spec it is laid out from.

Nothing typed is lost: a form is always bound, on a first showing to the data of `data_of` or `first_data`, so that
what is shown is what was typed, whether it can be made or not.
"""

from collections.abc import Mapping

from estimating.forms.bouquet import BouquetForm
from estimating.forms.counted import CountedForm
from estimating.forms.floats import FloatsForm
from estimating.forms.garland import GarlandForm
from estimating.forms.glyphs import GlyphsForm
from estimating.forms.lettered import LetteredForm
from estimating.forms.packed import PackedForm
from estimating.forms.pieces import LONGEST_NAME, PieceForm, Start
from estimating.forms.string_arch import StringArchForm
from estimating.forms.wall import WallForm

__all__ = [
    "FORMS",
    "LONGEST_NAME",
    "BouquetForm",
    "CountedForm",
    "FloatsForm",
    "GarlandForm",
    "GlyphsForm",
    "LetteredForm",
    "PackedForm",
    "PieceForm",
    "Start",
    "StringArchForm",
    "WallForm",
]

FORMS: Mapping[str, type[PieceForm]] = {
    form.kind: form
    for form in (
        GarlandForm,
        PackedForm,
        StringArchForm,
        BouquetForm,
        LetteredForm,
        GlyphsForm,
        WallForm,
        FloatsForm,
        CountedForm,
    )
}
"""The form of each kind of piece, in the order they are offered in."""
