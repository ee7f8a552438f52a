"""Cuts that meet come out as they do in wood: what is seen, what is hidden, what is gone."""

from __future__ import annotations

from shopfloor.paper.relief import Relief, Segment, loops
from shopfloor.paper.views import View, pair
from shopfloor.trade.part import Dado, Face, Feature, Groove, Mortise, Rabbet, Stock, Tenon, Tongue

STOCK = Stock(thickness=20, width=60, length=200)


def relief(face: Face, *features: Feature) -> Relief:
    return Relief(View(face, STOCK), features)


def test_the_deeper_of_two_crossing_cuts_shows():
    groove, dado = Groove("g", Face.FACE_SIDE, 10, 5, 4), Dado("d", Face.FACE_SIDE, 100, 30, 8)

    seen = relief(Face.FACE_SIDE, groove, dado)

    assert (seen.xs, seen.across) == ([0, 100, 130, 200], [0, 10, 15, 60])
    assert seen.depth == [[0, 4, 0], [8, 8, 8], [0, 4, 0]]


def test_a_groove_has_no_edges_within_a_deeper_dado():
    groove, dado = Groove("g", Face.FACE_SIDE, 10, 5, 4), Dado("d", Face.FACE_SIDE, 100, 30, 8)

    seen, hidden = relief(Face.FACE_SIDE, groove, dado).edges("g")

    # Both sides of the groove (columns 1 and 2), above and below the dado (rows 0 to 1 and 2 to 3).
    assert seen == [Segment(0, 1, 1, 1), Segment(2, 1, 3, 1), Segment(0, 2, 1, 2), Segment(2, 2, 3, 2)]
    assert hidden == []


def test_a_dado_seen_from_its_end_is_a_notch_in_the_outline():
    from_the_edge = relief(Face.FACE_EDGE, Dado("d", Face.FACE_SIDE, 100, 30, 8))

    assert from_the_edge.depth == [[0, 0], [60, 0], [0, 0]]
    assert from_the_edge.wood() == [[(0, 0), (0, 2), (3, 2), (3, 0), (2, 0), (2, 1), (1, 1), (1, 0)]]
    assert from_the_edge.gone() == [[(1, 0), (1, 1), (2, 1), (2, 0)]]


def test_a_cut_in_the_back_is_hidden_from_the_face_side():
    seen, hidden = relief(Face.FACE_SIDE, Dado("d", Face.BACK, 100, 30, 8)).edges("d")

    assert (seen, hidden) == ([], [Segment(1, 0, 1, 1), Segment(2, 0, 2, 1)])


def test_at_an_end_only_what_stands_is_left():
    tenon = Tenon("t", Face.DATUM_END, 25, 5, 8, 10, 40)

    assert relief(Face.FACE_SIDE, tenon).depth == [[20, 5, 20], [0, 0, 0]]
    assert relief(Face.BACK, tenon).depth == [[20, 7, 20], [0, 0, 0]]
    assert relief(Face.FACE_EDGE, tenon).depth == [[60, 10, 60], [0, 0, 0]]


def test_twin_tenons_leave_each_other_standing():
    upper, lower = Tenon("u", Face.FAR_END, 25, 5, 8, 0, 20), Tenon("l", Face.FAR_END, 25, 5, 8, 40, 20)

    assert relief(Face.FACE_SIDE, upper, lower).depth == [[0, 0, 0], [5, 20, 5]]


def test_a_tongue_all_round_leaves_one_field_without_lines_in_its_corners():
    tongues = [
        Tongue(face.value, face, 8, 6, 6)
        for face in (Face.DATUM_END, Face.FAR_END, Face.FACE_EDGE, Face.FAR_EDGE)
    ]  # fmt: skip

    panel = relief(Face.FACE_SIDE, *tongues)

    assert panel.depth == [[6, 6, 6], [6, 0, 6], [6, 6, 6]]
    assert panel.edges("face edge") == ([Segment(1, 1, 2, 1)], [])


def test_loops_go_round_holes_the_other_way():
    assert loops([[True] * 3, [True, False, True], [True] * 3]) == [
        [(0, 0), (0, 3), (3, 3), (3, 0)],
        [(1, 2), (1, 1), (2, 1), (2, 2)],
    ]


def test_the_views_are_neighbours_that_show_the_cuts():
    back = Mortise("b", Face.BACK, 20, 30, 20, 8, 10)
    far = Mortise("f", Face.FAR_EDGE, 20, 30, 5, 8, 10)

    def shown(*features: Feature) -> list[Face]:
        return [view.face for view in pair(features, STOCK)]

    assert shown() == [Face.FACE_SIDE, Face.FACE_EDGE]
    assert shown(back) == [Face.FACE_EDGE, Face.BACK]
    assert shown(far) == [Face.FAR_EDGE, Face.FACE_SIDE]
    assert shown(back, far) == [Face.BACK, Face.FAR_EDGE]
    assert shown(Rabbet("r", Face.FACE_SIDE, Face.FAR_EDGE, 8, 6)) == [Face.FAR_EDGE, Face.FACE_SIDE]
