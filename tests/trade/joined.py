"""Two parts that meet somehow in space, for tests of joints: at random, and put together as a job."""

from __future__ import annotations

from itertools import permutations, product

from hypothesis import strategies as st

from shopfloor.trade.joint import Member, Pair, facing, outward
from shopfloor.trade.part import (
    Assembly,
    Box,
    Face,
    Half,
    Hand,
    Job,
    Joint,
    Line,
    Part,
    Placement,
    Stock,
    Unit,
)  # fmt: skip
from shopfloor.trade.surface import whole

TURNS = [
    " ".join(sign + axis for sign, axis in zip(signs, order, strict=True))
    for order in permutations("XYZ")
    for signs in product("+-", repeat=3)
]
"""All 48 ways to stand, mirror images among them."""

placements = st.builds(Placement, st.sampled_from(TURNS), st.tuples(*[st.integers(-(10**9), 10**9)] * 3))
sizes = st.integers(3_000_000, 90_000_000)


def job_of(enters: Member, takes: Member, pair: Pair) -> Job:
    """A job of just those two parts and their joint."""
    lines = tuple(
        Line(
            key, "a", key, *member.stock, features=features,
            parts=(Part(f"{key}.1", hand=Hand(member.stands.hand), stands=member.stands),),
        )
        for key, member, features in (("enters", enters, pair.enters), ("takes", takes, pair.takes))
    )  # fmt: skip
    halves = Half("enters.1", pair.enters[0].key), Half("takes.1", pair.takes[0].key)
    return Job("j", "J", Unit.MM, assemblies=(Assembly("a", 1, "A"),), lines=lines, joints=(Joint("x", *halves, "1A"),))


def in_space(member: Member, box: Box) -> Box:
    return member.stands.box(box)


def standing_round(axes: str, block: Box) -> Member:
    """The part that stands turned as `axes` says and fills exactly a block of space."""
    plain = Placement(axes)
    extent = [block[2 * k + 1] - block[2 * k] for k in range(3)]
    own = [extent[next(k for k in range(3) if way[k])] for way in plain.directions()]
    stock = Stock(thickness=own[2], width=own[1], length=own[0])
    there = plain.box(whole(stock))
    shift = (block.x0 - there.x0, block.y0 - there.y0, block.z0 - there.z0)
    return Member(stock, Placement(axes, shift))


def turned(member: Member, outer: Placement) -> Member:
    return Member(member.stock, member.stands.within(outer))


@st.composite
def entered(draw: st.DrawFn, end: Face, inside: Box, plane: int, surfaces: tuple[Face, ...]) -> Member:
    """A mate for a part that stands without a turn, its `end` coming to the mate at x = `plane`: the mate has wood
    round the block `inside`, and one of the `surfaces` is entered."""
    way = outward(end, Placement())
    fitting = [axes for axes in TURNS if facing(way, Placement(axes)) in surfaces]
    axes = draw(st.sampled_from(fitting))
    room = [draw(sizes) for _ in range(5)]
    x0, x1 = (inside.x0 - room[0], plane) if way[0] < 0 else (plane, inside.x1 + room[0])
    block = Box(x0, x1, inside.y0 - room[1], inside.y1 + room[2], inside.z0 - room[3], inside.z1 + room[4])
    return standing_round(axes, block)
