"""A press that sets nothing, for whoever needs a paper and does not read it."""

import hashlib
import json
import re
from collections.abc import Sequence

from studio.pdf import SCHEME

_NAMED = re.compile(re.escape(SCHEME) + r"([^\"')#\s]+)")


class BlankPress:
    """Stands in for `studio.press.Press`: the same words give the same bytes, and nobody can read them."""

    def ask(self, head: bytes, parts: Sequence[bytes], *, answers: int) -> tuple[bytes, list[bytes]]:
        """A blank paper, or what the engine would find first: a picture or a font that was not handed over."""
        asked = json.loads(head)
        named = set(_NAMED.findall("\n".join([asked["html"], *asked["stylesheets"]])))
        faults = [f"no such asset: {name}" for name in sorted(named - {name for name, _ in asked["assets"]})]
        mark = hashlib.sha256(b"\n".join([head, *parts])).hexdigest()
        told = {"faults": faults, "refused": [], "heard": []}
        return json.dumps(told).encode(), [b"" if faults else f"%PDF-1.7\n% blank {mark}\n".encode()] * answers
