"""Where does a length come from?  Each derived length with its arithmetic in words, ready to be read or overridden.

"rail 14 1/2 = opening 12 1/2 + 2 tenons of 1" is kept as words and whole nanometres, so that it can be written in
either unit and the sum can be checked.  A length that was set by hand replaces the computed one everywhere after it,
and says so.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from ...errors import ShopError
from ..fault import Fault
from ..length import Length
from ..part import Unit
from ..rounding import told
from .clearances import NOMINAL, bare_or_thinned

__all__ = ["Derived", "Impossible", "Override", "Said", "StackName", "Term", "Working", "minus", "plus"]

Said = tuple[str | Length, ...]
"""Text with lengths: words, and whole nanometres that are written in the reader's unit."""


class Impossible(ShopError):
    """A design that cannot be made: the number that is wrong, and the number that would do."""

    code = "impossible-design"

    @property
    def fault(self) -> Fault:
        return Fault(self.where, self.what, self.do)


@dataclass(frozen=True)
class Override:
    """A length that the maker set by hand: the `key` of the derived length that it replaces."""

    key: str
    nm: Length


@dataclass(frozen=True)
class StackName:
    """What the maker calls a stack: the `key` of the assembly, in place of the name that follows."""

    key: str
    name: str


@dataclass(frozen=True)
class Derived:
    """A length and its derivation.  `computed` is what the arithmetic gives, `nm` what counts.

    The two differ only if the length was set by hand, and `by_hand` stays even when they come to agree.  `key` is
    stable and unique within a construction, such as "back-top-rail.length"; overrides hang on it.
    """

    key: str
    nm: Length
    computed: Length
    said: Said
    by_hand: bool = False


class Term(NamedTuple):
    """One summand: `times` a length, added if the sign is 1, taken off if it is -1."""

    sign: int
    times: int
    word: str
    nm: Length

    @property
    def worth(self) -> Length:
        return self.sign * self.times * self.nm


def plus(word: str, nm: Length, times: int = 1) -> Term:
    """A summand; `word` is in the singular, and put in the plural where there are several."""
    return Term(1, times, word, nm)


def minus(word: str, nm: Length, times: int = 1) -> Term:
    """What is taken off."""
    return Term(-1, times, word, nm)


