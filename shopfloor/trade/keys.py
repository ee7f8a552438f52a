"""What is a thing called in the document?  A key made of its name, which stays: labels and joints hang on it."""

from __future__ import annotations

import unicodedata
from collections.abc import Iterable

__all__ = ["Keys", "slug"]


def slug(text: str) -> str:
    """A name as a key: small letters, digits and dashes, at most 48.

    >>> slug("Door stile"), slug("Füllung, oben (2)"), slug("<b>")
    ('door-stile', 'fuellung-oben-2', 'b')
    """
    words = text.casefold()
    for umlaut, two in (("ä", "ae"), ("ö", "oe"), ("ü", "ue")):
        words = words.replace(umlaut, two)
    bare = "".join(c for c in unicodedata.normalize("NFKD", words) if not unicodedata.combining(c))
    dashed = "".join(c if c.isascii() and c.isalnum() else "-" for c in bare)
    return "-".join(part for part in dashed.split("-") if part)[:48].strip("-")


class Keys:
    """Gives each name a key of its own, none of those that are `taken`: the second "Stile" is stile-2.

    >>> keys = Keys({"rail"})
    >>> keys.new("Stile", "part"), keys.new("Stile", "part"), keys.new("Rail", "part"), keys.new("<>", "part")
    ('stile', 'stile-2', 'rail-2', 'part')
    """

    def __init__(self, taken: Iterable[str] = ()) -> None:
        self.taken = set(taken)
        self.next: dict[str, int] = {}

    def new(self, name: str, otherwise: str, start: str = "") -> str:
        wanted = key = start + (slug(name) or otherwise)
        number = self.next.get(wanted, 2)
        while key in self.taken:
            key = f"{wanted}-{number}"
            number += 1
        self.next[wanted] = number
        self.taken.add(key)
        return key
