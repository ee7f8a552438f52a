"""What is the search asked?  From blanks of one or several jobs and the boards of the rack to tasks, one for each wood.

Parts that a job calls a grain group come from one board in the order in which they will be seen: one after the other
where each is one blank; boards of one panel lie beside each other.  Thick square parts (legs) go in pairs of
neighbouring wood.  The maker may pin a part to a board.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction

from ..trade.board import OFFCUT_LENGTH, OFFCUT_WIDTH, SHORTEST, SHOW_CLEAR, Board, Defect
from ..trade.buying import Wood
from ..trade.habit import Habits
from ..trade.length import Length
from ..trade.milling import KERF
from ..trade.part import Unit
from ..trade.stock import Blank
from .boards import Group, Kin, Plank, Rule, Saw, Task, Wanted

__all__ = ["Asked", "Piece", "asked", "piece_key", "saw_by"]

SQUARE = Fraction(4, 5)
"""A part whose thickness is at least that share of its width is turned so that its best faces show: a leg, a post."""


@dataclass(frozen=True)
class Piece:
    """A blank of a job, as it is planned.  `board` is the board that it is pinned to."""

    job: str
    blank: Blank
    board: str = ""

    @property
    def key(self) -> str:
        return piece_key(self.job, self.blank.key)


@dataclass(frozen=True)
class Asked:
    """One wood, its task, and its pieces by their keys."""

    wood: Wood
    task: Task
    pieces: Mapping[str, Piece]


def saw_by(habits: Habits, unit: Unit, rule: Rule) -> Saw:
    """How a shop with these habits cuts boards: its kerf, and the shortest piece that its machines take safely."""
    shortest = habits.of(SHORTEST, unit)
    return Saw(
        habits.of(KERF, unit), rule, shortest, shortest, habits.of(SHOW_CLEAR, unit),
        (habits.of(OFFCUT_LENGTH, unit), habits.of(OFFCUT_WIDTH, unit)),
    )  # fmt: skip


def piece_key(job: str, blank: str) -> str:
    """The name of a blank among those of several jobs."""
    return f"{job}:{blank}"


def asked(pieces: Sequence[Piece], boards: Iterable[Board], saw: Saw, trim: Length) -> list[Asked]:
    """The tasks of some pieces and the boards that can be cut, in the order of the woods' names and thicknesses.

    Species are told apart as they are written, but for capitals.
    """
    of_wood: dict[tuple[str, Length], list[Piece]] = {}
    for piece in pieces:
        of_wood.setdefault(_kind(piece.blank.species, piece.blank.lumber.nominal), []).append(piece)
    racked: dict[tuple[str, Length], list[Board]] = {}
    for board in boards:
        racked.setdefault(_kind(board.species, board.lumber.nominal), []).append(board)
    found = []
    for kind, own in sorted(of_wood.items()):
        first = own[0].blank
        task = Task(
            tuple(_wanted(piece) for piece in own),
            tuple(_plank(board, trim) for board in racked.get(kind, ())),
            saw,
            tuple(_groups(own)),
        )
        found.append(Asked(Wood(first.species, first.lumber), task, {piece.key: piece for piece in own}))
    return found


def _kind(species: str, nominal: Length) -> tuple[str, Length]:
    return " ".join(species.casefold().split()), nominal


def _wanted(piece: Piece) -> Wanted:
    blank = piece.blank
    name = f"{blank.called}, {blank.says}" if blank.says else blank.called
    return Wanted(piece.key, blank.rough.length, blank.rough.width, name, piece.board, bool(blank.group))


def _plank(board: Board, trim: Length) -> Plank:
    usable = board.usable
    defects = []
    for one in board.defects:
        if one.far:
            near, far = one.near - usable.inset, min(one.far - usable.inset, usable.width)
            if far > 0 and near < usable.width:
                defects.append(Defect(one.start, one.end, max(near, 0), far, one.what))
        else:
            defects.append(one)
    both = trim if 2 * trim < board.length else 0
    # An offcut's ends are sawn already.
    return Plank(board.id, board.length, usable.width, board.mark, tuple(defects), (0, 0) if board.of else (both, both))


def _groups(pieces: Sequence[Piece]) -> list[Group]:
    """The grain groups of one wood."""
    found: list[Group] = []
    in_a_row: dict[tuple[str, str], list[Piece]] = {}
    of_part: dict[tuple[str, str], list[Piece]] = {}
    posts: dict[tuple[str, str], list[Piece]] = {}
    for piece in pieces:
        blank = piece.blank
        if blank.nth[1] > 1:
            if blank.group:
                of_part.setdefault((piece.job, blank.parts[0]), []).append(piece)
        elif blank.group:
            in_a_row.setdefault((piece.job, blank.group), []).append(piece)
        elif blank.finished.thickness >= SQUARE * blank.finished.width:
            posts.setdefault((piece.job, blank.line), []).append(piece)
    for (job, name), own in in_a_row.items():
        if len(own) > 1:
            found.append(Group(f"{job}:{name}", tuple(piece.key for piece in own), Kin.SEQUENCE, name))
    for (job, part), own in of_part.items():
        found.append(Group(f"{job}:{part}", tuple(piece.key for piece in own), Kin.NEIGHBOURS, own[0].blank.called))
    for (job, line), own in _pairs(posts).items():
        found.append(Group(f"{job}:{line}", tuple(piece.key for piece in own), Kin.NEIGHBOURS, own[0].blank.called))
    return found


def _pairs(posts: Mapping[tuple[str, str], Sequence[Piece]]) -> dict[tuple[str, str], list[Piece]]:
    """Square parts two by two, in the order of the cut list: front left with front right, back left with back right."""
    by_job: dict[tuple[str, tuple[Length, ...]], list[Piece]] = {}
    for (job, _), own in posts.items():
        for piece in own:
            by_job.setdefault((job, tuple(piece.blank.finished)), []).append(piece)
    found = {}
    for (job, _), alike in by_job.items():
        for nth in range(0, len(alike) - 1, 2):
            found[job, alike[nth].blank.key] = list(alike[nth : nth + 2])
    return found
