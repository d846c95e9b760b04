"""A spreadsheet sent in."""

from typing import Any

from django import forms
from django.core.exceptions import ValidationError
from django.core.files.uploadedfile import UploadedFile

from stock.spreadsheet import MOST_BYTES, SpreadsheetFault, read_table


class SpreadsheetForm(forms.Form):
    """A file with a table of items; `rows` are its rows once it is sound."""

    file = forms.FileField(
        label="Spreadsheet",
        help_text="A workbook (.xlsx) or comma-separated text (.csv), at most 5 MB.",
        widget=forms.FileInput(attrs={"accept": ".xlsx,.csv,.tsv,text/csv"}),
        error_messages={
            "required": "Spreadsheet is needed; no file was chosen.",
            "empty": "Spreadsheet must hold something; the file is empty.",
        },
    )

    def __init__(self, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.rows: list[list[str]] = []

    def clean_file(self) -> UploadedFile:
        """A file that holds a table."""
        file: UploadedFile = self.cleaned_data["file"]
        try:
            if (file.size or 0) > MOST_BYTES:
                raise SpreadsheetFault(f"A file may have at most 5 MB (got {file.size:,} bytes).")
            self.rows = read_table(file.name or "", file.read())
        except SpreadsheetFault as fault:
            raise ValidationError(str(fault)) from fault
        return file
