"""Which letters of these names do our fonts lack?  Said before the paper is in the printer; nothing is stopped."""

from __future__ import annotations

from collections.abc import Iterable

from . import ink

MOST_LETTERS = 12
LONGEST_NAME = 40


def missing(text: str) -> tuple[str, ...]:
    """The letters of a text that no font here has, each once, in their order.

    >>> missing("Rail Ж é ½"), missing("A\\u68da\\u677f\\u68da")
    ((), ('棚', '板'))
    """
    return tuple(dict.fromkeys(char for char in ink.tidy(text) if ink.letter(char, True)[0] != char))


def cannot_print(names: Iterable[str]) -> str:
    """One sentence about all letters that cannot be printed, with the first name that has one; "" if all can."""
    letters: dict[str, None] = {}
    first, count = "", 0
    for name in dict.fromkeys(names):
        if found := missing(name):
            first, count = first or ink.tidy(name), count + 1
            letters |= dict.fromkeys(found)
    if not letters:
        return ""
    shown = " ".join(list(letters)[:MOST_LETTERS]) + (" …" if len(letters) > MOST_LETTERS else "")
    name = first if len(first) <= LONGEST_NAME else first[:LONGEST_NAME] + "…"
    others = f" and {count - 1} more name{'s' if count > 2 else ''}" if count > 1 else ""
    return (
        f"Our fonts do not have {shown}: on the labels of “{name}”{others} the sign {ink.MISSING} stands for "
        f"{'them' if len(letters) > 1 else 'it'}."
    )
