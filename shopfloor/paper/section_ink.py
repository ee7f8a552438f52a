"""The ink of sections: wood sawn through, hatched; what is measured down from the surface; where it was sawn."""

from __future__ import annotations

from collections.abc import Sequence
from xml.sax.saxutils import quoteattr

from .relief import loops
from .section_cells import BRACKET, Cell
from .type import num, plain

HATCH = 10  # from line to line
END = 2.5  # how far the ends of a measuring line reach to either side
RAGGED = ((0.0, 0.0), (0.28, 1.0), (0.5, -0.6), (0.72, 1.0), (1.0, 0.0))
"""The edge where a section is broken off, from top to foot: how far down, how far inwards in `RAG`."""
RAG = 4


def ink(cells: Sequence[Cell]) -> str:
    """The sections of a drawing without their words."""
    return "".join(
        f"<g data-section={quoteattr(plain(cell.section.cut.key))}>{_wood(cell)}{_broken(cell)}{_measures(cell)}</g>"
        for cell in cells
    )


def _wood(cell: Cell) -> str:
    xs = [num(cell.x(place)) for place in cell.section.across]
    ys = [num(cell.top + cell.down(place)) for place in cell.section.down]
    outline = "".join("M" + "L".join(f"{xs[j]} {ys[i]}" for i, j in loop) + "Z" for loop in loops(cell.section.wood))
    return (
        f'<path class="wood through" fill="#f0e4c8" stroke="#000" stroke-width="1.6" d="{outline}"/>'
        f'<path class="grain" fill="none" stroke="#b89b63" stroke-width="0.8" d="{_hatching(cell)}"/>'
        f"{_datum(cell)}"
    )


def _rows(cell: Cell) -> list[tuple[float, float, list[tuple[float, float]]]]:
    """The wood of each row of the grid: its top and foot, and from where to where there is wood."""
    section = cell.section
    found = []
    for i, row in enumerate(section.wood):
        runs: list[tuple[float, float]] = []
        for j, wood in enumerate(row):
            a, z = sorted((cell.x(section.across[j]), cell.x(section.across[j + 1])))
            if not wood:
                continue
            if runs and abs(runs[-1][1] - a) < 1e-6:
                runs[-1] = (runs[-1][0], z)
            elif runs and abs(runs[-1][0] - z) < 1e-6:
                runs[-1] = (a, runs[-1][1])
            else:
                runs.append((a, z))
        found.append((cell.top + cell.down(section.down[i]), cell.top + cell.down(section.down[i + 1]), runs))
    return found


def _hatching(cell: Cell) -> str:
    """End grain is hatched aslant, wood cut along its grain with lines along it."""
    if cell.section.at is None:
        lines = []
        for top, foot, runs in _rows(cell):
            count = round((foot - top) / HATCH)  # the thinnest rows have none
            for n in range(count):
                y = top + (foot - top) * (n + 0.5) / count
                lines += [f"M{num(a + 2 + 3 * (n % 2))} {num(y)}H{num(z - 2)}" for a, z in runs if z - a > 10]
        return "".join(lines)
    # A line aslant is x + y = sum, or x - y = difference in a mirror image; in each row it runs straight on.
    way = 1 if cell.flipped else -1
    lines, rows = [], _rows(cell)
    low, high = cell.left - cell.down.drawn[-1], cell.left + cell.wide + cell.down.drawn[-1]
    for n in range(int((high - low) / HATCH)):
        start = (low + n * HATCH) if way < 0 else (high - n * HATCH)
        at: tuple[float, float] | None = None
        for top, foot, runs in rows:
            for a, z in runs:
                # x = start - way * (y - cell.top)
                t0, t1 = top - cell.top, foot - cell.top
                x0, x1 = start - way * t0, start - way * t1
                first, last = max(min(x0, x1), a), min(max(x0, x1), z)
                if first >= last:
                    continue
                ends = [(x, cell.top + (start - x) * way) for x in (first, last)]
                (xa, ya), (xb, yb) = sorted(ends, key=lambda end: end[1])
                if at and abs(at[0] - xa) < 1e-6 and abs(at[1] - ya) < 1e-6:
                    lines.append(f"L{num(xb)} {num(yb)}")
                else:
                    lines.append(f"M{num(xa)} {num(ya)}L{num(xb)} {num(yb)}")
                at = (xb, yb)
    return "".join(lines)


def _datum(cell: Cell) -> str:
    """The datum end of a lengthwise section is a crayon line, as it is in the views."""
    if cell.section.at is not None or cell.section.across[0]:
        return ""
    top, foot = cell.top - 3, cell.top + cell.down.drawn[-1] + 3
    line = f"M{num(cell.left)} {num(top)}V{num(foot)}"
    return f'<path class="datum" fill="none" stroke="#9a2318" stroke-width="2.4" d="{line}"/>'


def _broken(cell: Cell) -> str:
    """Where the part goes on beyond a lengthwise section, it is broken off."""
    high = cell.down.drawn[-1]
    out = []
    for open_, edge, way in zip(cell.section.opens, (cell.left, cell.left + cell.wide), (1, -1), strict=True):
        if not open_:
            continue
        ragged = [(edge + way * (2 + RAG * (inwards + 0.6)), cell.top + high * a) for a, inwards in RAGGED]
        line = "L".join(f"{num(x)} {num(y)}" for x, y in ragged)
        beyond = num(edge - way * 1.5)
        top, foot = num(cell.top - 1.5), num(cell.top + high + 1.5)
        out.append(
            f'<path class="gap" fill="#fff" d="M{beyond} {top}H{num(ragged[0][0])}L{line}V{foot}H{beyond}Z"/>'
            f'<path class="seen" fill="none" stroke="#000" stroke-width="0.9" d="M{line}"/>'
        )
    return "".join(out)


def _measures(cell: Cell) -> str:
    x = cell.left + cell.wide + BRACKET
    lines = []
    for measure, (_, middle, y) in zip(cell.section.measures, cell.ties, strict=True):
        top, foot = (cell.top + cell.down(place) for place in (measure.top, measure.foot))
        lines.append(f"M{num(x - END)} {num(top)}h{num(2 * END)}M{num(x - END)} {num(foot)}h{num(2 * END)}")
        lines.append(f"M{num(x)} {num(top)}V{num(foot)}M{num(x)} {num(middle)}L{num(x + 8)} {num(y)}")
    return f'<path class="leader" fill="none" stroke="#555045" stroke-width="0.9" d="{"".join(lines)}"/>'
