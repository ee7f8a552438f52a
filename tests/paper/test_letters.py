"""What cannot be printed is said beforehand, in one sentence."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image, ImageChops, ImageDraw, ImageFont

import shopfloor.paper
from shopfloor.paper.letters import cannot_print, missing


@pytest.mark.parametrize(
    ("name", "letters"),
    [
        ("Leg, 1 3/4 × 1 3/4 ½ “left” – ″", ""),
        ("Füllung, čelo, Żebro, Ế, Ж, Ω", ""),
        ("Panel 棚板棚", "棚板"),
        ("לוח", "לוח"),
        ("Leg 🪵", "🪵"),
        ("turned\u202e round\u200d\ufe0f", ""),
    ],
)
def test_the_letters_that_no_font_has_are_found(name: str, letters: str) -> None:
    assert missing(name) == tuple(letters)


def test_nothing_is_said_of_names_that_can_be_printed() -> None:
    assert cannot_print(["Leg", "", "Füllung"]) == ""


def test_one_sentence_names_the_letters_and_where_they_stand() -> None:
    assert cannot_print(["Leg", "Panel 棚", "Panel 棚"]) == (
        "Our fonts do not have 棚: on the labels of “Panel 棚” the sign � stands for it."
    )
    assert cannot_print(["棚板", "Leg 🪵", "木"]) == (
        "Our fonts do not have 棚 板 🪵 木: on the labels of “棚板” and 2 more names the sign � stands for them."
    )


def test_the_sentence_stays_short_whatever_the_list() -> None:
    assert len(cannot_print(["".join(chr(0x4E00 + n) for n in range(5_000))])) < 200


FONTS = Path(shopfloor.paper.__file__).parent / "fonts"


def figure(font: ImageFont.FreeTypeFont, sign: str, *, turned: bool = False) -> Image.Image:
    """A figure as it is printed, cut out; `turned` upside down."""
    sheet = Image.new("1", (400, 400), 0)
    ImageDraw.Draw(sheet).text((100, 50), sign, font=font, fill=1)
    found = sheet.crop(sheet.getbbox())
    return found.rotate(180) if turned else found


@pytest.mark.parametrize("weight", ["Regular", "Bold"])
def test_a_6_upside_down_is_no_9(weight: str) -> None:
    font = ImageFont.truetype(str(FONTS / f"AtkinsonHyperlegibleNext-{weight}.ttf"), 240)
    nine = figure(font, "9")
    six = figure(font, "6", turned=True).resize(nine.size)

    different = ImageChops.logical_xor(six, nine).histogram()[-1]

    # In most sans serif faces the one is the other turned round: there this is 0.
    assert different > nine.histogram()[-1] // 4
