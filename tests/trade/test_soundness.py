"""What keeps a job from being built is found, with its place; what can be built has no fault."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from shopfloor.trade.document import check
from shopfloor.trade.part import (
    Assembly,
    Bridle,
    Dado,
    Face,
    Feature,
    Groove,
    Half,
    HalfLap,
    Hand,
    Hole,
    Job,
    Joint,
    Line,
    LooseTenon,
    Mortise,
    OpenMortise,
    Part,
    Pins,
    Placement,
    Rabbet,
    Tails,
    Tenon,
    Tongue,
    Unit,
)  # fmt: skip

MM = 1_000_000
EVERY = [Face.FACE_SIDE, Face.BACK, Face.FACE_EDGE, Face.FAR_EDGE, Face.DATUM_END, Face.FAR_END]

# A post of 20 x 30 x 400 and a rail of 10 x 20 x 100.
POST = Line(
    "post", "frame", "Post", 20 * MM, 30 * MM, 400 * MM,
    features=(Mortise("m", Face.FACE_SIDE, 10 * MM, 20 * MM, 5 * MM, 5 * MM, 12 * MM),),
    parts=(Part("post.left", stands=Placement("-Z -X +Y")), Part("post.right", "", Hand.MIRROR, Placement("-Z +X +Y"))),
)  # fmt: skip
RAIL = Line(
    "rail", "frame", "Rail", 10 * MM, 20 * MM, 100 * MM, parts=(Part("rail.1"),),
    features=(Tenon("a", Face.DATUM_END, 11 * MM, 2 * MM, 5 * MM, 0, 20 * MM), Groove("g", Face.BACK, 0, MM, MM)),
)  # fmt: skip
JOINT = Joint("j", Half("rail.1", "a"), Half("post.left", "m"), "1A")
FRAME = Job("frame", "Frame", Unit.MM, assemblies=(Assembly("frame", 1, "Frame"),), lines=(POST, RAIL), joints=(JOINT,))


def test_a_sound_job_has_no_fault() -> None:
    assert check(FRAME) == []


def featured(feature: Feature) -> Job:
    return replace(FRAME, lines=(POST, replace(RAIL, features=(RAIL.features[0], feature))))


FITS = {
    "a mortise right through": Mortise("f", Face.FAR_EDGE, 0, 100 * MM, 0, 10 * MM, 0),
    "a mortise just as deep as the width": Mortise("f", Face.FACE_EDGE, 0, 5 * MM, 0, 5 * MM, 20 * MM),
    "a groove to the far end": Groove("f", Face.FACE_EDGE, 0, 10 * MM, 20 * MM, start=99 * MM),
    "a dado all the way over": Dado("f", Face.FACE_EDGE, 95 * MM, 5 * MM, 4 * MM),
    "a rabbet on an end": Rabbet("f", Face.BACK, Face.FAR_END, 5 * MM, 4 * MM),
    "a rabbet on an edge, stopped": Rabbet("f", Face.FACE_SIDE, Face.FACE_EDGE, 5 * MM, 4 * MM, 10 * MM, 90 * MM),
    "a tongue": Tongue("f", Face.FAR_EDGE, 5 * MM, 0, 5 * MM),
    "a hole": Hole("f", Face.FACE_SIDE, 4 * MM, 4 * MM, 8 * MM),
}


@pytest.mark.parametrize("feature", FITS.values(), ids=FITS)
def test_a_feature_within_its_stock_has_no_fault(feature: Feature) -> None:
    assert check(featured(feature)) == []


FAULTY_FEATURES: dict[str, tuple[Feature, str, str]] = {
    "a mortise deeper than the thickness": (
        Mortise("f", Face.FACE_SIDE, 0, 5 * MM, 0, 5 * MM, 11 * MM), "", "comes out 1 mm outside the back"),
    "a mortise deeper than the width": (
        Mortise("f", Face.FACE_EDGE, 0, 5 * MM, 0, 5 * MM, 23 * MM), "", "comes out 3 mm outside the far edge"),
    "a mortise past the end": (
        Mortise("f", Face.FACE_EDGE, 98 * MM, 5 * MM, 0, 5 * MM), "", "this mortise comes out 3 mm past the far end"),
    "a mortise beside the face": (
        Mortise("f", Face.FACE_SIDE, 0, 5 * MM, 18 * MM, 5 * MM), "", "comes out 3 mm outside the far edge"),
    "a groove deeper than the width": (
        Groove("f", Face.FAR_EDGE, 0, MM, 21 * MM), "", "this groove comes out 1 mm outside the face edge"),
    "a dado deeper than the thickness": (
        Dado("f", Face.BACK, 0, MM, 12 * MM), "", "this dado comes out 2 mm outside the face side"),
    "a rabbet wider than the part": (
        Rabbet("f", Face.BACK, Face.FACE_EDGE, 22 * MM, MM), "", "this rabbet comes out 2 mm outside the far edge"),
    "a tenon thicker than the stock": (
        Tenon("f", Face.FAR_END, MM, 6 * MM, 5 * MM, 0, MM), "", "this tenon comes out 1 mm outside the back"),
    "a tenon longer than the part": (
        Tenon("f", Face.FAR_END, 101 * MM, 0, MM, 0, MM), "", "this tenon comes out 1 mm before the datum end"),
    "a hole over the end": (
        Hole("f", Face.FACE_SIDE, 3 * MM, 9 * MM, 8 * MM), "", "this hole comes out 1 mm before the datum end"),
    "a mortise in an end": (Mortise("f", Face.FAR_END, 0, MM, 0, MM), ", face", "no mortise is on the far end"),
    "a tenon on an edge": (Tenon("f", Face.FACE_EDGE, MM, 0, MM, 0, MM), ", face", "no tenon is on the face edge"),
    "a tongue on a face": (Tongue("f", Face.BACK, MM, 0, MM), ", face", "no tongue is on the back"),
    "a rabbet in an edge": (Rabbet("f", Face.FACE_EDGE, Face.BACK, MM, MM), ", face", "no rabbet is on the face edge"),
    "a rabbet along a face": (Rabbet("f", Face.BACK, Face.BACK, MM, MM), ", along", "a rabbet runs along no back"),
    "a groove of no width": (Groove("f", Face.BACK, 0, 0, MM), ", width", "0 mm cannot be made"),
    "a groove of no depth": (Groove("f", Face.BACK, 0, MM, 0), ", depth", "0 mm cannot be made"),
    "a start before the datum": (Groove("f", Face.BACK, 0, MM, MM, start=-MM), ", start", "-1 mm cannot be made"),
}  # fmt: skip


@pytest.mark.parametrize(("feature", "field", "says"), FAULTY_FEATURES.values(), ids=FAULTY_FEATURES)
def test_a_feature_that_cannot_be_made_is_a_fault(feature: Feature, field: str, says: str) -> None:
    faults = check(featured(feature))

    assert [fault.where for fault in faults] == [f'line "rail", feature "f"{field}']
    assert says in faults[0].what


def test_a_feature_out_on_two_sides_is_told_for_both() -> None:
    # Centre 2 mm from both references, radius 4: 2 mm out on each.
    faults = check(featured(Hole("f", Face.FACE_SIDE, 2 * MM, 2 * MM, 8 * MM)))

    assert [fault.what for fault in faults] == [
        "this hole comes out 2 mm before the datum end",
        "this hole comes out 2 mm outside the face edge",
    ]
    assert faults[0].do == "The part is 10 mm × 20 mm × 100 mm."


@pytest.mark.parametrize("face", EVERY, ids=[face.value for face in EVERY])
@pytest.mark.parametrize("kind", [Mortise, Groove, Dado, Hole, Tenon, Tongue], ids=lambda kind: kind.kind)
def test_no_surface_makes_the_check_itself_stumble(kind: Any, face: Face) -> None:
    sizes = {name: MM for name, hint in kind.__annotations__.items() if hint == "Length"}

    assert len(check(featured(kind(key="f", face=face, **sizes)))) <= 1


SIDE, END = Face.FACE_SIDE, Face.FAR_END


@pytest.mark.parametrize(
    ("enters", "takes", "says"),
    [
        (Tails("a", END, MM, 1, MM, MM), Mortise("m", SIDE, 0, MM, 0, MM), "tails cannot go into a mortise"),
        (HalfLap("a", SIDE, 0, MM, MM), Dado("m", SIDE, 0, MM, MM), "a half lap cannot go into a dado"),
        (Bridle("a", SIDE, 0, MM, MM, MM), HalfLap("m", SIDE, 0, MM, MM), "a bridle cannot go into a half lap"),
        (Tenon("a", END, MM, 0, MM, 0, MM), Pins("m", END, SIDE, MM, 1, MM, MM), "a tenon cannot go into pins"),
        (LooseTenon("a", END, 0, MM, 0, MM, MM, MM), Mortise("m", SIDE, 0, MM, 0, MM), "cannot go into a mortise"),
        (Tenon("a", END, MM, 0, MM, 0, MM), OpenMortise("m", END, MM, 0, MM), ""),
        (Tails("a", END, MM, 1, MM, MM), Pins("m", END, SIDE, MM, 1, MM, MM), ""),
    ],
)
def test_what_enters_goes_only_into_what_can_take_it(enters: Feature, takes: Feature, says: str) -> None:
    lines = (replace(POST, features=(takes,)), replace(RAIL, features=(enters,)))

    faults = check(replace(FRAME, lines=lines))

    assert [says in fault.what for fault in faults] == ([True] if says else [])


def line(**changes: Any) -> Job:
    return replace(FRAME, lines=(POST, replace(RAIL, **changes)))


def joint(**changes: Any) -> Job:
    return replace(FRAME, joints=(replace(JOINT, **changes),))


def assemblies(*more: Assembly) -> Job:
    return replace(FRAME, assemblies=FRAME.assemblies + more)


FAULTY: dict[str, tuple[Callable[[], Job], str, str]] = {
    "no key": (lambda: replace(FRAME, key=""), "key", "the job has no key"),
    "an odd denominator": (lambda: replace(FRAME, denominator=10), "denominator", "not divided by 10"),
    "a stack number twice": (lambda: assemblies(Assembly("b", 1, "B")), 'assembly number "1"', "there 2 times"),
    "a stack number of 0": (lambda: assemblies(Assembly("b", 0, "B")), 'assembly "b", number', "0 cannot stand"),
    "within nothing": (lambda: assemblies(Assembly("b", 2, "B", "c")), 'assembly "b", within', 'no assembly "c"'),
    "within itself": (lambda: assemblies(Assembly("b", 2, "B", "b")), 'assembly "b", within', "within itself"),
    "no such assembly": (lambda: line(assembly="door"), 'line "rail", assembly', 'no assembly "door"'),
    "a line twice": (lambda: line(key="post"), 'line "post"', "there 2 times"),
    "a part twice": (lambda: line(parts=(Part("rail.1"), Part("rail.1"))), 'part "rail.1"', "there 2 times"),
    "no part": (lambda: replace(line(parts=()), joints=()), 'line "rail", parts', "no part is made to it"),
    "no width": (lambda: line(width=0), 'line "rail", width', "more than nothing"),
    "a width below nothing": (lambda: line(width=-MM), 'line "rail", width', "more than nothing"),
    "a feature twice": (
        lambda: line(features=(RAIL.features[0],) * 2), 'line "rail", feature "a"', "there 2 times"),
    "a mirror image called as drawn": (
        lambda: line(parts=(Part("rail.1", stands=Placement("-X +Y +Z")),)),
        'line "rail", part "rail.1", hand', "called as drawn, but stands as a mirror image"),
    "as drawn called a mirror image": (
        lambda: line(parts=(Part("rail.1", "", Hand.MIRROR, Placement()),)),
        'line "rail", part "rail.1", hand', "called mirror, but stands as drawn"),
    "a letter twice": (
        lambda: replace(FRAME, joints=(JOINT, replace(JOINT, key="k", enters=Half("post.right", "m")))),
        'pair letter "1A"', "there 2 times"),
    "no such part in a joint": (lambda: joint(enters=Half("r", "a")), 'joint "j", enters', 'no part "r"'),
    "no such feature in a joint": (lambda: joint(takes=Half("post.left", "x")), 'joint "j", takes', 'no feature "x"'),
    "a groove that enters": (lambda: joint(enters=Half("rail.1", "g")), 'joint "j", enters', "a groove enters nothing"),
    "a tenon that takes": (lambda: joint(takes=Half("rail.1", "a")), 'joint "j", takes', "a tenon takes nothing"),
    "a part joined to itself": (lambda: joint(takes=Half("rail.1", "g")), 'joint "j"', "cannot be joined to itself"),
    "a tenon in two mortises": (
        lambda: replace(FRAME, joints=(JOINT, Joint("k", JOINT.enters, Half("post.right", "m")))),
        'joint "k", enters', '"a" of "rail.1" enters another joint already'),
}  # fmt: skip


@pytest.mark.parametrize(("made", "where", "says"), FAULTY.values(), ids=FAULTY)
def test_what_cannot_be_built_is_a_fault_with_its_place(made: Callable[[], Job], where: str, says: str) -> None:
    faults = {fault.where: fault.what for fault in check(made())}

    assert says in faults[where]


def test_a_part_in_a_mirrored_assembly_is_a_mirror_image() -> None:
    # The frame within the case is turned over left to right: what was drawn in it becomes a mirror image.
    case = Assembly("case", 2, "Case", stands=Placement("-X +Y +Z"))
    turned = Assembly("frame", 1, "Frame", within="case")
    job = replace(FRAME, assemblies=(turned, case))

    assert {fault.where for fault in check(job)} == {
        'line "post", part "post.left", hand',
        'line "post", part "post.right", hand',
    }