class Working:
    """The back of the drawing: derived lengths in their order, the overrides of a construction, and what is wrong.

    `unit` is the one that faults are written in.  The keys of derived lengths go without the construction's `prefix`,
    so that its name can be changed and what was set by hand stays.
    """

    def __init__(self, unit: Unit = Unit.INCH, overrides: Iterable[Override] = (), prefix: str = "") -> None:
        self.unit = unit
        self.prefix = prefix
        self.derived: list[Derived] = []
        self.faults: list[Fault] = []
        self.by_hand = {override.key: override.nm for override in overrides}
        self.fit = NOMINAL

    def length(self, key: str, name: str, *terms: Term, over: int = 1) -> Length:
        """The sum of `terms`, divided by `over` and rounded down to a whole nanometre; or what was set by hand.

        Raises Impossible if nothing is left, with the first term that would do.
        """
        total = sum(term.worth for term in terms)
        computed = total // over
        nm = self._kept(key, name, computed, _said(terms, over, total))
        if nm > 0:
            return nm
        if self.derived[-1].by_hand:
            raise Impossible(
                f"{name} was set by hand to {self.size(nm)}", where=key, do=f"{self.size(computed)} would do."
            )
        first, barely = terms[0], terms[0].nm - total // terms[0].times
        raise Impossible(
            f"{name} would be {self.size(computed)}, with {first.word} {self.size(first.nm)}",
            where=key,
            do=f"{_capital(first.word)} must be more than {self.size(self.tidy(barely))}.",
        )

    def eased(
        self, key: str, name: str, cut: str, offset: Length, thickness: Length, stock: Length
    ) -> tuple[Length, Length]:  # fmt: skip
        """Where a tenon or a tongue begins behind the face side, and how thick it is, by the fit of the construction.

        It goes into a `cut` ("mortise", or else a groove or a dado) that begins at `offset` and is `thickness` wide.
        Raises Impossible if the fit leaves nothing of it.
        """
        which = "cheek" if cut == "mortise" else "groove"
        each: Length = getattr(self.fit, which)
        if not each or thickness <= 0:
            return offset, thickness
        what = f"for a {name} in a {cut} {self.size(thickness)} wide"
        self.less_than(f"{self.prefix}fit.{which}", "a clearance of", each, (thickness + 1) // 2, what)
        start, _ = bare_or_thinned(offset, thickness, stock, each)
        return start, self.length(key, name, plus(cut, thickness), minus("clearance", each, 2))

    def note(self, key: str, name: str, nm: Length, *said: str | Length) -> Length:
        """A length that comes of a rule and not of a sum: `said` gives the rule in words; or what was set by hand."""
        return self._kept(key, name, nm, said)

    def _kept(self, key: str, name: str, computed: Length, said: Said) -> Length:
        key = key.removeprefix(self.prefix)
        by_hand = key in self.by_hand
        nm = self.by_hand.get(key, computed)
        words: Said = (", set by hand; else ", computed) if by_hand else ()
        self.derived.append(Derived(key, nm, computed, (f"{name} ", nm, *words, " = ", *said), by_hand))
        return nm

    def at_most(self, where: str, name: str, nm: Length, most: Length, why: str) -> None:
        """Raise Impossible if a length is more than what there is room for."""
        if nm > most:
            do = (
                f"{self.size(self.tidy_down(most) or most)} or less would do."
                if most > 0
                else "There is no room for any."
            )
            raise Impossible(f"{name} {self.size(nm)} is too much {why}", where=where, do=do)

    def less_than(self, where: str, name: str, nm: Length, limit: Length, why: str) -> None:
        """Raise Impossible if a length takes all there is: some must be left."""
        if nm >= limit:
            below = self.size(self.tidy_down(limit) or limit)
            do = f"Less than {below} would do." if limit > 0 else "There is no room for any."
            raise Impossible(f"{name} {self.size(nm)} is too much {why}", where=where, do=do)

    def at_least(self, where: str, name: str, nm: Length, least: Length, why: str) -> None:
        """Raise Impossible if a length is less than what is needed."""
        if nm < least:
            do = f"{self.size(self.tidy(least))} or more would do."
            raise Impossible(f"{name} {self.size(nm)} is too little {why}", where=where, do=do)

    def size(self, nm: Length) -> str:
        """A length as a fault writes it, with its unit: a mark of the tape, or decimals."""
        return told(nm, self.unit)

    def tidy(self, nm: Length) -> Length:
        """The next mark of the tape, or tenth of a millimetre, that is not less: what a person would type."""
        return -(-nm // self._mark) * self._mark

    def tidy_down(self, nm: Length) -> Length:
        """The same for a most: the next mark that is not more."""
        return nm // self._mark * self._mark

    @property
    def _mark(self) -> Length:
        return 100_000 if self.unit is Unit.MM else 396_875


def _said(terms: Iterable[Term], over: int, total: Length) -> Said:
    said: list[str | Length] = []
    for term in terms:
        if term.worth == 0 and said:
            continue
        sign = (" + " if term.sign > 0 else " - ") if said else ("" if term.sign > 0 else "-")
        words = term.word if term.times == 1 else f"{term.times} {_plural(term.word)} of"
        said.extend((f"{sign}{words} ", term.nm))
    if over == 1:
        return tuple(said)
    said[0] = f"({said[0]}"
    rounded = ", rounded down" if total % over else ""
    return (*said, f") / {over}{rounded}")


_WHERE = re.compile(" (?:above|behind|below|between|in|left|of|over|right|under|up)\\b")
"""Where the words begin that say where something is, or of what."""


def _plural(word: str) -> str:
    """Several of what a summand is.

    >>> _plural("front rail"), _plural("gap between the doors"), _plural("cut in the front")
    ('front rails', 'gaps between the doors', 'cuts in the front')
    """
    found = _WHERE.search(word)
    head, rest = (word[: found.start()], word[found.start() :]) if found else (word, "")
    return f"{head}s{rest}"


def _capital(word: str) -> str:
    return word[:1].upper() + word[1:]
