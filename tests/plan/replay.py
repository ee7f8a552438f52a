"""A board plan checked at the saw: every cut replayed, by code of its own that knows nothing of the search.

`replay` raises AssertionError with what is wrong.  It reads the task and the plan, and works everything else out: the
pieces after each cut, the kerf, the stages, where the defects lie, what stands next to what.
"""

from __future__ import annotations

import re
from itertools import pairwise

from shopfloor.plan.boards import BoardPlan, Kin, Plan, Plank, Role, Rule, Task, Wanted, Way

STAGES = {Rule.RIP_FIRST: "r?c?r?c?", Rule.CROSSCUT_FIRST: "c?r?c?r?c?"}
"""How often the direction may change.  The last rip frees a part from a wider strip, or parts from their neighbours;
the last crosscut shortens one of those."""

Rect = tuple[int, int, int, int]


def replay(task: Task, plan: Plan) -> None:
    """The plan does what the task asks."""
    planks = {plank.key: plank for plank in task.planks}
    wanted = {part.key: part for part in task.wanted}
    assert len({each.board for each in plan.boards}) == len(plan.boards), "a board is cut twice"
    at: dict[str, tuple[str, Rect]] = {}
    for board in plan.boards:
        plank = planks[board.board]
        _cut(task, plank, board)
        assert board.area == plank.length * plank.width
        for piece in board.parts:
            assert piece.part not in at, f"{piece.part} is cut twice"
            at[piece.part] = (board.board, (piece.x, piece.y, piece.length, piece.width))
            _lies_well(task, plank, wanted[piece.part], (piece.x, piece.y, piece.length, piece.width))
        assert board.parts, f"{board.board} is opened for nothing"
    left = [each.part for each in plan.left_over]
    assert len(set(left)) == len(left) and not set(left) & set(at), "a part is left over and cut"
    assert set(left) | set(at) == set(wanted), "a part is forgotten"
    for group in task.groups:
        placed = [key for key in group.parts if key in at]
        assert not placed or len(placed) == len(group.parts), f"{group.key} is torn"
        if placed:
            _together(task, group.kin, [at[key] for key in group.parts])
    if plan.left_over:
        assert plan.least is None
    else:
        assert plan.least is not None and plan.least <= plan.used, "the proof is above the plan"


def _cut(task: Task, plank: Plank, board: BoardPlan) -> None:
    kerf = task.saw.kerf
    loose: dict[int, Rect] = {0: (0, 0, plank.length, plank.width)}
    path = {0: ""}
    ripped: set[int] = set()
    for nth, cut in enumerate(board.cuts, start=1):
        assert cut.number == nth
        x, y, length, width = loose.pop(cut.of)
        begin, size = (x, length) if cut.way is Way.CROSSCUT else (y, width)
        assert begin - kerf < cut.at < begin + size or (kerf == 0 and begin < cut.at < begin + size), "cuts air"
        low, high = cut.at - begin, begin + size - cut.at - kerf
        for number, start, extent in ((cut.low, begin, low), (cut.high, cut.at + kerf, high)):
            assert (number is not None) == (extent > 0), "a piece too many or too few"
            if number is not None:
                assert number not in loose and number not in path
                across = cut.way is Way.CROSSCUT
                loose[number] = (start, y, extent, width) if across else (x, start, length, extent)
                path[number] = path[cut.of] + ("c" if across else "r")
        if cut.way is Way.RIP:
            ripped.add(cut.of)
            assert length >= task.saw.least_strip, "too short to be ripped"
            if board.pieces[cut.of].role is Role.SECTION:
                assert length >= task.saw.least_section, "too short a section"
    assert set(path) == set(range(len(board.pieces)))
    for number, rect in loose.items():
        piece = board.pieces[number]
        assert (piece.x, piece.y, piece.length, piece.width) == rect
        kept = piece.length >= task.saw.offcut[0] and piece.width >= task.saw.offcut[1]
        assert piece.role in ((Role.PART,) if piece.part else (Role.OFFCUT if kept else Role.WASTE,))
        stages = re.sub(r"(.)\1+", r"\1", path[number])
        if piece.part:
            assert re.fullmatch(STAGES[task.saw.rule], stages), f"{stages} is not {task.saw.rule}"
    for piece in board.pieces:
        assert (piece.number in loose) is (piece.role in (Role.PART, Role.OFFCUT, Role.WASTE))


def _lies_well(task: Task, plank: Plank, part: Wanted, rect: Rect) -> None:
    x, y, length, width = rect
    assert (length, width) == (part.length, part.width), f"{part.key} has another size, or is turned"
    assert part.board in ("", plank.key), f"{part.key} is pinned to {part.board}"
    assert x >= plank.trim[0] and x + length <= plank.length - plank.trim[1], f"{part.key} lies in a trimmed end"
    away = task.saw.clear if part.show else 0
    for each in plank.defects:
        near, far = (each.near, each.far) if each.far else (0, plank.width)
        clear = (
            x + length <= each.start - away or x >= each.end + away or y + width <= near - away or y >= far + away
        )  # fmt: skip
        assert clear, f"{part.key} lies on a defect"


def _together(task: Task, kin: Kin, placed: list[tuple[str, Rect]]) -> None:
    assert len({board for board, _ in placed}) == 1, "a group on two boards"
    rects = [rect for _, rect in placed]
    kerf = task.saw.kerf
    in_a_row = all(b[0] == a[0] + a[2] + kerf and b[1] == a[1] for a, b in pairwise(rects))
    abreast = all(b[1] == a[1] + a[3] + kerf and b[0] == a[0] for a, b in pairwise(rects))
    assert {Kin.SEQUENCE: in_a_row, Kin.SIDE_BY_SIDE: abreast, Kin.NEIGHBOURS: in_a_row or abreast}[kin], kin
