"""How fast is the maker's arithmetic?  `python -m tests.bench trade`

From the document to every drawing, for the demo cabinet and for rooms of 10 to 40 such cases; and working the demo out
anew after one change.  Times are processor time of this process, the best of three where a run is short.
"""

from __future__ import annotations

import json
import math
import time
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

from shopfloor.intake.demo import demo_job
from shopfloor.paper.rod import rods_of
from shopfloor.trade import document
from shopfloor.trade.code import codes
from shopfloor.trade.construct.cabinet import Cabinet
from shopfloor.trade.construct.compose import follow
from shopfloor.trade.length import INCH
from shopfloor.trade.part import Job
from shopfloor.trade.sheet import sheets, stack_key
from shopfloor.web import pack

CASES = (10, 20, 30, 40)
DRAWERS = 2
"""A case is the demo cabinet with fewer drawers: 39 parts, so that 40 of them are about 1,500."""
DEMO_GOAL, MANY_GOAL, ANEW_GOAL = 1.0, 30.0, 0.1
"""Seconds."""


def best(run: Callable[[], object], times: int = 3) -> float:
    """The least of a few times, in seconds: what is more is somebody else's work on the machine."""
    took = []
    for _ in range(times):
        begun = time.process_time()
        run()
        took.append(time.process_time() - begun)
    return min(took)


def drawn(text: str) -> tuple[int, int]:
    """A document read, checked, and everything of it drawn: how many parts and how many drawings there are.

    That is a phone's pack, every part and its steps in both units and the stacks pulled apart, and the rods.
    """
    job = document.from_json(text)
    codes = codes_of(job)
    made = pack.build(job, 1, codes, (), "")
    rods_of(sheets(job, codes))
    return len(made["parts"]), len({svg for both in made["drawings"].values() for svg in both.values()})


def codes_of(job: Job) -> dict[str, str]:
    """A code for every part and every stack."""
    keys = [*(part.key for line in job.lines for part in line.parts), *(stack_key(one.key) for one in job.assemblies)]
    return dict(zip(keys, (six for _, six in codes()), strict=False))


def changed(job: Job) -> Job:
    """The demo with its cabinet an inch wider: everything downstream is worked out anew."""
    (cabinet,) = job.constructions
    assert isinstance(cabinet, Cabinet)
    return follow(job, (replace(cabinet, width=cabinet.width + INCH),)).job


def room(demo: Job, cases: int) -> Job:
    """A room full of cases, each made by its own construction, a little wider than the one before: no two drawings of
    different cases are the same."""
    (cabinet,) = demo.constructions
    assert isinstance(cabinet, Cabinet) and cabinet.web_frames
    own = replace(cabinet, web_frames=replace(cabinet.web_frames, count=DRAWERS))
    made = tuple(replace(own, key=f"case-{n}", width=own.width + n * INCH // 8) for n in range(cases))
    return follow(replace(demo, assemblies=(), lines=(), joints=(), constructions=()), made).job


def exponent(sizes: Sequence[float], took: Sequence[float]) -> float:
    """The power of the size that time grows with: the slope of the line of best fit through the logarithms.

    >>> round(exponent([1, 2, 4], [3, 12, 48]), 6)
    2.0
    """
    xs, ys = [math.log(size) for size in sizes], [math.log(one) for one in took]
    mx, my = sum(xs) / len(xs), sum(ys) / len(ys)
    return sum((x - mx) * (y - my) for x, y in zip(xs, ys, strict=True)) / sum((x - mx) ** 2 for x in xs)


def main() -> None:
    demo = demo_job()
    text = document.to_json(demo)
    parts, drawings = drawn(text)
    first = best(lambda: drawn(text))
    anew = best(lambda: changed(demo), 7)
    print(f"{'what':<58}{'measured':>22}   goal")
    _row(f"the demo, {parts} parts, {drawings} drawings, from its document", f"{first:.2f} s", f"< {DEMO_GOAL:g} s")
    _row("the demo worked out anew, an inch wider", f"{1000 * anew:.0f} ms", f"< {1000 * ANEW_GOAL:.0f} ms")
    sizes, took = [], []
    for cases in CASES:
        text = document.to_json(room(demo, cases))
        begun = time.process_time()
        sizes.append(drawn(text)[0])
        took.append(time.process_time() - begun)
        goal = f"< {MANY_GOAL:g} s" if cases == CASES[-1] else ""
        _row(f"{cases} cases, {sizes[-1]} parts", f"{took[-1]:.1f} s", goal)
    power = exponent(sizes, took)
    _row("time grows with the parts to the power of", f"{power:.2f}", "about 1")
    facts: dict[str, Any] = {
        "bench": "trade",
        "demo_s": round(first, 3),
        "anew_ms": round(1000 * anew, 1),
        "parts": sizes,
        "took_s": [round(one, 2) for one in took],
        "exponent": round(power, 3),
    }
    print(json.dumps(facts))


def _row(what: str, value: str, goal: str) -> None:
    print(f"{what:<58}{value:>22}   {goal}".rstrip(), flush=True)
