"""What is wrong with a document?  Every fault at once, each with its place and what would be accepted."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from ..errors import ShopError


@dataclass(frozen=True)
class Fault:
    """One thing that is wrong: `where` names the place ('line "leg", width'), `do` says what would be accepted."""

    where: str
    what: str
    do: str = ""

    def __str__(self) -> str:
        sentence = f"{self.where}: {self.what}" if self.where else self.what
        return f"{sentence}. {self.do}".rstrip() if self.do else f"{sentence}."


class DocumentFault(ShopError):
    """A document that cannot be taken as it is.  `faults` lists everything that is wrong with it, in its order."""

    code = "document-fault"

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        first = self.faults[0]
        if len(self.faults) == 1:
            super().__init__(first.what, where=first.where, do=first.do)
            return
        listed = " ".join(str(fault) for fault in self.faults)
        super().__init__(f"{len(self.faults)} faults. {listed}".removesuffix("."))
