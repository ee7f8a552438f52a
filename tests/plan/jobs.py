"""Work to be put into an order: the benchmark set shop_setups, larger jobs like it, and small random ones."""

from __future__ import annotations

from random import Random
from typing import Any

from shopfloor.plan.setups import Machine, Operation, Setting, Work

MINUTE = 60


def setup_work(instance: dict[str, Any]) -> Work:
    """An instance of shop_setups: every change takes a minute, so that seconds are changes times 60."""
    operations: list[Operation] = []
    machines: dict[str, None] = {}
    for line, (quantity, chain) in enumerate(instance["parts"]):
        for nth in range(quantity):
            before: tuple[str, ...] = ()
            for n, what in enumerate(chain):
                machine, setting = what.split(":")
                machines[machine] = None
                key = f"{line}-{nth}-{n}"
                part, stack = f"{line}-{nth}", f"stack {line // 4}"
                operations.append(Operation(key, machine, Setting(machine, setting), before, MINUTE, part, stack))
                before = (key,)
    return Work(tuple(Machine(key, MINUTE) for key in machines), tuple(operations))


def large(operations: int, seed: int) -> dict[str, Any]:
    """An instance like those of shop_setups: every part is milled, ripped and cut, cut into in some order, sanded."""
    random = Random(seed)
    parts: list[list[Any]] = []
    made = 0
    while made < operations:
        sizes = [f"rip:{random.randrange(12)}", f"cross:{random.randrange(20)}"]
        random.shuffle(sizes)
        chain = [f"joint:{random.randrange(2)}", f"plane:{random.randrange(4)}", *sizes]
        cuts = [
            f"{machine}:{random.randrange(many)}"
            for machine, many in (("mortise", 6), ("tenon", 6), ("drill", 8), ("profile", 5), ("cross", 20))
            if random.random() < 0.5
        ]
        random.shuffle(cuts)
        chain += [*cuts, "sand:0", "sand:1"]
        quantity = random.choice((1, 2, 2, 4))
        parts.append([quantity, chain])
        made += quantity * len(chain)
    return {"name": f"setup_{operations}_{seed}", "operations": made, "parts": parts}


def small(seed: int) -> Work:
    """At most 8 operations on up to three machines, waiting for each other in any way that is no circle; cutters,
    test pieces and mounted settings as they come."""
    random = Random(seed)
    machines = []
    for n in range(random.randint(1, 3)):
        change = random.randint(1, 9)
        same = random.choice((None, random.randint(0, change)))
        mounted = Setting("a", "0") if random.random() < 0.3 else None
        machines.append(Machine(f"m{n}", change, same, mounted))
    operations = []
    for n in range(random.randint(1, 8)):
        after = tuple(f"o{before}" for before in range(n) if random.random() < 0.35)
        setting = Setting(random.choice("ab"), random.choice("01"))
        test = random.choice((None, None, 0, 3))
        machine = random.choice(machines).key
        operations.append(Operation(f"o{n}", machine, setting, after, 1, f"p{n % 3}", f"s{n % 2}", test))
    random.shuffle(operations)
    return Work(tuple(machines), tuple(operations))
