"""Species: the table is whole, what is trusted is marked, and everyday names find their wood."""

from __future__ import annotations

from collections import Counter
from fractions import Fraction

import pytest

from shopfloor.trade.fact import CONFIRMED, UNCONFIRMED
from shopfloor.trade.species import SPECIES, Species, UnknownSpecies, candidates, find_species, species_facts
from tests.vectors import load


def test_the_table_holds_68_woods_each_once() -> None:
    assert len(SPECIES) == len({wood.name for wood in SPECIES}) == 68


def test_it_is_marked_which_coefficients_were_read_and_which_were_not() -> None:
    assert Counter(wood.coefficients_are.value for wood in SPECIES) == {
        "confirmed": 28, "derived": 15, "unconfirmed": 25,
    }  # fmt: skip


@pytest.mark.parametrize("wood", SPECIES, ids=lambda wood: wood.name)
def test_a_wood_moves_more_along_the_rings_than_across_them(wood: Species) -> None:
    assert Fraction("0.0005") < wood.radial < wood.tangential < Fraction("0.005")
    if wood.shrinks_tangential is not None and wood.shrinks_radial is not None:
        assert 2 <= wood.shrinks_radial < wood.shrinks_tangential < 12
    assert wood.gravity is not None and Fraction("0.3") < wood.gravity < Fraction("0.75")


# Read off the printed table, one of each kind of row.
@pytest.mark.parametrize(
    ("name", "tangential", "radial"),
    [
        ("black cherry", "0.00248", "0.00126"),
        ("red oak (commercial group)", "0.00369", "0.00158"),
        ("sugar maple (hard)", "0.00353", "0.00165"),
        ("eastern white pine", "0.00212", "0.00071"),
    ],
)
def test_the_numbers_of_the_printed_table_are_kept(name: str, tangential: str, radial: str) -> None:
    wood = find_species(name)

    assert (wood.tangential, wood.radial) == (Fraction(tangential), Fraction(radial))


def test_every_wood_of_the_worked_values_is_in_the_table() -> None:
    named = {vector["input"]["species"] for vector in load("wood")["vectors"] if "species" in vector["input"]}

    assert len(named) >= 6
    assert all(len(candidates(name)) == 1 for name in named)


@pytest.mark.parametrize(
    ("written", "means"),
    [
        ("cherry", "black cherry"),
        ("  Black   CHERRY ", "black cherry"),
        ("Prunus serotina", "black cherry"),
        ("walnut", "black walnut"),
        ("hard maple", "sugar maple (hard)"),
        ("red oak", "red oak (commercial group)"),
        ("white oak", "white oak"),
        ("poplar", "yellow-poplar (tulipwood)"),
        ("douglas-fir, coast", "coast Douglas-fir"),
    ],
)
def test_an_everyday_name_finds_its_wood(written: str, means: str) -> None:
    assert find_species(written).name == means


@pytest.mark.parametrize(
    ("written", "suggests"),
    [
        ("ash", ("black ash", "white ash")),
        ("soft maple", ("red maple (soft)", "silver maple (soft)")),
        ("cheery", ("black cherry",)),
        ("zebra", ()),
        ("", ()),
    ],
)
def test_an_unclear_name_is_refused_with_what_may_be_meant(written: str, suggests: tuple[str, ...]) -> None:
    with pytest.raises(UnknownSpecies) as refused:
        find_species(written, where="row 4, Species")

    assert refused.value.suggests == suggests
    assert refused.value.where == "row 4, Species"
    assert refused.value.do


def test_a_shop_adds_its_own_woods() -> None:
    own = Species("European oak", "Quercus robur", Fraction("0.0036"), Fraction("0.0018"))

    assert find_species("european oak", (*SPECIES, own)) is own


def test_each_number_says_how_far_it_can_be_trusted() -> None:
    told = {fact.key: fact.status for fact in species_facts()}

    assert told["species-black-cherry-tangential"] is CONFIRMED
    assert told["species-sugar-maple-hard-tangential"] is CONFIRMED
    assert told["species-sugar-maple-hard-shrinks-tangential"] is UNCONFIRMED
    assert told["species-true-mahogany-central-south-american-shrinks-radial"] is CONFIRMED
    assert told["species-silver-maple-soft-gravity"] is UNCONFIRMED
    assert "species-red-oak-commercial-group-shrinks-radial" not in told
