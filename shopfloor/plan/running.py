"""A planning in a process of its own: it can be watched, stopped and, if need be, killed, and keeps the best plan so
far.

The solver can overrun its time within one call, and a thread could not be stopped there; a process can.  What it
finds it hands over as it goes, so that nothing is lost when it is killed.
"""

from __future__ import annotations

import multiprocessing
import os
import sys
import time
from multiprocessing.connection import Connection
from multiprocessing.synchronize import Event
from types import TracebackType

from ..errors import ShopError
from .boards import Plan, Task
from .search import Limits, Progress, plan_boards

__all__ = ["PlanningFailed", "Running"]

GRACE = 5.0
"""Seconds past its limit after which a planning is killed."""
CANCELLED = 0.4
"""Seconds that it is given to hand over its plan after it was told to stop."""


class PlanningFailed(ShopError):
    """The process ended without any plan."""

    code = "planning-failed"


class Running:
    """A planning under way.  Ask `poll` every few seconds at least: it never waits, but what nobody hears makes the
    search wait.

    `progress` is the last word on how it stands, `plan` the best plan so far, `over` whether it has ended.  `cancel`
    ends it within half a second and keeps the best plan.  As a context manager it leaves no process behind.
    """

    def __init__(self, task: Task, limits: Limits | None = None) -> None:
        self.limits = limits or Limits()
        self.progress: Progress | None = None
        self.plan: Plan | None = None
        self.error: ShopError | None = None
        self.over = False
        spawn = multiprocessing.get_context("spawn")
        self._stop: Event = spawn.Event()
        self._from, to = spawn.Pipe(duplex=False)
        self._process = spawn.Process(target=_work, args=(task, self.limits, to, self._stop), daemon=True)
        self._begun = time.monotonic()
        self._process.start()
        to.close()

    def poll(self) -> Progress | None:
        """Take in what there is to hear; the last word on how it stands.  Raises what the planning refused."""
        self._hear(0.0)
        late = self.limits.seconds is not None and time.monotonic() - self._begun > self.limits.seconds + GRACE
        if not self.over and late:
            self._kill()
        if self.error:
            raise self.error
        return self.progress

    def wait(self, seconds: float | None = None) -> Plan:
        """Wait until it ends, or so long; the best plan by then.  Raises PlanningFailed where there is none."""
        until = None if seconds is None else time.monotonic() + seconds
        while not self.over and (until is None or time.monotonic() < until):
            self._hear(0.1)
            self.poll()
        self.poll()
        if self.plan is None:
            raise PlanningFailed("no plan was found", do="Try again, with more time or fewer parts.")
        return self.plan

    def cancel(self) -> None:
        """End it now.  What was found stays in `plan`."""
        self._stop.set()
        until = time.monotonic() + CANCELLED
        while not self.over and time.monotonic() < until:
            self._hear(0.05)
        if not self.over:
            self._kill()

    def __enter__(self) -> Running:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, value: BaseException | None, trace: TracebackType | None
    ) -> None:
        if not self.over:
            self._kill()

    def _hear(self, seconds: float) -> None:
        while not self.over:
            try:
                if not self._from.poll(seconds):
                    return
                heard = self._from.recv()
            except (EOFError, OSError):
                self._end()
                return
            seconds = 0.0
            if isinstance(heard, Progress):
                self.progress = heard
            elif isinstance(heard, Plan):
                self.plan = heard
            else:
                kind, what, where, do = heard
                self.error = kind(what, where=where, do=do)

    def _kill(self) -> None:
        self._process.kill()
        # What it sent before is still in the pipe.
        self._hear(0.2)
        self._end()

    def _end(self) -> None:
        self.over = True
        self._process.join(CANCELLED)
        if self._process.is_alive():
            self._process.kill()
            self._process.join()
        self._from.close()


def _work(task: Task, limits: Limits, to: Connection, stop: Event) -> None:
    """What the process does."""
    # The solver greets on the standard output, which belongs to whoever started the office.
    sys.stdout.flush()
    os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    try:
        plan_boards(task, limits, tell=to.send, stop=stop.is_set, keep=to.send)
    except ShopError as refused:
        to.send((type(refused), refused.what, refused.where, refused.do))
    except (BrokenPipeError, KeyboardInterrupt):
        pass
    finally:
        to.close()
