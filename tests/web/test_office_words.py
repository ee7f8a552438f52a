from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from typing import Any

import pytest

from shopfloor.journal.entry import KINDS
from shopfloor.journal.fold import fold
from shopfloor.trade.length import read
from shopfloor.trade.part import Job, Unit
from shopfloor.trade.route import Step
from shopfloor.web.office_words import entry_says, exactly, length, moment, said, size
from tests.entries import entry
from tests.web.office_shop import PageReader

INCHES = Job("j", "Job")
MM = replace(INCHES, unit=Unit.MM)
ROUTE = (Step("mortise", "mortise", "Mortises cut"), Step("fit", "fit", "Fitted"))


@pytest.mark.parametrize(
    ("typed", "shown", "spoken"),
    [
        ("3 1/4", "31⁄4", "3 and"),
        ("3/8", "3⁄8", "3 eighths"),
        ("28", "28", "28"),
        ("0", "0", "0"),
        ("2.44", "27⁄16 full", "full"),
    ],
)
def test_a_length_is_set_with_its_fraction_and_read_aloud_as_words(typed: str, shown: str, spoken: str) -> None:
    html = length(read(typed), INCHES)
    page = PageReader(html)

    assert "".join(page.words) == shown
    assert spoken in page.all("span", class_="length")[0]["aria-label"]
    assert page.all("span", aria_hidden="true") == [] and page.elements[1] == ("span", {"aria-hidden": "true"})


def test_a_length_below_zero_keeps_its_sign() -> None:
    assert "".join(PageReader(length(-read("1/4"), INCHES)).words) == "−1⁄4"


def test_millimetres_are_plain_numbers() -> None:
    assert "".join(PageReader(length(read("27 mm"), MM)).words) == "27"


def test_words_with_lengths_are_escaped_and_the_lengths_set() -> None:
    html = said(("a <b> of ", read("1/2"), " & more"), INCHES)

    assert "".join(PageReader(html).words) == "a <b> of 1⁄2 & more"
    assert "<b>" not in html


@pytest.mark.parametrize(("nm", "job", "shown"), [
    (read("3 3/16"), INCHES, "33⁄16"), (read("1/64"), INCHES, "1⁄64"), (read("0.001"), INCHES, "0.001"),
    (read("12 mm"), INCHES, "12 mm"), (read("1/4"), MM, "6.35"), (-read("1/4"), INCHES, "−1⁄4"),
    # 24 shared by 7: nothing that a tape shows, and no "full" beside it.
    (read("24") // 7, INCHES, "3.4285714"), (-read("0.001"), INCHES, "−0.001"),
])  # fmt: skip
def test_a_sum_is_written_exactly_and_never_nearly(nm: int, job: Job, shown: str) -> None:
    assert "".join(PageReader(exactly(("rail ", nm), job)).words) == f"rail {shown}"


def test_a_thickness_that_is_still_to_be_given_is_a_line_to_write_on() -> None:
    assert "".join(PageReader(size(None, read("5 1/2"), read("48"), INCHES)).words) == "__ × 51⁄2 × 48"


@pytest.mark.parametrize("ms", [2**53 - 1, -(2**53)], ids=["far ahead", "far back"])
def test_a_moment_that_no_calendar_has_is_said_to_be_unknown(ms: int) -> None:
    assert moment(ms) == "at an unknown time"


def test_a_moment_of_today_is_a_time_and_an_older_one_has_its_day() -> None:
    now = datetime.now().astimezone()

    def shown(when: datetime) -> str:
        return PageReader(moment(int(when.timestamp() * 1000))).text

    assert shown(now) == f"{now:%H:%M}"
    assert shown(datetime(2001, 2, 3, 4, 5).astimezone()) == "3 Feb 2001 04:05"


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"body": {"step": "mortise"}}, "Mortises cut"),
        ({"body": {"step": "carve"}}, "carve: done"),
        ({"kind": "step_undone", "body": {"step": "mortise"}}, "Undone: mortises cut"),
        ({"kind": "step_undone", "body": {"step": "carve"}}, "Undone: carve"),
        ({"kind": "noted", "body": {"text": "mind the <knot>"}}, "Note: mind the <knot>"),
        ({"kind": "held", "body": {"reason": "a check"}}, "Held: a check"),
        ({"kind": "spoiled", "body": {}}, "Spoiled"),
        ({"kind": "lifted", "body": {"lifts": []}}, "Free again"),
        ({"kind": "measured", "body": {"what": "tenon", "nm": 9_525_000}}, "Measured tenon: 3/8"),
        ({"kind": "measured", "body": {"what": "tenon"}}, "Measured tenon, without a size"),
        ({"kind": "measured", "body": {"nm": 9_525_000}}, "Measured: 3/8"),
        ({"kind": "measured", "body": {}}, "Measured, without a size"),
        (
            {"kind": "measured", "v": 2, "body": {}},
            "Something that needs a newer version of Facemark (measured, version 2)",
        ),
        ({"kind": "lifted", "body": {}}, "Something that needs a newer version of Facemark (lifted, version 1)"),
        ({"kind": "weighed", "body": {}}, "Something that needs a newer version of Facemark (weighed, version 1)"),
        (
            {"v": 2, "body": {"step": "mortise"}},
            "Something that needs a newer version of Facemark (step_done, version 2)",
        ),
        ({"body": {"step": 7}}, "Something that needs a newer version of Facemark (step_done, version 1)"),
        ({"kind": "noted", "body": {"text": None}}, "A note without words"),
    ],
    ids=lambda value: value if isinstance(value, str) else "",
)
def test_an_entry_is_told_in_words(changed: dict[str, Any], says: str) -> None:
    assert entry_says(entry(**changed), ROUTE, INCHES) == says


@pytest.mark.parametrize("body", [{}, {"step": "mill", "lifts": [], "text": "x", "nm": 1, "what": "x", "reason": "x"}])
@pytest.mark.parametrize("v", [1, 2])
@pytest.mark.parametrize("kind", [*sorted(KINDS), "weighed"])
def test_what_the_fold_takes_in_needs_no_newer_version(kind: str, v: int, body: dict[str, Any]) -> None:
    one = entry(kind=kind, v=v, body=body)

    unread = fold([{"rev": 1, "clock": one["hlc"], "entry": one}]).unread

    assert ("newer version" in entry_says(one, ROUTE, INCHES)) == bool(unread)
