"""Which setting comes after which?  What is asked, and what an order says: the contract of the search.

**Asked** is a `Work`: machines, operations, and what was begun.  Times are whole seconds.  A machine keeps its setting
until it is changed; the first setting counts as a change unless it is `mounted` already.  A change to another cutter
takes `change`, one of the position alone `same_cutter`.  Where a setting wants a test piece (`Operation.test`, the
longest of those that share the setting), every change to it opens with one, and its time is part of the change.

**An operation** needs one machine at one setting, after all that `after` names.  `part` and `stack` say whose it is.
Ids are keys: of operations no two alike.

**What is begun** (`Begun`): operations `done`; `next`, the settings that were to come, in order; the first `fixed` of
them run or stay by the maker's wish, and come first whatever that costs, as far as they still have something to do.
The others come as they were as far as that makes no change longer.

**An order** (`Order`) is a list of `Run`s, to be worked through from first to last, and in each the operations from
first to last.  A run `changed` the setting of its machine or finds it standing from before.  `seconds` are those of
changes and test pieces; `least` is proven: no order of the same operations takes less for them
(none that begins with what is fixed, where something is).  Among orders that
take as long, one is taken that keeps what was to come next, and then one that does well by the wishes; nothing is
proven there.

Operations that wait for each other in a circle, or for something that is not there, are left out with a sentence each,
and so is what waits for them; the rest is planned.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from ..errors import ShopError

__all__ = [
    "Begun", "Count", "LeftOut", "Machine", "NoWork", "Operation", "Order", "Run", "Seconds", "Setting", "Wishes",
    "Work",
]  # fmt: skip

Seconds = int


class NoWork(ShopError):
    """What was asked contradicts itself: two operations with one key, a machine that is not there, time below zero."""

    code = "no-setup-work"


@dataclass(frozen=True, order=True)
class Setting:
    """What is set on a machine: the cutter that is in, and all else (fence, stop, depth) as one key."""

    cutter: str
    position: str = ""


@dataclass(frozen=True)
class Machine:
    """A machine, and how long a change of it takes.  Where `same_cutter` is None it takes as long as any change."""

    key: str
    change: Seconds = 60
    same_cutter: Seconds | None = None
    mounted: Setting | None = None


@dataclass(frozen=True)
class Operation:
    """Something to do at one setting of one machine."""

    key: str
    machine: str
    setting: Setting
    after: tuple[str, ...] = ()
    seconds: Seconds = 0
    part: str = ""
    stack: str = ""
    test: Seconds | None = None
    """How long a test piece takes; None where none is wanted."""


@dataclass(frozen=True)
class Wishes:
    """What else would be good, and how much: seconds for each cutter that is put in, and a share of the time at which
    each stack is finished, in percent."""

    cutter: int = 60
    early: int = 1


@dataclass(frozen=True)
class Begun:
    """What is done, and what was to come."""

    done: frozenset[str] = frozenset()
    next: tuple[tuple[str, Setting], ...] = ()
    fixed: int = 0


@dataclass(frozen=True)
class Work:
    """All that is to be put into an order."""

    machines: tuple[Machine, ...]
    operations: tuple[Operation, ...]
    wishes: Wishes = field(default_factory=Wishes)
    begun: Begun = field(default_factory=Begun)


@dataclass(frozen=True)
class Run:
    """Operations done one after the other on one machine at one setting."""

    machine: str
    setting: Setting
    operations: tuple[str, ...]
    changed: bool
    cutter_changed: bool
    test: bool
    """Whether it opens with a test piece."""
    seconds: Seconds
    """Of the change and the test piece, not of the work."""


@dataclass(frozen=True)
class Count:
    """What an order costs: changes, those that put in another cutter, and seconds for both and for test pieces."""

    changes: int
    cutters: int
    seconds: Seconds


@dataclass(frozen=True)
class LeftOut:
    """What cannot be planned, and why in a sentence."""

    operations: tuple[str, ...]
    why: str


@dataclass(frozen=True)
class Order:
    """An order of runs, what is proven of it, and what two plain orders would cost."""

    runs: tuple[Run, ...]
    count: Count
    least: Seconds
    part_by_part: Count
    stack_by_stack: Count
    wish: int
    """How little the wishes are met, in seconds: less is better."""
    moved: int
    """How many settings come otherwise than they were to come; 0 where nothing was begun."""
    left: tuple[LeftOut, ...]

    @property
    def seconds(self) -> Seconds:
        return self.count.seconds

    @property
    def minutes(self) -> Fraction:
        return Fraction(self.seconds, 60)

    @property
    def gap(self) -> float:
        """How much less than this may do, as a share of what is proven."""
        return (self.seconds - self.least) / self.least if self.least else float(self.seconds > 0)

    @property
    def proven(self) -> bool:
        return self.seconds == self.least
