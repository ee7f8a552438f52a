"""A derived length says where it comes from, and its words add up."""

from __future__ import annotations

import re

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.trade.construct.compose import Construction, derive
from shopfloor.trade.construct.derived import Impossible, Override, Said, Working, minus, plus
from shopfloor.trade.construct.share import places, shared
from shopfloor.trade.length import INCH, Length, read, write, write_exact

from .test_kept import ALL

SAID = [
    ("a sum", [plus("opening", read("12 1/2")), plus("tenon", read("1"), 2)], 1,
     "rail 14 1/2 = opening 12 1/2 + 2 tenons of 1"),
    ("a difference", [plus("width", read("26")), minus("leg", read("1 3/4"), 2)], 1,
     "rail 22 1/2 = width 26 - 2 legs of 1 3/4"),
    ("nothing is left out but a summand of nothing", [plus("width", read("26")), plus("overhang", 0, 2)], 1,
     "rail 26 = width 26"),
    ("what is taken no times is left out", [plus("width", read("26")), minus("gap", read("1/8"), 0)], 1,
     "rail 26 = width 26"),
    ("several of what has words after it", [plus("width", read("26")), minus("gap between them", read("1/8"), 2)], 1,
     "rail 25 3/4 = width 26 - 2 gaps between them of 1/8"),
    ("a share", [plus("sides", read("29 1/4")), minus("frame", read("3/4"), 7)], 6,
     "rail 4 = (sides 29 1/4 - 7 frames of 3/4) / 6"),
    ("a share that is rounded", [plus("sides", 100)], 3, "rail 0 full = (sides 0 full) / 3, rounded down"),
]  # fmt: skip


def text(said: Said) -> str:
    return "".join(word if isinstance(word, str) else write(word) for word in said)


@pytest.mark.parametrize(("terms", "over", "expected"), [row[1:] for row in SAID], ids=[row[0] for row in SAID])
def test_a_length_is_told_with_its_arithmetic(terms: list, over: int, expected: str) -> None:  # type: ignore[type-arg]
    work = Working()
    work.length("rail", "rail", *terms, over=over)

    assert text(work.derived[0].said) == expected


lengths = st.integers(1, 5_000 * 1_000_000)


@given(start=lengths, others=st.lists(st.tuples(st.booleans(), st.integers(1, 20), lengths), max_size=4))
def test_the_numbers_of_a_derivation_give_its_length(start: Length, others: list[tuple[bool, int, Length]]) -> None:
    work = Working()
    terms = [(plus if more else minus)("x", nm, times) for more, times, nm in others]
    total = start + sum(times * nm * (1 if more else -1) for more, times, nm in others)
    if total <= 0:
        with pytest.raises(Impossible):
            work.length("key", "name", plus("start", start), *terms)
        return

    assert work.length("key", "name", plus("start", start), *terms) == total
    (derived,) = work.derived
    assert derived.said[1] == total
    assert [each for each in derived.said[2:] if isinstance(each, int)] == [start, *(nm for _, _, nm in others)]


@settings(max_examples=40)
@given(made=ALL)
def test_every_derivation_of_every_construction_adds_up_as_it_is_read(made: Construction) -> None:
    """Read from the words alone: each number, times what stands before it, taken off after a minus."""
    for each in derive(made).derived:
        words = "".join(piece if isinstance(piece, str) else write_exact(piece, "mm") for piece in each.said)
        total, _, sum_of = words.partition(" = ")
        sum_of, shared, over = sum_of.partition(") / ")
        worth = 0
        for term in re.split(r" (?=[-+] )", sum_of.removeprefix("(")):
            many, size = re.fullmatch(r"[-+]? ?(?:(\d+) )?\D*?([\d.]+ mm)", term.strip()).groups()  # type: ignore[union-attr]
            assert many is None or re.match(rf"[-+]? ?{many} \w+( \w+)*s\b", term), term
            assert many not in ("0", "1"), words
            worth += (-1 if term.startswith("-") else 1) * int(many or 1) * read(size)
        worth //= int(over.split(",")[0]) if shared else 1
        assert read(re.findall(r"[\d.]+ mm", total)[0]) == worth, words


@given(start=lengths, taken=lengths, times=st.integers(1, 9))
def test_what_would_do_does_and_a_nanometre_less_than_it_needs_does_not(
    start: Length, taken: Length, times: int
) -> None:
    work = Working()
    if start > times * taken:
        return
    with pytest.raises(Impossible) as told:
        work.length("key", "name", plus("start", start), minus("x", taken, times))

    named = read(told.value.do.removeprefix("Start must be more than ").removesuffix("."))
    assert named >= times * taken
    assert work.length("key", "name", plus("start", named + 1), minus("x", taken, times)) >= 1


def test_a_name_of_its_own_does_not_part_a_length_from_what_was_set_by_hand() -> None:
    work = Working(overrides=[Override("rail.length", INCH)], prefix="second-")

    assert work.length("second-rail.length", "rail", plus("opening", 2 * INCH)) == INCH


@given(
    solids=st.lists(lengths, min_size=2, max_size=30),
    total=st.integers(1, 10_000_000_000),
)
def test_equal_openings_and_what_stands_between_fill_the_whole(solids: list[Length], total: Length) -> None:
    count = len(solids) - 1
    whole = sum(solids) + total + count
    work = Working()
    openings = shared(work, "key", "opening", "whole", whole, [minus("solid", nm) for nm in solids], (), count)
    starts = places(solids, openings, whole)

    assert starts[0] == 0
    assert starts[-1] + solids[-1] == whole
    gaps = [start - before - solid for before, solid, start in zip(starts, solids, starts[1:], strict=False)]
    assert max(gaps) - min(gaps) <= 1
    assert min(gaps) >= openings[0]


WANTED = [
    ("given ones stay, the rest is shared", ("4", "0"), ["4", "3", "3"]),
    ("all are given", ("4", "5", "1"), ["4", "5", "1"]),
    ("a share first", ("0", "5"), ["2 1/2", "5", "2 1/2"]),
]


@pytest.mark.parametrize(("wanted", "expected"), [row[1:] for row in WANTED], ids=[row[0] for row in WANTED])
def test_openings_that_are_given_stay(wanted: tuple[str, ...], expected: list[str]) -> None:
    found = shared(Working(), "key", "opening", "height", read("12"), [minus("rail", read("1/2"), 4)],
                   tuple(map(read, wanted)), 3)  # fmt: skip

    assert found == list(map(read, expected))


REFUSED = [
    (("4", "5", "2"), "the openings add up to 1 in more than there is", "The last one would do with 1 in."),
    (("4", "5", "1/2"), "the openings add up to 1/2 in less than there is", "The last one would do with 1 in."),
    (("6", "7", "1"), "the openings add up to 4 in more than there is", "Leave one 0, to take what is left."),
    (("1", "1", "1", "1"), "4 sizes are given for 3 openings", "Give 3 at most."),
]


@pytest.mark.parametrize(("wanted", "what", "do"), REFUSED)
def test_openings_that_do_not_add_up_are_refused(wanted: tuple[str, ...], what: str, do: str) -> None:
    with pytest.raises(Impossible) as told:
        shared(Working(), "key", "opening", "height", read("12"), [minus("rail", read("1/2"), 4)],
               tuple(map(read, wanted)), 3)  # fmt: skip

    assert (told.value.what, told.value.do) == (what, do)
