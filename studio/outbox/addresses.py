"""One address, one line: nothing that is typed can add a header or somebody else to a letter."""

import re
import unicodedata

MOST_IN_ADDRESS = 254
_LOCAL = re.compile(r"[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+(\.[A-Za-z0-9!#$%&'*+/=?^_`{|}~-]+)*")
_LABEL = re.compile(r"[A-Za-z0-9]([A-Za-z0-9-]{0,61}[A-Za-z0-9])?")
# The two standards for such names read these differently, so a letter could go to somebody else's domain.
_READ_TWO_WAYS = "ßẞς\u200c\u200d"


class AddressRefused(ValueError):
    """No letter can be sent to this; the message is a sentence with the rule and what was typed."""

    def __init__(self, rule: str, typed: str) -> None:
        super().__init__(f"E-mail must be {rule} (got “{one_line(typed, 80)}”).")


def one_line(text: str, most: int) -> str:
    """The text in one line of at most `most` characters, without anything that cannot be seen."""
    seen = (" " if unicodedata.category(sign)[0] in "CZ" else sign for sign in text[: most * 8])
    return " ".join("".join(seen).split())[:most].rstrip()


def check_address(typed: str) -> str:
    """The address in plain letters, a domain of other letters as servers read it. Raises AddressRefused."""
    text = typed.strip(" ")
    if any(unicodedata.category(sign)[0] in "CZ" for sign in text[: 4 * MOST_IN_ADDRESS]):
        raise AddressRefused("one address, in one line and without spaces", typed)
    if any(sign in text for sign in ",;<>") or text.count("@") != 1:
        raise AddressRefused("one address, such as ines@example.org", typed)
    local, _, domain = text.partition("@")
    if not local.isascii():
        raise AddressRefused("written in plain letters before the @", typed)
    if not _LOCAL.fullmatch(local) or len(local) > 64:
        raise AddressRefused("an address, such as ines@example.org", typed)
    if any(sign in domain for sign in _READ_TWO_WAYS):
        raise AddressRefused("without ß or ς after the @: servers read them in two ways", typed)
    try:
        plain = domain.encode("idna").decode("ascii").lower() if len(domain) <= MOST_IN_ADDRESS else ""
    except UnicodeError:
        plain = ""
    labels = plain.split(".")
    if len(labels) < 2 or not all(_LABEL.fullmatch(label) for label in labels) or labels[-1].isdecimal():
        raise AddressRefused("an address with a domain after the @, such as ines@example.org", typed)
    address = f"{local}@{plain}"
    if len(address) > MOST_IN_ADDRESS:
        raise AddressRefused(f"at most {MOST_IN_ADDRESS} characters", typed)
    return address
