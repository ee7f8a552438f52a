"""Whose shop is it, and which life of its database?  The one row that everything else belongs to."""

from __future__ import annotations

import json
import secrets
from dataclasses import asdict, dataclass
from fractions import Fraction

from sqlalchemy import Connection, delete, insert, select, update

from shopfloor.store import sayings
from shopfloor.store.opening import reading, writing
from shopfloor.store.tables import setting, shop
from shopfloor.trade.construct.habitual import Ways
from shopfloor.trade.cutters import Cutters, first_cutters
from shopfloor.trade.facts import HABITS
from shopfloor.trade.habit import Habits
from shopfloor.trade.moisture import INTERIOR
from shopfloor.trade.part import Unit
from shopfloor.trade.seasons import PRESETS, Seasons

FIRST_NAME = "Our shop"
DEMO_NAME = "Demo shop"
ANYWHERE = -1
"""In place of the next serial: every time codes are given, they begin at a random one."""


@dataclass(frozen=True)
class Shop:
    """`id` and `generation` are random: the one is the shop's for good, the other new after every restore."""

    id: str
    name: str
    generation: str


def ensure(first_serial: int | None = None) -> Shop:
    """The shop; made if this database is new.

    Its codes run on from `first_serial`, or begin anywhere each time: two shops that began at the same place would
    print the same codes, and a label of the demo would open a part of the real work.
    """
    with writing() as connection:
        if connection.execute(select(shop.c.one)).first() is None:
            connection.execute(
                insert(shop).values(
                    one=1,
                    id=secrets.token_hex(16),
                    name=FIRST_NAME,
                    generation=secrets.token_hex(16),
                    next_serial=ANYWHERE if first_serial is None else first_serial,
                )
            )
    return read()


def read() -> Shop:
    with reading() as connection:
        return Shop(*connection.execute(select(shop.c.id, shop.c.name, shop.c.generation)).one())


def rename(name: str) -> None:
    with writing() as connection:
        connection.execute(update(shop).values(name=name))


def renew_generation(was: str | None = None) -> str:
    """Begin a new life, after a restore: phones will offer again everything they hold.

    Of several who find out at once that the life `was` is over, the first begins the new one.  Gives the present one.
    """
    with writing() as connection:
        renew_within(connection, was)
    return read().generation


def renew_within(connection: Connection, was: str | None = None) -> None:
    """The same, as a part of what a writer does."""
    renewed = update(shop).values(generation=secrets.token_hex(16))
    connection.execute(renewed if was is None else renewed.where(shop.c.generation == was))


# --- what it has said about itself -------------------------------------------------------------------------------


def unit() -> Unit:
    """The unit that the shop thinks in; a job may have another one."""
    return Unit(sayings.read("unit") or Unit.INCH)


def keep_unit(said: Unit) -> None:
    sayings.keep("unit", said.value)


def cutters(of_job: Unit | None = None) -> Cutters:
    """The cutters that the shop owns; until it has listed them, those that a shop of that unit begins with."""
    said = sayings.read("cutters")
    return (
        Cutters(**{name: tuple(widths) for name, widths in said.items()}) if said else first_cutters(of_job or unit())
    )


def keep_cutters(said: Cutters | None) -> None:
    """List the cutters that are owned; None goes back to those that a shop begins with."""
    sayings.keep("cutters", None if said is None else asdict(said))


def seasons() -> Seasons:
    """How dry and how damp its pieces get, and the moisture on the day they are sized, percent.  Until the shop has
    said: a controlled interior (the first preset), sized at what the interior of most houses has."""
    said = sayings.read("seasons")
    if not said:
        return PRESETS[0].seasons(INTERIOR.value)
    return Seasons(*(Fraction(said[name]) for name in ("dry", "build", "damp")))


def keep_seasons(said: Seasons | None) -> None:
    """Keep the seasons; None goes back to those that a shop begins with."""
    # As texts: tenths of a point are exact in decimals, not as floats.
    sayings.keep(
        "seasons", None if said is None else {name: str(Fraction(value)) for name, value in vars(said).items()}
    )


def habits() -> Habits:
    """The numbers of the trade that the shop has changed; what is no habit any more stays kept and is left out."""
    said = sayings.read("habits") or {}
    return Habits({key: Fraction(value) for key, value in said.items() if key in HABITS})


def keep_habit(key: str, value: int | Fraction | None) -> None:
    """Change one number; None goes back to the printed one."""
    with writing() as connection:
        row = connection.scalar(select(setting.c.value).where(setting.c.name == "habits"))
        said: dict[str, str] = json.loads(row) if row else {}
        said.pop(key, None)
        if value is not None:
            said[key] = str(Fraction(value))
        connection.execute(delete(setting).where(setting.c.name == "habits"))
        if said:
            connection.execute(insert(setting).values(name="habits", value=json.dumps(said)))


def ways(of_job: Unit) -> Ways:
    """How the shop goes about a job of that unit."""
    return Ways(of_job, habits(), cutters(of_job), seasons())


BEFORE = {name: f"{name} before" for name in ("cutters", "seasons")}


def set_back() -> None:
    """Cutters and seasons are those that a shop begins with; what was said before can be taken back."""
    with writing() as connection:
        said = dict(connection.execute(select(setting.c.name, setting.c.value).where(setting.c.name.in_(BEFORE))).all())
        if said:
            connection.execute(delete(setting).where(setting.c.name.in_([*BEFORE, *BEFORE.values()])))
            rows = [{"name": BEFORE[name], "value": value} for name, value in said.items()]
            connection.execute(insert(setting), rows)


def was_set_back() -> bool:
    """Whether there is something to take back: nothing has been said since."""
    with reading() as connection:
        names = set(connection.scalars(select(setting.c.name)))
    return not names & BEFORE.keys() and bool(names & set(BEFORE.values()))


def take_back() -> None:
    """What was said of cutters and seasons before counts again; nothing happens if something has been said since."""
    if was_set_back():
        with writing() as connection:
            for name, before in BEFORE.items():
                connection.execute(update(setting).where(setting.c.name == before).values(name=name))
