"""One choice says how loose the joints of a construction are: what enters is thinner, all else stays as it is."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.trade import meeting
from shopfloor.trade.construct.carcase import Carcase
from shopfloor.trade.construct.clearances import NOMINAL, Clearances
from shopfloor.trade.construct.compose import Construction, derive
from shopfloor.trade.construct.derived import Override
from shopfloor.trade.construct.made import Built
from shopfloor.trade.construct.mates import Placed, clashes, fit, placed
from shopfloor.trade.construct.shelf import Shelves
from shopfloor.trade.document import check, from_json, to_json
from shopfloor.trade.fault import Fault
from shopfloor.trade.length import Length, read
from shopfloor.trade.part import Feature, Job, Mortise, Rabbet, Tails, Tenon, Tongue

from .choir_cabinet import CHOIR_CABINET as CHOIR
from .constructions import (
    cabinets,
    carcases,
    doors,
    lone_drawers,
    lone_frames,
    lone_shelves,
    lone_web_frames,
    mm,
    tables,
)

CHEEK, EDGE, GROOVE = read("1/64"), read("1/64"), read("1/64")
FIT = Clearances(CHEEK, EDGE, GROOVE)

some = st.just(0) | mm(0, 0.4)
fits = st.builds(Clearances, some, some, some)
JOINED = st.one_of(
    cabinets(), carcases(), tables(), doors(), lone_frames(), lone_web_frames(), lone_drawers(), lone_shelves()
)  # fmt: skip
LOOSE = st.builds(lambda made, fit: replace(made, fit=fit), JOINED, fits)


def part(built: Built, key: str) -> Placed:
    return placed(built.assemblies, built.lines)[key]


def feature(built: Built, key: str, name: str) -> Any:
    return part(built, key).feature(name)


# --- worked by hand ----------------------------------------------------------------------------------------------


def test_a_tenon_is_thinner_by_both_cheeks_and_its_mortise_is_as_wide_as_the_chisel_and_longer() -> None:
    tight, loose = derive(CHOIR), derive(replace(CHOIR, fit=FIT))
    was, now = feature(tight, "left.top-rail", "front"), feature(loose, "left.top-rail", "front")
    cut, other = (feature(each, "leg.front-left", "side-top") for each in (tight, loose))

    assert loose.faults == ()
    # 1/4 thick less 2 x 1/64 is 7/32; it begins 1/64 farther behind the face side.
    assert (now.thickness, now.offset) == (read("7/32"), was.offset + CHEEK)
    assert (now.length, now.width, now.edge_offset) == (was.length, was.width, was.edge_offset)
    assert (other.width, other.offset, other.depth) == (cut.width, cut.offset, cut.depth)
    # The shoulder at the top covers 1/64, and so does the groove below.
    assert (other.start, other.length) == (cut.start - EDGE, cut.length + 2 * EDGE)


def test_no_length_of_a_part_hangs_on_the_fit() -> None:
    tight, loose = derive(CHOIR), derive(replace(CHOIR, fit=FIT))

    sizes = [[(line.key, line.stock) for line in each.lines] for each in (tight, loose)]

    assert sizes[0] == sizes[1]


def test_the_thinner_tenon_is_told_with_its_sum() -> None:
    said = {each.key: each.said for each in derive(replace(CHOIR, fit=FIT)).derived}

    assert said["left-tenon.thickness"] == (
        "tenon ", read("7/32"), " = ", "mortise ", read("1/4"), " - 2 clearances of ", CHEEK,
    )  # fmt: skip
    assert "left-tenon.thickness" not in {each.key for each in derive(CHOIR).derived}


SHELVES = Shelves(3, read("3/4"), read("1/2"), read("1/4"), read("1/16"))
CASE = Carcase(read("30"), read("11"), read("36"), read("3/4"), shelves=SHELVES)


def test_a_bare_faced_tongue_loses_all_of_it_at_its_shoulder_so_that_shelves_stay_flush() -> None:
    tight, loose = derive(CASE), derive(replace(CASE, fit=FIT))

    tongue, dado = feature(loose, "shelf.1", "left"), feature(loose, "side.left", "shelf-1")

    # The tongue was from 1/4 to 3/4 above the underside; 2 x 1/64 go at its lower cheek.
    assert (tongue.offset, tongue.thickness) == (read("9/32"), read("15/32"))
    assert dado == feature(tight, "side.left", "shelf-1")
    assert dado.width == read("1/2")


def test_a_whole_end_has_no_cheek_so_its_dado_is_wider_below() -> None:
    whole = replace(CASE, shelves=replace(SHELVES, tongue=read("3/4")))
    tight, loose = derive(whole), derive(replace(whole, fit=FIT))

    for nth in ("1", "2"):
        was, now = (feature(each, "side.left", f"shelf-{nth}") for each in (tight, loose))
        # The datum is the top, so the upper side of the dado stays and the lower goes down by 2 x 1/64.
        assert (now.start, now.width) == (was.start, was.width + read("1/32"))
        assert feature(loose, f"shelf.{nth}", "left") == feature(tight, f"shelf.{nth}", "left")


@pytest.mark.parametrize(("fit", "where", "what", "do"), [
    (Clearances(cheek=read("1/8")), "fit.cheek",
     "a clearance of 1/8 in is too much for a tenon in a mortise 1/4 in wide", "Less than 1/8 in would do."),
    (Clearances(edge=-EDGE), "fit.edge", "a clearance of -1/64 in is too little to go together",
     "0 in or more would do."),
])  # fmt: skip
def test_a_fit_that_leaves_no_tenon_or_cannot_go_together_is_refused(
    fit: Clearances, where: str, what: str, do: str
) -> None:
    assert derive(replace(CHOIR, fit=fit)).faults[0] == Fault(where, what, do)


def test_a_tenon_that_was_set_by_hand_stays_and_the_fit_is_that_of_the_document() -> None:
    own = replace(CHOIR, fit=FIT, overrides=(Override("left-tenon.thickness", read("3/16")),))

    assert feature(derive(own), "left.top-rail", "front").thickness == read("3/16")
    job = Job("c", "C", constructions=(own,))
    assert from_json(to_json(job)) == job


def test_a_document_without_a_fit_is_written_as_it_was() -> None:
    assert '"fit"' not in to_json(Job("c", "C", constructions=(CHOIR,)))
    assert CHOIR.fit == NOMINAL


# --- laws --------------------------------------------------------------------------------------------------------


def beside(built: Built, parts: dict[str, Placed]) -> list[tuple[Feature, Feature, Length, Length]]:
    """Each joint: both features and what is free at the two cheeks, in the thickness of what enters."""
    found = []
    for each in built.meetings:
        one, other = parts[each.enters.part], parts[each.takes.part]
        axis = next(i for i, way in enumerate(one.stands.directions()[2]) if way)
        inner, outer = one.box(each.enters.feature), other.box(each.takes.feature)
        found.append((
            one.feature(each.enters.feature), other.feature(each.takes.feature),
            inner[2 * axis] - outer[2 * axis], outer[2 * axis + 1] - inner[2 * axis + 1],
        ))  # fmt: skip
    return found


@settings(max_examples=40)
@given(made=LOOSE)
def test_every_joint_is_free_by_its_fit_and_no_more(made: Any) -> None:
    built = derive(made)

    assert built.faults == ()
    for enters, takes, low, high in beside(built, placed(built.assemblies, built.lines)):
        if isinstance(enters, Tails) or isinstance(takes, Rabbet):
            continue  # tails fill their sockets, and a rabbet is open at one side
        each = made.fit.cheek if isinstance(takes, Mortise) else made.fit.groove
        at_the_end = low + high < 2 * each  # a dado that is wider for a whole end stops where its part does
        assert min(low, high) in (0, each), enters
        assert at_the_end or low + high == 2 * each, enters
        if at_the_end:
            assert isinstance(enters, Tongue | Tenon)
            assert enters.thickness in {line.thickness for line in built.lines}


@settings(max_examples=20)
@given(made=LOOSE)
def test_what_is_loose_is_sound_goes_together_and_nothing_wants_the_same_space(made: Construction) -> None:
    built = derive(made)
    parts = placed(built.assemblies, built.lines)
    job = Job("any", "Any", assemblies=built.assemblies, lines=built.lines, joints=built.joints)

    assert check(job) == []
    assert meeting.faults(job) == ()
    assert clashes(parts) == []
    for each in built.meetings:
        found = fit(each.enters, each.takes, parts)
        assert abs(found.tip - each.tip) <= 1, each  # 1 nm: places are rounded once
        assert abs(found.shoulder - each.shoulder) <= 1, each
        if not each.key.endswith("-bottom-front"):
            assert min(found.across) >= 0, each


@settings(max_examples=15)
@given(made=LOOSE)
def test_a_mortise_is_longer_by_the_fit_only_where_a_shoulder_covers_it(made: Any) -> None:
    built, tight = derive(made), derive(replace(made, fit=NOMINAL))
    was = {(part.key, each.key): each for line in tight.lines for part in line.parts for each in line.features}

    for line in built.lines:
        for one in (each for each in line.features if isinstance(each, Mortise)):
            before = was[line.parts[0].key, one.key]
            assert isinstance(before, Mortise)
            assert 0 <= one.length - before.length <= 2 * made.fit.edge
            assert 0 <= before.start - one.start <= made.fit.edge
            assert (one.offset, one.width, one.depth) == (before.offset, before.width, before.depth)
