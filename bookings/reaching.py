"""When two ways of writing a telephone number, a mail address or a name mean the same.

What was typed is what is shown and dialled; these are for comparing alone.
"""

import unicodedata

import phonenumbers
from babel.core import get_global

FEWEST_DIGITS = 5
"""A shorter number is nobody's own: an extension, a slip of the thumb."""


def country_of(*, phone: str, time_zone: str) -> str:
    """The two letters of ISO 3166 of a studio: of its own number where that has a country, else of its time zone.

    Empty where neither says, as with UTC and a number without a country.
    """
    try:
        own = phonenumbers.parse(phone, None)
    except phonenumbers.NumberParseException:
        return str(get_global("zone_territories").get(time_zone) or "")
    return str(phonenumbers.region_code_for_country_code(own.country_code or 0)).replace("ZZ", "")


def phone_key(typed: str, country: str) -> str:
    """A number as it is compared: E.164 (ITU-T), with `country` for one typed without; empty where there is none.

    An extension makes it another number, as it is another desk. What is no number of any country's plan is compared
    by its digits.
    """
    try:
        number = phonenumbers.parse(typed, country or None)
    except phonenumbers.NumberParseException:
        digits = digits_of(typed)
        return digits if len(digits) >= FEWEST_DIGITS else ""
    if len(str(number.national_number)) < FEWEST_DIGITS:
        return ""
    written = str(phonenumbers.format_number(number, phonenumbers.PhoneNumberFormat.E164))
    return f"{written}x{number.extension}"[:40] if number.extension else written[:40]


def digits_of(typed: str) -> str:
    """The digits in it, in ASCII: part of a number as somebody remembers it."""
    return "".join(str(unicodedata.digit(sign)) for sign in typed if sign.isdigit())[:40]


def mail_key(typed: str) -> str:
    """An address as it is compared: no blanks around it, and upper and lower case alike.

    RFC 5321 lets the part before the @ tell them apart; no mailbox people have does.
    """
    return typed.strip().casefold()


def name_key(typed: str) -> str:
    """A name as it is looked for: without accents, in one case, single blanks."""
    bare = (sign for sign in unicodedata.normalize("NFKD", typed) if not unicodedata.combining(sign))
    return " ".join("".join(bare).casefold().split())[:240]
