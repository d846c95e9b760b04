"""What the grid of the shelf writes hundreds of times."""

from functools import lru_cache

from django import template
from django.utils.html import format_html
from django.utils.safestring import SafeString

from stock.models import Colour

register = template.Library()


@register.simple_tag
def gap(colour: Colour, size: int, new_item: str) -> SafeString:
    """Where no balloon of a colour and size is listed: a way to list it at the address `new_item`."""
    return _gap(colour.pk, colour.name, size, new_item)


@lru_cache(2048, typed=True)
def _gap(key: int, name: str, size: int, new_item: str) -> SafeString:
    return format_html(
        '<a class="shelf-cell" href="{}?colour={}&amp;size={}"><span class="soft" aria-hidden="true">+</span>'
        '<span class="visually-hidden">List {} {}-inch</span></a>',
        new_item,
        key,
        size,
        name,
        size,
    )
