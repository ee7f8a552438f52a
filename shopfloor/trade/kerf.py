"""What does the saw take?  Parts out of one length: how much they need, how many there are, how long they can be.

n parts side by side need n - 1 cuts; whoever wants the offcut as a piece, or a clean end, pays one more.  A cut beside
the line, on the part's side, makes it a kerf too short.  Source: counting.
"""

from __future__ import annotations

from collections.abc import Sequence

from .length import Length

__all__ = ["how_many", "left_over", "longest_equal", "needed", "on_the_wrong_side"]


def needed(lengths: Sequence[Length], kerf: Length) -> Length:
    """What parts in a row take of a length, the cuts between them included; nothing for no part.

    >>> needed([42, 42], 1)
    85
    """
    return sum(lengths) + kerf * max(len(lengths) - 1, 0)


def how_many(room: Length, piece: Length, kerf: Length) -> int:
    """How many equal parts come out of a length; the last one may end it without a cut.

    >>> how_many(10, 3, 1), how_many(11, 3, 1)
    (2, 3)
    """
    return max((room + kerf) // (piece + kerf), 0)


def left_over(room: Length, lengths: Sequence[Length], kerf: Length) -> Length:
    """What is left as a piece once every part is cut free, the last one too; below 0 if they do not fit.

    >>> left_over(10, [3, 3], 1)
    2
    """
    return room - sum(lengths) - kerf * len(lengths)


def longest_equal(room: Length, count: int, kerf: Length) -> Length:
    """How long so many equal parts can be, down to a whole nanometre; 0 if the kerfs alone take it all.

    >>> longest_equal(85, 2, 1)
    42
    """
    return max((room - kerf * (count - 1)) // count, 0)


def on_the_wrong_side(length: Length, kerf: Length) -> Length:
    """What a part measures that was cut with the kerf on its own side of the line."""
    return length - kerf
