"""How is a board plan made while the office goes on?  One planning at a time, wood after wood, each in its own process.

The thread that watches it hands the result to the store; a page asks how it stands, and may say stop: then the best
plan so far is kept.
"""

from __future__ import annotations

import logging
import threading
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import Any

from flask import Flask

from shopfloor.errors import ShopError
from shopfloor.plan.asking import Asked
from shopfloor.plan.boards import LeftOver, Plan, Why
from shopfloor.plan.running import Running
from shopfloor.plan.search import Limits, Progress
from shopfloor.plan.written import plan_to_plain
from shopfloor.store import plans

__all__ = ["RUNS", "BusyPlanning", "Runs", "Step"]

log = logging.getLogger("facemark.plans")

RUNS = "facemark_board_runs"
BEAT = 0.2
"""Seconds between two looks at the process."""


class BusyPlanning(ShopError):
    """One planning is under way already."""

    code = "busy-planning"


@dataclass
class Step:
    """One wood of a planning: how it stands, and its plan once it is there."""

    asked: Asked
    progress: Progress | None = None
    plan: Plan | None = None
    over: bool = False

    @property
    def name(self) -> str:
        return f"{self.asked.wood.species} {self.asked.wood.lumber.name}".strip()


@dataclass
class Run:
    """A planning under way or ended: its woods, and the id of the plan that came of it."""

    said: Mapping[str, Any]
    steps: list[Step]
    stop: threading.Event = field(default_factory=threading.Event)
    plan: str = ""
    error: str = ""
    over: bool = False


class Runs:
    """The planning of this office."""

    def __init__(self) -> None:
        self.run: Run | None = None
        self._lock = threading.Lock()
        self._thread: threading.Thread | None = None

    def start(self, app: Flask, asked: Sequence[Asked], said: Mapping[str, Any], seconds: float) -> Run:
        """Begin one.  Raises BusyPlanning while another is under way."""
        with self._lock:
            if self.run is not None and not self.run.over:
                raise BusyPlanning("boards are being planned already", do="Wait for it, or stop it.")
            self.run = run = Run(said, [Step(each) for each in asked])
            self._thread = threading.Thread(
                target=self._work, args=(app, run, seconds), name="board-plan", daemon=True
            )  # fmt: skip
            self._thread.start()
        return run

    def settle(self, seconds: float | None = None) -> None:
        """Wait until nothing is under way."""
        if self._thread is not None:
            self._thread.join(seconds)

    def _work(self, app: Flask, run: Run, seconds: float) -> None:
        try:
            for step in run.steps:
                self._plan(run, step, seconds)
            with app.app_context():
                run.plan = plans.keep(dict(run.said), found(run.steps))
        except ShopError as error:
            run.error = str(error)
        except Exception:
            log.exception("no board plan")
            run.error = "The planning ended without a plan. What went wrong stands in the log."
        finally:
            run.over = True

    def _plan(self, run: Run, step: Step, seconds: float) -> None:
        asked = step.asked
        plan = self._search(run, step, seconds)
        lost = {one.part for one in plan.left_over if one.why is Why.ITS_GROUP}
        if lost and not run.stop.is_set():
            # A group that no board holds is better cut one by one than not at all; the page says so.
            groups = tuple(group for group in asked.task.groups if not lost & set(group.parts))
            step.asked = replace(asked, task=replace(asked.task, groups=groups))
            plan = self._search(run, step, seconds)
            told = tuple(_said(plan, asked, group.key) for group in asked.task.groups if lost & set(group.parts))
            plan = replace(plan, notes=(*plan.notes, *told))
        step.plan, step.over = plan, True

    def _search(self, run: Run, step: Step, seconds: float) -> Plan:
        with Running(step.asked.task, Limits(seconds)) as running:
            while not running.over:
                step.progress = running.poll() or step.progress
                step.plan = running.plan or step.plan
                if run.stop.wait(BEAT):
                    running.cancel()
            step.progress = running.poll() or step.progress
            if running.plan is None:
                return Plan(step.asked.task.saw.rule, step.asked.task.saw.kerf, (), _none(step.asked))
            return running.plan


def _none(asked: Asked) -> tuple[LeftOver, ...]:
    """Everything is left over, where the planning was stopped before it had a plan."""
    return tuple(
        LeftOver(each.key, Why.NOT_ENOUGH, (f"{each.name}: it was stopped before it was planned.",))
        for each in asked.task.wanted
    )  # fmt: skip


def _said(plan: Plan, asked: Asked, group: str) -> tuple[str | int, ...]:
    its = next(each for each in asked.task.groups if each.key == group)
    return (f"{its.name or 'A grain group'}: no board holds all {len(its.parts)} of it in one piece, so they are "
            f"planned one by one.",)  # fmt: skip


def found(steps: Sequence[Step]) -> dict[str, Any]:
    """What is kept of a planning: each wood's plan, its boards and its pieces."""
    return {
        "woods": [
            {
                "species": step.asked.wood.species,
                "lumber": step.asked.wood.lumber.name,
                "nominal": step.asked.wood.lumber.nominal,
                "planks": [
                    {"key": each.key, "length": each.length, "width": each.width} for each in step.asked.task.planks
                ],
                "pieces": {
                    key: {
                        "job": piece.job, "blank": piece.blank.key, "parts": list(piece.blank.parts),
                        "called": piece.blank.called, "says": piece.blank.says, "of": piece.blank.nth[1],
                        "assembly": piece.blank.assembly,
                    }
                    for key, piece in step.asked.pieces.items()
                },
                "plan": plan_to_plain(step.plan) if step.plan else None,
            }
            for step in steps
        ]
    }  # fmt: skip
