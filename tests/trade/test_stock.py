"""The rough list: what each part is sawn from, and what is to be bought for it."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from shopfloor.errors import ShopError
from shopfloor.intake.demo import demo_job
from shopfloor.trade.buying import BadPrice, Per, Price, Wood, board_feet_of, buying
from shopfloor.trade.fact import inch, mm
from shopfloor.trade.length import INCH
from shopfloor.trade.lumber import Waste
from shopfloor.trade.oversize import BadOversize, Oversize, customary
from shopfloor.trade.part import Face, Groove, Job, Line, Part, Rabbet, Stock, Unit
from shopfloor.trade.stock import METRIC, Making, Sawing, Way, lumber_named, rough_list
from shopfloor.trade.widening import CannotWiden, Zone, barred, shares

SAWING = Sawing(customary())


def job(*lines: Line, species: str = "cherry") -> Job:
    return Job("cabinet", "Cabinet", species=species, lines=lines)


def line(thickness: int, width: int, length: int, count: int = 1, **more: object) -> Line:
    parts = tuple(Part(f"p{number}") for number in range(1, count + 1))
    return Line("line", "case", "Piece", thickness, width, length, parts=parts, **more)  # type: ignore[arg-type]


# --- allowances ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("finished", "rough"),
    [
        (Stock(inch(3, 4), inch(2), inch(20)), Stock(inch(15, 16), inch(9, 4), inch(21))),
        # From 48 in on it is long: 2 in of length, 3/8 of width, 1/8 on each face.
        (Stock(inch(3, 4), inch(2), inch(48)), Stock(inch(1), inch(19, 8), inch(50))),
        # From 8 in on it is wide: the length is given no more for that.
        (Stock(inch(3, 4), inch(8), inch(20)), Stock(inch(1), inch(67, 8), inch(21))),
    ],
)
def test_long_or_wide_stock_is_given_more(finished: Stock, rough: Stock) -> None:
    assert customary().rough(finished) == rough


def test_a_metric_shop_has_round_numbers_of_its_own() -> None:
    assert customary(Unit.MM).rough(Stock(mm("20"), mm("60"), mm("500"))) == Stock(mm("25"), mm("66"), mm("525"))


@pytest.mark.parametrize(
    ("size", "says"), [(-1, "length is below zero: Give 0 or more."), (inch(7), "length is more than 6 in")]
)
def test_an_allowance_that_no_saw_cut_has_is_refused(size: int, says: str) -> None:
    sizes = vars(customary()) | {"length": size}

    with pytest.raises(BadOversize) as refused:
        Oversize(**sizes)
    assert says.split(":")[0] in str(refused.value)


# --- wide parts ---------------------------------------------------------------------------------------------------


def test_a_panel_is_glued_from_as_few_boards_as_the_widest_allows_and_they_add_up() -> None:
    assert shares(inch(20), inch(8)) == (inch(107, 16), inch(106, 16), inch(107, 16))
    assert shares(inch(8), inch(8)) == (inch(8),)
    assert (
        shares(inch(8) + 1, inch(8)) == (inch(4) + inch(1, 16), inch(4) - inch(1, 16) + 1)
        or sum(shares(inch(8) + 1, inch(8))) == inch(8) + 1
    )


def test_no_joint_lies_where_a_groove_runs() -> None:
    # Twelve inches in two boards would be joined at 6; a groove of 1/4 from 5 7/8 bars 5 5/8 to 6 3/8 with 1/4 clear.
    groove = Groove("g", Face.FACE_SIDE, offset=inch(47, 8), width=inch(1, 4), depth=inch(1, 4))
    zones = barred([groove], Stock(inch(3, 4), inch(12), inch(30)), inch(1, 4))

    assert zones == (Zone(inch(45, 8), inch(51, 8)),)
    assert shares(inch(12), inch(8), zones) in ((inch(45, 8), inch(51, 8)), (inch(51, 8), inch(45, 8)))


def test_a_rabbet_along_an_edge_bars_what_it_takes_and_a_dado_bars_nothing() -> None:
    stock = Stock(inch(3, 4), inch(12), inch(30))
    rabbet = Rabbet("r", Face.BACK, along=Face.FAR_EDGE, width=inch(1, 2), depth=inch(3, 8))

    assert barred([rabbet], stock, inch(1, 4)) == (Zone(inch(45, 4), inch(49, 4)),)


def test_a_panel_that_is_grooved_all_over_is_told_so() -> None:
    with pytest.raises(CannotWiden) as refused:
        shares(inch(12), inch(8), [Zone(0, inch(12))])
    assert "Allow a wider board, or move the groove." in str(refused.value)


@given(
    st.integers(inch(2), inch(60)),
    st.integers(inch(4), inch(12)),
    st.lists(st.integers(0, 60 * 16).map(lambda n: Zone(n * INCH // 16, n * INCH // 16 + inch(3, 4))), max_size=4),
    st.sampled_from(Unit),
)
def test_shares_add_up_exactly_fit_the_boards_and_clear_what_is_barred(
    width: int, widest: int, zones: list[Zone], unit: Unit
) -> None:
    try:
        found = shares(width, widest, zones, unit)
    except CannotWiden:
        # Only what is barred can be in the way: without it there is always a way.
        assert zones and shares(width, widest, (), unit)
        return

    assert sum(found) == width
    assert all(0 < share <= widest for share in found)
    joints = [sum(found[: n + 1]) for n in range(len(found) - 1)]
    assert not [joint for joint in joints for zone in zones if zone.start < joint < zone.end]


# --- the list -----------------------------------------------------------------------------------------------------


def test_a_part_is_sawn_from_the_thinnest_lumber_that_its_rough_thickness_fits() -> None:
    (blank,) = rough_list(job(line(inch(7, 8), inch(13, 4), inch(26))), SAWING).blanks

    # 7/8 and 3/32 on each face are 1 1/16: 4/4 is too thin.
    assert (blank.lumber.name, blank.rough.thickness) == ("5/4", inch(17, 16))
    assert blank.species == "cherry"


def test_a_thick_leg_is_solid_while_the_lumber_is_thick_enough_and_laminated_past_it() -> None:
    leg = line(inch(3), inch(3), inch(30))

    laminated = rough_list(job(leg), SAWING)
    assert [(b.key, b.says, b.finished.thickness, b.lumber.name) for b in laminated.blanks] == [
        ("p1", "layer 1 of 2", inch(3, 2), "8/4"),
        ("p1/2", "layer 2 of 2", inch(3, 2), "8/4"),
    ]
    solid = rough_list(job(leg), SAWING, {"line": Making(Way.SOLID)})
    assert [(b.lumber.name, b.rough.thickness) for b in solid.blanks] == [("16/4", inch(51, 16))]


def test_a_solid_part_thicker_than_all_lumber_is_a_fault_that_says_what_would_do_and_the_rest_is_listed() -> None:
    thick = Line("post", "case", "Post", inch(5), inch(5), inch(30), parts=(Part("post"),))
    found = rough_list(job(thick, line(inch(3, 4), inch(2), inch(20))), SAWING, {"post": Making(Way.SOLID)})

    assert [blank.key for blank in found.blanks] == ["p1"]
    assert [str(fault) for fault in found.faults] == [
        "Post: no lumber gives 5 in in one piece. Laminate it, in 2 layers; the thickest that is bought is 16/4."
    ]


def test_two_panels_can_be_resawn_from_one_board_and_an_odd_one_is_sawn_alone() -> None:
    panels = line(inch(3, 8), inch(5), inch(20), count=3)
    pair, alone = rough_list(job(panels), SAWING, {"line": Making(Way.RESAWN)}).blanks

    # Twice 3/8 and 3/16, and a kerf of 1/16 between them: 1 3/16.
    assert (pair.parts, pair.rough.thickness, pair.lumber.name) == (("p1", "p2"), inch(19, 16), "5/4")
    assert (alone.parts, alone.rough.thickness, alone.says) == (("p3",), inch(9, 16), "")


def test_a_metric_shop_buys_by_the_millimetre() -> None:
    sawing = Sawing(customary(Unit.MM), Unit.MM, METRIC, mm("200"), mm("80"), mm("1.5"))
    (blank,) = rough_list(job(line(mm("22"), mm("60"), mm("500"))), sawing).blanks

    assert (blank.lumber.name, blank.rough.thickness) == ("32 mm", mm("27"))
    assert lumber_named("32 mm") == blank.lumber
    assert lumber_named("9/4") is None


def test_every_part_of_the_demo_has_its_blanks_and_they_make_its_size() -> None:
    demo = demo_job()
    found = rough_list(demo, SAWING)

    assert not found.faults
    by_part: dict[str, list[int]] = {}
    for blank in found.blanks:
        by_part.setdefault(blank.parts[0], []).append(blank.finished.width)
        assert blank.rough.thickness <= blank.lumber.nominal
    assert by_part.keys() == {part.key for each in demo.lines for part in each.parts}
    assert all(sum(by_part[part.key]) == each.width for each in demo.lines for part in each.parts)
    # The top, 18 1/4 wide, is glued of three boards; a side panel, 13 3/4 wide, of two.
    assert len(by_part["top"]) == 3
    assert len(by_part["left.panel"]) == 2


@given(st.integers(inch(1, 8), inch(12)), st.integers(inch(1, 2), inch(40)), st.integers(1, inch(200)),
       st.sampled_from([None, *Way]), st.integers(0, 12))  # fmt: skip
def test_blanks_of_any_part_make_it_up_exactly_or_a_sentence_says_why_not(
    thickness: int, width: int, length: int, way: Way | None, boards: int
) -> None:
    found = rough_list(job(line(thickness, width, length, count=2)), SAWING, {"line": Making(way, boards)})

    if found.faults:
        assert all(isinstance(fault, ShopError) and str(fault).endswith(".") for fault in found.faults)
        return
    own = [blank for blank in found.blanks if "p1" in blank.parts]
    if own[0].says.startswith("layer"):
        assert sum(blank.finished.thickness for blank in own) == thickness
    elif own[0].says.startswith("board"):
        assert sum(blank.finished.width for blank in own) == width
    assert all(min(blank.finished) > 0 and blank.rough.thickness <= blank.lumber.nominal for blank in own)
    assert len({blank.key for blank in found.blanks}) == len(found.blanks)


# --- what is bought -----------------------------------------------------------------------------------------------

LUMBER = lumber_named("4/4")
assert LUMBER
CHERRY = Wood("cherry", LUMBER)


def test_what_is_lost_is_a_share_of_what_is_bought() -> None:
    # 15/16 x 9 x 32 rough, of 4/4: 9 x 32 / 144 = 2 board feet each.
    blanks = rough_list(job(line(inch(3, 4), inch(70, 8), inch(31), count=2)),
                        Sawing(customary(), widest=inch(12))).blanks  # fmt: skip
    each = board_feet_of(blanks[0])
    (row,) = buying(blanks, Fraction(3, 10), {CHERRY: Price(Fraction(9))}).rows

    assert row.needed == 2 * each
    assert row.bought == 2 * each / Fraction(7, 10)
    assert row.cost == row.bought * 9
    assert buying(blanks, Fraction(3, 10), of=Waste.ADDED).rows[0].bought == 2 * each * Fraction(13, 10)


def test_costs_of_the_assemblies_add_up_to_the_whole() -> None:
    blanks = rough_list(demo_job(), SAWING).blanks
    prices = {Wood(blank.species, blank.lumber): Price(Fraction("8.75")) for blank in blanks}
    found = buying(blanks, Fraction(3, 10), prices)

    assert found.cost == sum(found.of_assembly.values())
    assert found.cost == sum(row.cost for row in found.rows if row.cost is not None)
    assert found.of_assembly.keys() == {assembly.key for assembly in demo_job().assemblies}


def test_without_a_price_nothing_is_said_to_cost_nothing() -> None:
    found = buying(rough_list(demo_job(), SAWING).blanks, Fraction(3, 10))

    assert found.cost is None
    assert not found.of_assembly


def test_a_price_for_a_cubic_metre_is_the_same_money() -> None:
    # 1 cubic metre is 423.776 board feet.
    assert round(float(Price(Fraction(1000), Per.CUBIC_METRE).per_board_foot), 6) == 2.359737


def test_a_price_below_zero_is_one_sentence() -> None:
    with pytest.raises(BadPrice) as refused:
        buying([], Fraction(3, 10), {CHERRY: Price(Fraction(-5))})
    assert str(refused.value) == "price: -5 is no price. Give 0 to 1,000,000 for a board foot."
