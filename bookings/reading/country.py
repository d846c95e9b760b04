"""Where a studio is, by what it has said of itself."""

from babel.core import get_global


def country_of(zone: str, currency: str) -> str:
    """The country (ISO 3166) whose phone numbers and dates a studio writes: by its time zone, else its money."""
    territory = get_global("zone_territories").get(zone)
    if isinstance(territory, str) and len(territory) == 2 and territory.isalpha():
        return territory
    return {"EUR": "DE", "GBP": "GB", "USD": "US"}.get(currency, currency[:2])
