"""Where a letter's link leads. A letter keeps what it links to, and the link is made when it is sent or shown."""

from collections.abc import Callable

_makers: dict[str, Callable[[str], str]] = {}


class NoSuchLink(LookupError):
    """What the letter links to is not there any more."""


def make_links_of(kind: str, maker: Callable[[str], str]) -> None:
    """Have paths of links named `kind:…` made by `maker`, which is given what stands after the colon."""
    _makers[kind] = maker


def full_link(name: str, *, base: str) -> str:
    """The whole address of a link such as "booking:12"; "" where a letter has none. Raises NoSuchLink."""
    if not name:
        return ""
    kind, _, of = name.partition(":")
    maker = _makers.get(kind)
    if maker is None:
        raise NoSuchLink(f"There are no links of the kind {kind!r}.")
    return base + maker(of)
