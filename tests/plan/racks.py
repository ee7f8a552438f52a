"""Racks and cut lists to plan with: written in inches, and drawn at random."""

from __future__ import annotations

from fractions import Fraction

from hypothesis import strategies as st

from shopfloor.plan.boards import Defect, Group, Kin, Plank, Rule, Saw, Task, Wanted
from shopfloor.trade.length import INCH

KERF = INCH // 8


def inch(text: str | int) -> int:
    """Inches, whole or with a fraction: inch("3 1/8")."""
    whole = sum((Fraction(each) for each in str(text).split()), Fraction(0)) * INCH
    assert whole.denominator == 1
    return whole.numerator


def wanted(*rows: str) -> tuple[Wanted, ...]:
    """Parts, a row each: "leg 4 30 x 2 1/4" gives leg-1 to leg-4, 30 in long."""
    found = []
    for row in rows:
        name, many, size = row.split(" ", 2)
        length, width = (inch(each.strip()) for each in size.split("x"))
        count = int(many)
        found += [Wanted(f"{name}-{n}" if count > 1 else name, length, width) for n in range(1, count + 1)]
    return tuple(found)


def planks(*rows: str) -> tuple[Plank, ...]:
    """Boards, a row each: "A 96 x 8"."""
    found = []
    for row in rows:
        name, size = row.split(" ", 1)
        length, width = (inch(each.strip()) for each in size.split("x"))
        found.append(Plank(name, length, width))
    return tuple(found)


SIXTEENTH = INCH // 16
sizes = st.integers(8, 900).map(lambda n: n * SIXTEENTH)
"""1/2 in to 56 in."""


@st.composite
def tasks(draw: st.DrawFn) -> Task:
    """A random rack and a random cut list: defects, trimmed ends, pins, groups, show parts and both rules."""
    step = draw(st.sampled_from([SIXTEENTH, 100_000, 123_457]))
    kerf = draw(st.sampled_from([2 * step, 3 * step, 0, step]))

    def length(low: int, high: int) -> int:
        return draw(st.integers(low, high)) * step

    boards = []
    for n in range(draw(st.integers(0, 5))):
        long, wide = length(100, 1400), length(20, 190)
        defects = []
        for _ in range(draw(st.integers(0, 3))):
            start = draw(st.integers(0, long))
            near = draw(st.integers(0, wide)) if draw(st.booleans()) else 0
            far = draw(st.integers(near, wide)) if near else 0
            defects.append(Defect(start, start + draw(st.integers(0, long // 5)), near, far))
        trim = (draw(st.sampled_from([0, 16 * step])), draw(st.sampled_from([0, 16 * step])))
        boards.append(Plank(f"B{n}", long, wide, defects=tuple(defects), trim=trim))
    parts = []
    for n in range(draw(st.integers(1, 7))):
        long, wide, many = length(10, 600), length(4, 100), draw(st.integers(1, 4))
        pin = draw(st.sampled_from(["", "", "", "", *[board.key for board in boards]]))
        show = draw(st.integers(0, 3)) == 0
        parts += [Wanted(f"P{n}-{each}", long, wide, board=pin, show=show) for each in range(many)]
    groups, free = [], [part for part in parts if not part.board]
    for n in range(draw(st.integers(0, 2))):
        many = draw(st.integers(1, 3))
        own, free = free[:many], free[many:]
        if own:
            groups.append(Group(f"G{n}", tuple(part.key for part in own), draw(st.sampled_from(list(Kin)))))
    least = draw(st.sampled_from([0, 0, 160 * step]))
    saw = Saw(
        kerf, draw(st.sampled_from(list(Rule))), least_section=least, least_strip=draw(st.sampled_from([0, least])),
        clear=draw(st.sampled_from([0, 16 * step])), offcut=(200 * step, 20 * step),
    )  # fmt: skip
    return Task(tuple(parts), tuple(boards), saw, tuple(groups))
