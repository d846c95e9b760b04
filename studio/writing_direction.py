"""Which way the words of a paper run: the engine that sets it knows `dir="rtl"`, and neither `dir="auto"` nor `<bdi>`.

It lays each element's words by themselves, so a name in a `<bdi>` of its own leaves the words around it in order.
"""

from typing import Any
from unicodedata import bidirectional


def runs_from_the_right(text: str) -> bool:
    """Whether a line of these words begins at the right: by the first letter that has a direction (UAX #9, P2)."""
    directions = (bidirectional(letter) for letter in text)
    return next((found != "L" for found in directions if found in ("L", "R", "AL")), False)


def turn(page: Any) -> None:
    """Write down which way the words of `dir="auto"` and of `<bdi>` run in a page, an element of a tree.

    Only what runs from the right is said, so that other paper stays the same to the byte.
    """
    for element in page.iter():
        if element.get("dir") == "auto" or (element.tag == "bdi" and "dir" not in element.attrib):
            element.attrib.pop("dir", None)
            if runs_from_the_right("".join(element.itertext())):
                element.set("dir", "rtl")
