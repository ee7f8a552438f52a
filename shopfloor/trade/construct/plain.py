"""What if a part is just a part?  A size, a count, and whether its hands go in pairs."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum
from typing import ClassVar

from ..length import Length
from ..part import Assembly, Feature, Hand, Line, Part, Unit
from .derived import Impossible, Override, StackName
from .made import Built, Gathered
from .outcome import Outcome

__all__ = ["Hands", "Plain", "derive"]

MOST = 1_000


class Hands(StrEnum):
    """Whether all parts are alike, or every second one is the mirror image."""

    ALIKE = "alike"
    PAIRS = "pairs"


@dataclass(frozen=True)
class Plain:
    """`count` parts of one size, in a stack of their own; what is cut into them is given."""

    kind: ClassVar[str] = "plain"
    key: str
    name: str
    thickness: Length
    width: Length
    length: Length
    count: int = 1
    hands: Hands = Hands.ALIKE
    species: str = ""
    datum: str = ""
    face_side: str = ""
    face_edge: str = ""
    note: str = ""
    features: tuple[Feature, ...] = ()
    overrides: tuple[Override, ...] = ()
    names: tuple[StackName, ...] = ()


def derive(plain: Plain, unit: Unit = Unit.INCH, number: int = 1) -> Built:
    """The line and its parts; they stand nowhere, since nothing says where they go."""
    outcome = Outcome("", unit, number, plain.overrides)
    outcome.add(lambda nth: _made(plain, nth, outcome))
    return outcome.built()


def _made(plain: Plain, number: int, outcome: Outcome) -> Gathered:
    for size in ("thickness", "width", "length"):
        if getattr(plain, size) <= 0:
            what = f"a {size} of {outcome.work.size(getattr(plain, size))}"
            raise Impossible(what, where=f"{plain.key}.{size}", do="Give it a size.")
    if not 1 <= plain.count <= MOST:
        raise Impossible(f"{plain.count} parts", where=f"{plain.key}.count", do=f"1 to {MOST} would do.")
    if plain.hands is Hands.PAIRS and plain.count % 2:
        what, do = f"{plain.count} parts do not go in pairs", f"{plain.count - 1} or {plain.count + 1} would do."
        raise Impossible(what, where=f"{plain.key}.count", do=do if plain.count > 1 else "2 would do.")
    hands = [
        Hand.MIRROR if plain.hands is Hands.PAIRS and nth % 2 else Hand.AS_DRAWN for nth in range(plain.count)
    ]  # fmt: skip
    names = [plain.key] if plain.count == 1 else [f"{plain.key}.{nth}" for nth in range(1, plain.count + 1)]
    parts = tuple(Part(name, hand=hand) for name, hand in zip(names, hands, strict=True))
    line = Line(
        plain.key, plain.key, plain.name, plain.thickness, plain.width, plain.length, plain.species, plain.datum,
        plain.face_side, plain.face_edge, note=plain.note, features=plain.features, parts=parts,
    )  # fmt: skip
    return Gathered([Assembly(plain.key, number, plain.name)], [line])
