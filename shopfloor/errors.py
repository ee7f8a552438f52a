"""The one kind of error that a person reads: what is wrong, where, and what to do about it."""

from __future__ import annotations

import re

_ENDLESS = re.compile(r"[^\s/\\]{81,}")
_STEERING = re.compile("[\x00-\x09\x0b-\x1f\x7f-\x9f\u200e\u200f\u202a-\u202e\u2066-\u2069]+")


def _readable(text: str) -> str:
    """A sentence that repeats what somebody typed: words of a sane length, and nothing that steers a screen.

    >>> len(_readable("there is no job " + "x" * 5_000)), _readable("a\\x1b[31m\\u202eb")
    (77, 'a [31m b')
    """
    return _ENDLESS.sub(lambda found: f"{found[0][:60]}…", _STEERING.sub(" ", text))


class ShopError(Exception):
    """Base of every error that a person on the floor or in the office may read.

    `code` is stable: tests, the JSON answers and the JavaScript side key on it.  `where` names the file, row,
    column or field, or is empty where there is only one place it can be; `do` says what would be accepted.
    """

    code = "shop-error"

    def __init__(self, what: str, *, where: str = "", do: str = "") -> None:
        what, where, do = _readable(what), _readable(where), _readable(do)
        sentence = f"{where}: {what}" if where else what
        super().__init__(f"{sentence}. {do}".strip() if do else f"{sentence}.")
        self.what, self.where, self.do = what, where, do

    def as_json(self) -> dict[str, str]:
        """The shape in which every JSON answer carries an error."""
        return {"code": self.code, "what": self.what, "where": self.where, "do": self.do, "says": str(self)}
