"""Is the piece as big as was asked?  A length set by hand may leave all joints sound and the piece another size."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import NamedTuple

from ..fault import Fault
from ..length import Length
from ..surface import whole
from .made import Built
from .mates import placed

__all__ = ["Asked", "other_sizes"]


class Asked(NamedTuple):
    """An outside size that was asked for: the field that it comes from, what stands there, the axis that it is taken
    along, and how much `more` than the field it is.  Parts whose keys begin with one of `but` do not count."""

    name: str
    axis: int
    field: Length
    more: Length = 0
    but: tuple[str, ...] = ()


_SAYS = {"width": "wide", "depth": "deep", "height": "high", "length": "long"}


def other_sizes(
    built: Built, asked: Iterable[Asked], prefix: str, size: Callable[[Length], str]
) -> Iterator[Fault]:  # fmt: skip
    """A sentence for each outside size that came out another because of a length set by hand; `size` writes one."""
    moved = [each for each in built.by_hand if each.nm != each.computed]
    if not moved:
        return
    blocks = {key: each.stands.box(whole(each.line.stock)) for key, each in
              placed(built.assemblies, built.lines).items()}  # fmt: skip
    for name, axis, field, more, but in asked:
        nm = field + more
        spans = [
            box[2 * axis : 2 * axis + 2]
            for key, box in blocks.items()
            if not but or not key.removeprefix(prefix).startswith(but)
        ]
        is_now = max(span[1] for span in spans) - min(span[0] for span in spans) if spans else nm
        if is_now != nm:
            who = " and ".join(f'"{each.key}"' for each in moved[:3])
            what = f"it is {size(is_now)} {_SAYS[name]} and not {size(nm)}, since {who} was set by hand"
            yield Fault(name, what, f"A {name} of {size(is_now - more)} would give that; else let that length follow.")
