"""How big is each panel of a frame?  Tongues all round, loose in their grooves.

Source: panel.py, width = opening + 2 x (groove - clearance).
"""

from __future__ import annotations

from ..length import Length
from ..part import Face, Part, Placement, Stock, Tongue
from .derived import minus, plus
from .frame_choices import Panel
from .frame_layout import UPRIGHT, Layout

__all__ = ["panels"]


def panels(lay: Layout, panel: Panel) -> None:
    """A line for each size of panel: tongues all round, free to move in their grooves."""
    frame, groove, work = lay.frame, lay.groove, lay.work
    assert groove
    low, high = lay.setting.ends
    sizes: dict[tuple[Length, Length], list[Part]] = {}
    widths: dict[int, Length] = {}
    lengths: dict[Length, Length] = {}
    for row, field in enumerate(lay.fields):
        count = frame.muntins[row] if frame.muntins else 0
        if count not in widths:
            widths[count] = panel_width(lay, panel, count, len(widths))
        if field not in lengths:
            key = f"{lay.key}panel.length" + (f"-{row + 1}" if lengths else "")
            lengths[field] = work.length(
                key, "panel", plus("between the rails", field), plus("groove", groove.depth, 2),
                minus("clearance", panel.ends, 2),
            )  # fmt: skip
        wide, long = widths[count], lengths[field]
        top = lay.tops[row] + frame.rails[row] + (field - long) // 2
        for column in range(len(lay.columns)):
            for nth, (start, end) in enumerate(lay.openings(column, count)):
                own, place = panel_name(lay, row, column, nth, count)
                at = (start + (end - start - wide) // 2 + wide, top, panel.set_back)
                made = lay.part(lay.setting.part + own, place, Placement(UPRIGHT, at))
                sizes.setdefault((wide, long), []).append(made)
                lay.meet_rails(own, row, column, panel.ends, lettered=False, shoulder=panel.ends)
                meet_uprights(lay, own, row, column, nth, count, panel.beside)
    lies = groove.offset - panel.set_back
    size = work.eased(f"{lay.key}panel.tongue", "tongue", "groove", lies, groove.width, panel.thickness)
    tongue = (groove.depth, *size)
    faces = (("top", Face.DATUM_END), ("bottom", Face.FAR_END), (high, Face.FACE_EDGE), (low, Face.FAR_EDGE))
    features = [Tongue(name, face, *tongue) for name, face in faces]
    for nth, ((wide, long), parts) in enumerate(sizes.items()):
        key = f"{lay.key}panel" + (f"-{nth + 1}" if len(sizes) > 1 else "")
        stock = Stock(panel.thickness, wide, long)
        lay.line(key, "Panel", stock, "top", high, features, parts, panel)


def panel_width(lay: Layout, panel: Panel, muntins: int, nth: int) -> Length:
    groove, work = lay.groove, lay.work
    assert groove
    suffix = f"-{nth + 1}" if nth else ""
    opening = lay.column
    if muntins:
        opening = work.length(
            f"{lay.key}opening{suffix}", "opening", plus("between the uprights", lay.column),
            minus("muntin", lay.frame.muntin, muntins), over=muntins + 1,
        )  # fmt: skip
    return work.length(
        f"{lay.key}panel.width{suffix}", "panel", plus("opening", opening), plus("groove", groove.depth, 2),
        minus("clearance", panel.beside, 2),
    )  # fmt: skip


def meet_uprights(lay: Layout, own: str, row: int, column: int, nth: int, count: int, clear: Length) -> None:
    """The two long edges of a panel, in a muntin or in what stands at the side."""
    low, high = lay.setting.ends
    stands = {at: name for at_column, at, name in lay.each_muntin(row, count) if at_column == column}
    mates = lay.columns[column].mates
    before = f"{lay.setting.part}{stands[nth - 1]}/{high}" if nth else None
    after = f"{lay.setting.part}{stands[nth]}/{low}" if nth < count else None
    here = lay.columns[column]
    for end, taken in (
        (low, before or f"{mates[0]}/{lay.pocket(here, 0, 'panel')}"),
        (high, after or f"{mates[1]}/{lay.pocket(here, 1, 'panel')}"),
    ):
        lay.out.meet(f"{lay.key}{own}-{end}", f"{lay.setting.part}{own}/{end}", taken, clear, clear, False)


def panel_name(lay: Layout, row: int, column: int, nth: int, count: int) -> tuple[str, str]:
    """The key and the place of a panel: by its end if there are two beside each other, by numbers if more."""
    place, across = lay.setting.place, (count + 1) * len(lay.columns)
    at = column * (count + 1) + nth
    if len(lay.fields) == 1 and across == 1:
        return "panel", place
    if len(lay.fields) == 1 and across == 2:
        end = lay.setting.ends[at]
        return f"panel-{end}", f"{place} {end}"
    if across == 1:
        return f"panel-{row + 1}", f"{place}, field {row + 1}"
    return f"panel-{row + 1}-{at + 1}", f"{place}, field {row + 1}, {at + 1} from the {lay.setting.ends[0]}"
