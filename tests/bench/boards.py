"""How near to the best are cutting plans?  `python -m tests.bench boards [SET ...]`

A row for each set of tests/bench/cutting: plans that reach the known best, bounds that prove it, and by how much a
goal is missed.  Every plan is checked on the way: bars and plates by counting, boards by replaying their cuts.
Seconds are processor time of this process, so that what else runs on the machine does not count; a solver called
inside keeps its limit by the clock on the wall.  "Bound by" is when a bound within 1 % of the last one was proven,
"silent" the longest time without a word on how it stands.

Sets: u t scholl1 scholl2 schwerin waescher hard28 plates rip rip30 crosscut.  `rip30` gives the shop jobs of 80 and 200
parts 30 s instead of 10.  All of them take about 20 minutes.
"""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from itertools import pairwise
from typing import Any

from shopfloor.plan.bars import cut_bars
from shopfloor.plan.boards import Rule
from shopfloor.plan.plates import best_plate
from shopfloor.plan.search import Limits, Progress, plan_boards
from tests.plan.known import EIGHTH, instances, shop_task, two_ways
from tests.plan.replay import replay
from tests.plan.test_known_values import check_bars, check_plate

SECONDS = 10.0
BARS = {
    "u": ("falkenauer_u", 28, 28), "t": ("falkenauer_t", 27, 28), "scholl1": ("scholl1", 40, 40),
    "scholl2": ("scholl2", 40, 40), "schwerin": ("schwerin", 20, 20), "waescher": ("waescher", 17, None),
    "hard28": ("hard28", 26, None),
}  # fmt: skip
"""The file, how many plans are to reach the best, how many bounds are to prove it."""


def bars(name: str) -> dict[str, Any]:
    file, goal, goal_bound = BARS[name]
    reached, proven, took = 0, 0, []
    rows = instances(f"1d_{file}")
    for row in rows:
        begun = time.process_time()
        found = cut_bars(row["capacity"], row["items"], seconds=SECONDS, clock=time.process_time)
        took.append(time.process_time() - begun)
        check_bars(found, row["capacity"], row["items"])
        assert found.least <= row["best_ub"] and found.used >= row["best_lb"], row["name"]
        reached += found.used == row["best_ub"]
        proven += found.least == row["best_ub"]
    missed = [f"{goal - reached} plans" if reached < goal else ""]
    missed += [f"{goal_bound - proven} bounds" if goal_bound and proven < goal_bound else ""]
    _row(file, f"{reached}/{len(rows)} best, {proven}/{len(rows)} proven", took, f"{goal}/{len(rows)}", missed)
    return {"best": reached, "proven": proven, "of": len(rows), "max_s": round(max(took), 2)}


def plates() -> dict[str, Any]:
    proven, took, total, gaps = 0, [], 0, []
    for row in instances("2d_two_stage_hr"):
        for which, length, width, wishes, known in two_ways(row):
            begun = time.process_time()
            plan = best_plate(length, width, wishes, seconds=SECONDS)
            took.append(time.process_time() - begun)
            check_plate(plan, length, width, wishes)
            assert plan.worth <= known["upper_bound"] and plan.most >= known["best"], row["name"]
            total += 1
            proven += plan.worth == plan.most
            if plan.worth < plan.most:
                gaps.append(f"{row['name']} {which} by {100 * (plan.most / plan.worth - 1):.1f} %")
    _row("two-stage plates, both ways", f"{proven}/{total} proven", took, f"{total}/{total}", gaps)
    return {"proven": proven, "of": total, "max_s": round(max(took), 2)}


def shop(
    rule: Rule, seconds: float, least_parts: int, goal: Callable[[int], float], bound_goal: float
) -> dict[str, Any]:
    found = {}
    for row in instances("shop_2d"):
        task = shop_task(row, rule)
        if len(task.wanted) < least_parts:
            continue
        heard: list[Progress] = []
        plan = plan_boards(task, Limits(seconds), tell=heard.append, clock=time.process_time)
        replay(task, plan)
        known = row["rip_first_2stage" if rule is Rule.RIP_FIRST else "crosscut_first_3stage"]
        assert plan.least is not None and plan.gap is not None, row["name"]
        assert plan.least <= known["ub"] * EIGHTH**2 and plan.used >= known["lb"] * EIGHTH**2, row["name"]
        first = next(each.seconds for each in heard if each.area)
        bound = next(each.seconds for each in heard if each.least >= 0.99 * plan.least)
        longest = max(b.seconds - a.seconds for a, b in pairwise(heard))
        missed = [f"{100 * (plan.gap - goal(len(task.wanted))):.2f} %" if plan.gap > goal(len(task.wanted)) else ""]
        missed += [
            "first plan" if first > 1 else "",
            f"bound by {bound - bound_goal:.1f} s" if bound > bound_goal else "",
        ]
        when = f"first by {first:.1f}, bound by {bound:.1f}, silent {longest:.1f} s"
        text = f"{row['name']} {rule.value}, {seconds:.0f} s: {when}"
        _row(text, f"gap {100 * plan.gap:.2f} %", [], f"{100 * goal(len(task.wanted)):.0f} %", missed)
        found[row["name"]] = {
            "used": plan.used // EIGHTH**2, "least": plan.least // EIGHTH**2, "gap_percent": round(100 * plan.gap, 3),
            "first_s": round(first, 2), "bound_s": round(bound, 2), "silent_s": round(longest, 2),
        }  # fmt: skip
    return found


SETS: dict[str, Callable[[], dict[str, Any]]] = {
    **{name: lambda name=name: bars(name) for name in BARS},  # type: ignore[misc]
    "plates": plates,
    "rip": lambda: shop(Rule.RIP_FIRST, SECONDS, 0, lambda parts: 0.0 if parts < 80 else 0.03, 1.0),
    "rip30": lambda: shop(Rule.RIP_FIRST, 30.0, 80, lambda _: 0.02, 1.0),
    "crosscut": lambda: shop(Rule.CROSSCUT_FIRST, SECONDS, 0, lambda _: 0.04, 2.0),
}


def main(*names: str) -> None:
    print(f"{'set':<82}{'measured':<32}{'goal':<8}missed by")
    print(json.dumps({"bench": "boards", **{name: SETS[name]() for name in names or SETS}}))


def _row(what: str, measured: str, took: list[float], goal: str, missed: list[str]) -> None:
    times = f", {sum(took) / len(took):.2f} s, at most {max(took):.1f} s" if took else ""
    print(f"{what + times:<82}{measured:<32}{goal:<8}{', '.join(each for each in missed if each) or '-'}", flush=True)
