"""Which wood is meant, and how does it move?  The table of species, and finding one by the name people write.

A shop may add its own (European woods are not in the table): every function takes a `Species`, from wherever.
"""

from __future__ import annotations

import difflib
import re
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..errors import ShopError
from .fact import CONFIRMED, DERIVED, UNCONFIRMED, AnyFact, Fact, Status
from .sources import TABLE_4_3, TABLE_4_4, TABLE_13_5
from .species_table import ROWS

__all__ = ["SPECIES", "Species", "UnknownSpecies", "candidates", "find_species", "is_softwood", "species_facts"]

_STATUS = {"c": CONFIRMED, "d": DERIVED, "u": UNCONFIRMED}


@dataclass(frozen=True)
class Species:
    """One wood.  `tangential` (flatsawn width) and `radial` (quartersawn width) are the change per point of moisture,
    as a fraction of the width; shrinkage is in percent from green to ovendry, None where not known."""

    name: str
    botanical: str
    tangential: Fraction
    radial: Fraction
    shrinks_tangential: Fraction | None = None
    shrinks_radial: Fraction | None = None
    gravity: Fraction | None = None
    coefficients_are: Status = UNCONFIRMED
    shrinkage_is: Status = UNCONFIRMED
    gravity_is: Status = UNCONFIRMED


class UnknownSpecies(ShopError):
    """No wood of the table has this name, or several may be meant.  `suggests` holds those."""

    code = "unknown-species"

    def __init__(self, what: str, *, where: str = "", suggests: tuple[str, ...] = ()) -> None:
        do = f"Write {' or '.join(suggests)}." if suggests else "Write the wood's full name, or add it to the shop's."
        super().__init__(what, where=where, do=do)
        self.suggests = suggests


def _number(text: str) -> Fraction | None:
    return Fraction(text) if text else None


SPECIES: tuple[Species, ...] = tuple(
    Species(
        name, botanical, Fraction(tangential), Fraction(radial), _number(shrinks_t), _number(shrinks_r),
        _number(gravity), _STATUS[marks[0]], _STATUS.get(marks[1], UNCONFIRMED), _STATUS[marks[2]],
    )
    for name, botanical, tangential, radial, shrinks_t, shrinks_r, gravity, marks in ROWS
)  # fmt: skip


def candidates(text: str, table: Sequence[Species] = SPECIES) -> tuple[Species, ...]:
    """The woods that a written name may mean, in the table's order.

    The name as it stands in the table, or its botanical name, means that one wood.  Else all words written must be
    words of the name; where that leaves a commercial group it stands for its members, since lumber is sold as groups.

    >>> [wood.name for wood in candidates("Hard maple")], [wood.name for wood in candidates("ash")]
    (['sugar maple (hard)'], ['black ash', 'white ash'])
    """
    tidy = " ".join(text.split()).casefold()
    exact = tuple(wood for wood in table if tidy == wood.name.casefold())
    exact = exact or tuple(wood for wood in table if tidy == wood.botanical.casefold())
    if exact:
        return exact
    words = _words(text)
    found = tuple(wood for wood in table if words and words <= _words(wood.name))
    groups = tuple(wood for wood in found if "group" in _words(wood.name))
    return groups if len(groups) == 1 and len(words) > 1 else found


def find_species(text: str, table: Sequence[Species] = SPECIES, where: str = "") -> Species:
    """The one wood that a written name means.  Raises UnknownSpecies, with what may be meant.

    >>> find_species("cherry").name, find_species("red oak").name
    ('black cherry', 'red oak (commercial group)')
    """
    found = candidates(text, table)
    if len(found) == 1:
        return found[0]
    written = " ".join(text.split())
    if found:
        names = tuple(wood.name for wood in found)
        raise UnknownSpecies(f'"{written}" may be {len(found)} woods', where=where, suggests=names)
    raise UnknownSpecies(f'"{written}" is no wood of the table', where=where, suggests=_near(written, table))


CONIFERS = frozenset({
    "Abies", "Callitropsis", "Calocedrus", "Chamaecyparis", "Cupressus", "Juniperus", "Larix", "Picea", "Pinus",
    "Pseudotsuga", "Sequoia", "Taxodium", "Taxus", "Thuja", "Tsuga",
})  # fmt: skip
"""The genera of softwoods: a botanical word, whatever the wood's hardness."""
SOFTWOODS = frozenset({"cedar", "cypress", "fir", "hemlock", "larch", "pine", "redwood", "spruce", "yew"})
"""Names of softwoods that need not be in the table: "Baltic pine"."""


def is_softwood(text: str, table: Sequence[Species] = SPECIES) -> bool:
    """Whether a written name means a conifer: all woods of the table that it may mean, or by a word of it.

    >>> is_softwood("eastern white pine"), is_softwood("cherry"), is_softwood("European spruce, quartersawn")
    (True, False, True)
    """
    found = candidates(text, table)
    if found:
        return all(wood.botanical.split()[0] in CONIFERS for wood in found)
    return bool(_words(text) & SOFTWOODS)


def _near(written: str, table: Sequence[Species]) -> tuple[str, ...]:
    """Up to three woods that a slip of the pen may have meant: a word of theirs is spelled almost so."""
    known = sorted({word for wood in table for word in _words(wood.name)})
    meant = {word for typed in _words(written) for word in difflib.get_close_matches(typed, known, n=1, cutoff=0.8)}
    ranked = sorted(table, key=lambda wood: -len(meant & _words(wood.name)))
    return tuple(wood.name for wood in ranked[:3] if meant & _words(wood.name))


def _words(name: str) -> frozenset[str]:
    return frozenset(re.findall(r"[a-z]+", name.casefold()))


def species_facts(table: Sequence[Species] = SPECIES) -> tuple[AnyFact, ...]:
    """Every number of the table with its source, for the page that lists them."""
    found: list[AnyFact] = []
    for wood in table:
        key = "-".join(re.findall(r"[a-z]+", wood.name.casefold()))
        shrinkage = TABLE_4_4 if "mahogany" in wood.name else TABLE_4_3
        for short, name, value, unit, status, source in (
            ("tangential", "movement, flatsawn", wood.tangential, "of the width per point of moisture",
             wood.coefficients_are, TABLE_13_5),
            ("radial", "movement, quartersawn", wood.radial, "of the width per point of moisture",
             wood.coefficients_are, TABLE_13_5),
            ("shrinks-tangential", "shrinkage, tangential", wood.shrinks_tangential, "% green to ovendry",
             wood.shrinkage_is, shrinkage),
            ("shrinks-radial", "shrinkage, radial", wood.shrinks_radial, "% green to ovendry",
             wood.shrinkage_is, shrinkage),
            ("gravity", "specific gravity", wood.gravity, "of water", wood.gravity_is,
             "secondary tables of values of the US Forest Products Laboratory"),
        ):  # fmt: skip
            if value is not None:
                found.append(Fact(
                    key=f"species-{key}-{short}", subject="species", name=f"{wood.name}: {name}", value=value,
                    unit=unit, status=status, source=source, changeable=False,
                ))  # fmt: skip
    return tuple(found)
