"""How near to the best are setup orders?  `python -m tests.bench setups [SIZE ...]`

A row for each job of 50, 200 and 1,000 operations in tests/bench/cutting/shop_setups.json, and for two of 5,000 like
them: distinct settings, changes, what is proven, the gap, seconds to the first order, to the last better one and to
the end, beside the two plain orders.  Then 200 random jobs small enough for brute force.  Every order is walked
through on the way.  Seconds are processor time of this process, so that what else runs on the machine does not count.
"""

from __future__ import annotations

import json
import time
from typing import Any

from shopfloor.plan.setup_search import Limits, SetupProgress, order_setups
from tests.plan.jobs import MINUTE, large, setup_work, small
from tests.plan.known import instances
from tests.plan.test_setups import brute
from tests.plan.walk_setups import walk

SECONDS = 10.0
SMALL = 200


def job(row: dict[str, Any], size: int) -> dict[str, Any]:
    work = setup_work(row)
    heard: list[SetupProgress] = []
    begun = time.process_time()
    order = order_setups(work, Limits(SECONDS), tell=heard.append, clock=time.process_time)
    took = time.process_time() - begun
    walk(work, order)
    changes, least = order.seconds // MINUTE, order.least // MINUTE
    if "ub" in row:
        assert changes >= row["lb"] and least <= row["ub"], row["name"]
    settings = len({(each.machine, each.setting) for each in work.operations})
    found = [each for each in heard if each.changes is not None]
    first = found[0].seconds
    last = next(each.seconds for each in found if each.changes == found[-1].changes)
    near = next(
        (each.seconds for each in found if each.changes is not None and each.changes <= order.least + MINUTE), None
    )
    missed = {
        50: ["" if order.proven else "not proven", f"{took - 0.1:.2f} s" if took > 0.1 else ""],
        200: ["" if order.proven else "not proven", "" if near is not None and near <= 1 else "gap > 1 after 1 s"],
        1000: [f"{100 * order.gap - 8:.1f} %" if order.gap > 0.08 else ""],
    }.get(size, [])
    plain = f"{order.part_by_part.changes} / {order.stack_by_stack.changes}"
    print(
        f"{row['name']:<15}{row['operations']:>6}{settings:>9}{plain:>13}{changes:>9}{least:>7}"
        f"{100 * order.gap:>7.1f} %{first:>8.2f}{last:>7.2f}{took:>7.2f}   {', '.join(filter(None, missed)) or '-'}",
        flush=True,
    )
    return {
        "settings": settings, "changes": changes, "least": least, "gap_percent": round(100 * order.gap, 2),
        "first_s": round(first, 3), "last_s": round(last, 2), "took_s": round(took, 2),
        "part_by_part": order.part_by_part.changes, "stack_by_stack": order.stack_by_stack.changes,
    }  # fmt: skip


def main(*sizes: str) -> None:
    wanted = {int(size) for size in sizes} or {50, 200, 1000, 5000}
    rows = [(int(row["name"].split("_")[1]), row) for row in instances("shop_setups")]
    rows += [(5000, large(5000, seed)) for seed in (1, 2)]
    print("goals: 50 proven in 0.1 s; 200 within 1 change in 1 s, proven in 10 s; 1000 within 8 % in 10 s; 5000 runs")
    print(
        f"{'job':<15}{'ops':>6}{'settings':>9}{'part / stack':>13}{'changes':>9}{'proven':>7}{'gap':>9}"
        f"{'first s':>8}{'last':>7}{'end':>7}   missed by"
    )
    found: dict[str, Any] = {row["name"]: job(row, size) for size, row in rows if size in wanted}
    proven = 0
    for seed in range(SMALL):
        work = small(seed)
        order = order_setups(work, Limits(None, 50))
        walk(work, order)
        proven += order.proven and order.seconds == brute(work)
    print(f"{proven} of {SMALL} small random jobs proven best, and equal to brute force")
    print(json.dumps({"bench": "setups", **found, "small_proven": proven}))
