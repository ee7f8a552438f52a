"""How is what is left shared between openings?  Heights that are given stay; the rest is divided evenly.

An even share is rounded down to a whole nanometre, and each place is rounded once from the datum, so that the openings
and what stands between them add up to the outside size exactly.
"""

from __future__ import annotations

from collections.abc import Sequence

from ..length import Length
from .derived import Impossible, Term, Working, minus, plus

__all__ = ["places", "shared"]


def shared(
    work: Working, key: str, name: str, whole: str, total: Length, taken: Sequence[Term], wanted: Sequence[Length],
    count: int,
) -> list[Length]:  # fmt: skip
    """The sizes of `count` openings in `total` beside what is `taken`: those `wanted`, and 0 or none for a share.

    Raises Impossible if nothing is left to share, or if all are wanted and do not add up.
    """
    wanted = [*wanted, *[0] * (count - len(wanted))]
    if len(wanted) > count or min(wanted, default=0) < 0:
        raise Impossible(f"{len(wanted)} sizes are given for {count} openings", where=key, do=f"Give {count} at most.")
    given = [minus("opening", nm) for nm in wanted if nm]
    free = wanted.count(0)
    if free:
        each = work.length(key, name, plus(whole, total), *taken, *given, over=free)
        computed = work.derived[-1].computed
        if each != computed:
            what = f"{free} openings of {work.size(each)}, set by hand, do not add up to what there is"
            raise Impossible(what, where=key, do=f"{work.size(computed)} would do.")
        return [nm or each for nm in wanted]
    left = total + sum(term.worth for term in (*taken, *given))
    if left:
        last = wanted[-1] + left
        do = f"The last one would do with {work.size(last)}." if last > 0 else "Leave one 0, to take what is left."
        more = "more" if left < 0 else "less"
        raise Impossible(f"the openings add up to {work.size(abs(left))} {more} than there is", where=key, do=do)
    return wanted


def places(solids: Sequence[Length], openings: Sequence[Length], total: Length) -> list[Length]:
    """Where each solid starts, from the datum; the first at 0, the last so that it ends at `total`.

    What the openings are short of (less than a nanometre each) is spread over them, each place rounded down once.

    >>> places([10, 10, 10], [33, 33], 97)
    [0, 43, 87]
    """
    over = total - sum(solids) - sum(openings)
    count = len(openings)
    found, at = [], 0
    for nth, solid in enumerate(solids):
        found.append(at + (over * nth // count if count else 0))
        at += solid + (openings[nth] if nth < count else 0)
    return found
