"""The one kind of error that a person reads: what is wrong, where, and what to do about it."""

from __future__ import annotations


class ShopError(Exception):
    """Base of every error that a person on the floor or in the office may read.

    `code` is stable: tests, the JSON answers and the JavaScript side key on it.  `where` names the file, row,
    column or field, or is empty where there is only one place it can be; `do` says what would be accepted.
    """

    code = "shop-error"

    def __init__(self, what: str, *, where: str = "", do: str = "") -> None:
        sentence = f"{where}: {what}" if where else what
        super().__init__(f"{sentence}. {do}".strip() if do else f"{sentence}.")
        self.what, self.where, self.do = what, where, do

    def as_json(self) -> dict[str, str]:
        """The shape in which every JSON answer carries an error."""
        return {"code": self.code, "what": self.what, "where": self.where, "do": self.do, "says": str(self)}
