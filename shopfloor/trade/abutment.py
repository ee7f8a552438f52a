"""Where does a part stand that is to be joined to another, when nothing says where either stands in the piece?

The part whose end comes is stood at its own corner, as drawn; its mate is stood against it, from what a maker says at
the bench.  Only how the two lie to each other matters, so their joint comes out as it would in the piece, for either
hand.
"""

from __future__ import annotations

from dataclasses import dataclass

from .joint import BadJoint, Member
from .length import Length
from .part import AXES, ENDS, FACES, Face, Placement, Stock

__all__ = ["Abutment"]

_NAMES = {way: name for name, way in AXES.items()}
_FIRST = (Face.DATUM_END, Face.FACE_EDGE, Face.FACE_SIDE)


@dataclass(frozen=True)
class Abutment:
    """How a part comes to its mate.

    `end` is the end (or edge) that comes, `face` the face or edge of the mate that it comes to.  `at` is how far from
    the mate's datum end the part begins; `behind` how far behind the mate's face side (on an edge) or face edge (on a
    face), None for the middle.  Its breadth, the width of what comes with an end and the length of what comes with an
    edge, runs along the mate, or `across`.  Its face edge (its datum end) looks to the mate's datum end, or `turned`
    to the far end; across the mate it is the face side instead.
    """

    end: Face
    face: Face
    at: Length = 0
    behind: Length | None = None
    across: bool = False
    turned: bool = False

    def same_way(self) -> bool:
        """Whether two parts of one hand have what is left, the third direction, look the same way: then `behind`
        counts from their like sides."""
        return _determinant(self._mate(1)) > 0

    def members(self, comes: Stock, mate: Stock, deep: Length, *, same_hand: bool = True) -> tuple[Member, Member]:
        """Both parts where they stand, the end `deep` below the surface of the mate.

        Raises BadJoint for an end of the mate, or for a surface of the part that is neither end nor edge.
        """
        if self.face in ENDS:
            raise BadJoint(f"the part comes to the {self.face} of its mate", "Let it come to a face or an edge.")
        if self.end in FACES:
            raise BadJoint(f"the {self.end} cannot enter a mate", "Let an end or an edge come.")
        rest = 1 if self.same_way() == same_hand else -1
        directions = self._mate(rest)
        size = (comes.length, comes.width, comes.thickness)
        own = (mate.length, mate.width, mate.thickness)
        into, _, third = self._axes_of_mate()
        behind = (own[third] - size[self._third()]) // 2 if self.behind is None else self.behind
        at = [0, 0, 0]
        for axis, begins in ((0, self.at), (third, behind)):
            space = next(nth for nth in range(3) if directions[axis][nth])
            at[space] = -begins if directions[axis][space] > 0 else begins + size[space]
        space = self._comes()
        first = self.end in _FIRST
        surface = deep if first else size[space] - deep
        face_at = 0 if self.face in _FIRST else own[into]
        at[space] = surface - face_at * directions[into][space]
        stands = Placement(" ".join(_NAMES[way] for way in directions), (at[0], at[1], at[2]))
        return Member(comes, Placement()), Member(mate, stands)

    # Axes are 0 for the length, 1 for the width, 2 for the thickness; those of space are those of the part that comes.

    def _comes(self) -> int:
        return 0 if self.end in ENDS else 1

    def _along(self) -> int:
        """Which way of the part runs along the mate."""
        broad = 1 if self.end in ENDS else 0
        return 2 if self.across else broad

    def _third(self) -> int:
        return 3 - self._comes() - self._along()

    def _axes_of_mate(self) -> tuple[int, int, int]:
        """Of the mate: the axis that is entered, the length, and the third."""
        into = 2 if self.face in FACES else 1
        return into, 0, 3 - into

    def _mate(self, rest: int) -> tuple[tuple[int, int, int], ...]:
        """Where the mate's own axes point; `rest` is +1 if the third looks the same way as the part's, else -1."""
        into, _, third = self._axes_of_mate()
        sign = -1 if (self.end in _FIRST) == (self.face in _FIRST) else 1
        found = {
            0: (self._along(), -1 if self.turned else 1),
            into: (self._comes(), sign),
            third: (self._third(), rest),
        }
        ways = [tuple(sign if nth == space else 0 for nth in range(3)) for _, (space, sign) in sorted(found.items())]
        return tuple((x, y, z) for x, y, z in ways)


def _determinant(ways: tuple[tuple[int, int, int], ...]) -> int:
    (a, b, c), (d, e, f), (g, h, i) = ways
    return a * (e * i - f * h) - b * (d * i - f * g) + c * (d * h - e * g)
