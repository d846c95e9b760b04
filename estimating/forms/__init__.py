"""What people type about a piece, read into the spec it is laid out from.

Nothing typed is lost: a form is always bound, on a first showing to the data of `data_of` or `first_data`, so that
what is shown is what was typed, whether it can be made or not.
"""

from collections.abc import Mapping

from estimating.forms.counted import CountedForm
from estimating.forms.garland import GarlandForm
from estimating.forms.pieces import PieceForm

__all__ = ["FORMS", "CountedForm", "GarlandForm", "PieceForm"]

FORMS: Mapping[str, type[GarlandForm] | type[CountedForm]] = {form.kind: form for form in (GarlandForm, CountedForm)}
"""The form of each kind of piece."""
