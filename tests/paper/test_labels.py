"""The labels on paper: every symbol decodes, everything is where and as large as it must be, nothing touches."""

from __future__ import annotations

import itertools
import random
import re
from dataclasses import replace
from fractions import Fraction

import pypdfium2 as pdfium
import pytest
import zxingcpp
from hypothesis import given, settings
from hypothesis import strategies as st
from PIL import Image, ImageChops, ImageFilter

from shopfloor.errors import ShopError
from shopfloor.paper import ink
from shopfloor.paper.label_face import face
from shopfloor.paper.labels import SHEETS, Label, Sheet, labels_of, labels_pdf, sheet, single
from shopfloor.trade.part import Assembly, Half, Hand, Job, Joint, Line, Mortise, Part, Tenon, Unit
from shopfloor.trade.part import Face as Surface
from shopfloor.trade.sheet import sheets, stack_key

MM, INCH = 1_000_000, 25_400_000
LEG = (44_450_000, 44_450_000, 920_750_000)  # 1 3/4 x 1 3/4 x 36 1/4 in
SIZE = (19_050_000, 74_612_500, 564_356_250)  # 3/4 x 2 15/16 x 22 7/32 in

LABELS = [
    Label("2BXG3C", "Left side", stack_number=1, stack_name="Left side, framed", count=7, kind="stack"),
    Label("4F7B2K", "Leg", "front left", LEG, letters=("1A", "1B"), datum="top", stack_number=1),
    Label("7T9XD5", "Leg", "front right", LEG, datum="top", stack_number=2, mirror=True, mirrors="front left"),
    Label("8H5RW2", "Drawer front", "drawer 3", SIZE, letters=("3A", "3B", "3C"), datum="left", stack_number=12),
    Label("9K2DX7", "Upper rail", "back", SIZE, rough=(INCH, 3 * INCH, 24 * INCH), datum="right", stack_number=3),
    Label("B2C8D5", "Back panel", "middle", SIZE, datum="bottom", note="grain runs on into the next panel"),
]


def pdf_of(labels=LABELS, on="a4-3x8", host="shop.local", unit=Unit.INCH, **more):
    layout = on if isinstance(on, Sheet) else sheet(on)
    return labels_pdf(labels, layout, unit=unit, denominator=32, host=host, title="Sheet-music cabinet", **more)


def pages(pdf, dpi=300):
    """The pages as grey images."""
    document = pdfium.PdfDocument(pdf)
    return [page.render(scale=dpi / 72, no_smoothtext=False).to_pil().convert("L") for page in document]


def texts_of(pdf):
    """The text of each page, white space as single spaces."""
    document = pdfium.PdfDocument(pdf)
    return [" ".join(page.get_textpage().get_text_bounded().split()) for page in document]


def decoded(image):
    return sorted(found.text for found in zxingcpp.read_barcodes(image))


# --- what the phone reads ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("on", [*SHEETS, "80x50", "35x50"])
def test_every_symbol_on_every_sheet_is_read_at_300_dots_to_the_inch(on):
    pdf = pdf_of(on=on)

    found = sorted(itertools.chain.from_iterable(decoded(page) for page in pages(pdf)))

    assert found == sorted(f"HTTPS://SHOP.LOCAL/P/{label.code}" for label in LABELS)


@pytest.mark.parametrize("host", ["", "localhost:8000", "127.0.0.1", "a-server-with-a-long-name.lan"])
def test_where_an_address_is_no_use_the_symbol_says_the_code(host):
    [page] = pages(pdf_of(host=host))

    assert decoded(page) == sorted(label.code for label in LABELS)


def on_the_bench(image, seed):
    """A label as a camera sees it: on brown wood, fine sawdust on 5 % of it, tilted 20 degrees, out of focus."""
    chance = random.Random(seed)
    dusty = image.copy()
    for _ in range(image.width * image.height * 5 // 100 // 4):  # 2 x 2 pixels are specks of 0.25 mm
        x, y = chance.randrange(image.width), chance.randrange(image.height)
        dusty.paste(chance.choice((105, 150, 190, 220)), (x, y, x + 2, y + 2))
    ground = Image.new("L", (image.width + 240, image.height + 240), 105)
    ground.paste(dusty, (120, 120))
    return ground.rotate(20, Image.Resampling.BICUBIC, fillcolor=105).filter(ImageFilter.GaussianBlur(1.2))


@pytest.mark.parametrize("on", ["57x32", "62x29", "62x40", "25x25"])
def test_a_dusty_tilted_blurred_label_of_a_coarse_printer_is_read(on):
    read = [decoded(on_the_bench(page, seed)) for seed, page in enumerate(pages(pdf_of(on=on), dpi=203.2))]

    assert read == [[f"HTTPS://SHOP.LOCAL/P/{label.code}"] for label in LABELS]


def cut_to_the_symbol(page, laid_out, modules, dpi):
    """The symbol with that many blank modules around it, stuck on black."""
    dot = Fraction(INCH) / Fraction(dpi)
    left, bottom, right, top = laid_out.quiet_zone
    inward = (4 - modules) * laid_out.module
    box = (left + inward, laid_out.height - top + inward, right - inward, laid_out.height - bottom - inward)
    cut = page.crop(tuple(round(at / dot) for at in box))
    ground = Image.new("L", (cut.width + 200, cut.height + 200), 0)
    ground.paste(cut, (100, 100))
    return ground


def test_without_its_blank_border_a_symbol_is_not_read_and_with_it_it_is():
    layout = sheet("57x32")
    laid_out = [face(one, layout, unit=Unit.INCH, denominator=32, host="shop.local") for one in LABELS]
    rendered = pages(pdf_of(on="57x32"), dpi=203.2)

    bordered = [decoded(cut_to_the_symbol(page, one, 4, 203.2)) for page, one in zip(rendered, laid_out, strict=True)]
    bare = [decoded(cut_to_the_symbol(page, one, 0, 203.2)) for page, one in zip(rendered, laid_out, strict=True)]

    assert bordered == [[f"HTTPS://SHOP.LOCAL/P/{label.code}"] for label in LABELS]
    assert bare == [[]] * len(LABELS)


# --- exact size --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("on", "width", "height"),
    [
        ("a4-3x8", 595.2756, 841.8898),
        ("letter-3x10", 612, 792),
        ("57x32", 161.5748, 90.7087),
        ("25x25", 70.8661, 70.8661),
    ],
)
def test_a_page_has_the_size_of_its_paper(on, width, height):
    document = pdfium.PdfDocument(pdf_of(on=on))

    # 1e-4 point is 35 nm; pdfium keeps sizes as 32-bit floats.
    assert document[0].get_size() == (pytest.approx(width, abs=2e-4), pytest.approx(height, abs=2e-4))


def test_the_printer_is_asked_not_to_scale():
    document = pdfium.PdfDocument(pdf_of())

    assert pdfium.raw.FPDF_VIEWERREF_GetPrintScaling(document) == 0


# The module of each sheet in dots of its printer, worked out by hand from width, height and blank borders.
@pytest.mark.parametrize(
    ("on", "module"),
    [
        ("57x32", 625_000),  # 42 % of 57 mm is 23.94; / 33 = 0.725; 5 dots of 0.125 mm
        ("62x29", 625_000),  # (29 - 1.5 - 3.05) / 33 = 0.741; 5 dots
        ("letter-3x10", 592_667),  # (25.4 - 1.5 - 3.05) / 33 = 0.632; 7 dots of 25.4 / 300 mm
        ("letter-2x5", 1_016_000),  # as large as a module gets: 12 dots
    ],
)
def test_the_symbol_is_as_large_as_its_modules_to_a_pixel(on, module):
    layout = sheet(on)
    dpi = 300
    laid_out = face(LABELS[1], layout, unit=Unit.INCH, denominator=32, host="shop.local")
    page = pages(pdf_of([LABELS[1]], on=on, cut_marks=False), dpi)[0]
    pixel = Fraction(INCH, dpi)
    x, y = layout.corner(0)
    left, _, _, top = laid_out.quiet_zone
    # Three of the four blank modules around it: the words begin where the fourth ends.
    corner = tuple(round(at / pixel) for at in (x + left + module, layout.page_height - y - top + module))
    side, quiet = 25 * module / pixel, 3 * module / pixel

    cut = page.crop((*corner, *(round(at + side + 2 * quiet) for at in corner)))
    dark = cut.point(lambda grey: 255 if grey < 128 else 0).getbbox()

    assert laid_out.module == module
    assert all(
        abs(measured - wanted) <= 1
        for measured, wanted in zip(dark, (quiet, quiet, quiet + side, quiet + side), strict=True)
    )


def test_labels_lie_at_the_pitch_of_the_sheet():
    labels = [replace(LABELS[1], code=code) for code in ("4F7B2K", "7T9XD5", "8H5RW2", "9K2DX7")]
    [page] = pages(pdf_of(labels, on="letter-3x10"))

    at = {found.text[-6:]: found.position.top_left for found in zxingcpp.read_barcodes(page)}

    # 2 5/8 in and 1/8 in between: 825 pixels of 1/300 in; 1 in down: 300.
    assert [at[code].x - at["4F7B2K"].x for code in ("7T9XD5", "8H5RW2")] == pytest.approx([825, 1650], abs=2)
    assert at["9K2DX7"].y - at["4F7B2K"].y == pytest.approx(300, abs=2)


@pytest.mark.parametrize("dpi", [97, 137, 203.2, 311])
def test_no_light_seam_runs_between_two_dark_modules(dpi):
    layout = sheet("57x32")
    laid_out = face(LABELS[1], layout, unit=Unit.INCH, denominator=32, host="shop.local")
    page = pages(pdf_of([LABELS[1]], on="57x32"), dpi)[0]
    pixel = INCH / dpi
    x, y = laid_out.symbol_at
    top = layout.height - y - 25 * laid_out.module

    # The middle square of the upper left corner mark: modules 2 to 4 both ways, all dark, a pixel in from its edges.
    first, last = 2 * laid_out.module, 5 * laid_out.module
    box = ((x + first) / pixel + 1.5, (top + first) / pixel + 1.5, (x + last) / pixel - 1.5, (top + last) / pixel - 1.5)
    assert page.crop(tuple(round(at) for at in box)).getextrema() == (0, 0)


def test_capitals_of_the_code_are_at_least_3_mm_high_on_every_sheet():
    for layout in SHEETS.values():
        for label in LABELS:
            laid_out = face(label, layout, unit=Unit.INCH, denominator=32, host="shop.local")
            shown = f"{label.code[:3]}-{label.code[3:]}"
            [code] = [text.line for text in laid_out.texts if text.line.text == shown]

            assert {run.face for run in code.runs} == {"AtkinsonHyperlegibleNext-Bold"}
            assert code.runs[0].size * ink.font("AtkinsonHyperlegibleNext-Bold").face.capHeight >= 3 * MM * 1_000


def test_the_metrics_in_use_are_those_of_the_fonts():
    for faces in ink.FACES.values():
        assert [ink.font(name).face.unitsPerEm for name in faces] == [1000, 1000]
        assert ink.font(faces[0]).face.capHeight == ink.CAP
        assert ink.letter("H", faces is ink.FACES[True])[3] == ink.CAP


MIRROR = "mirror image of front left"
INCHES = "3/4 × 2 15/16 × 22 7/32"

# --- what people read --------------------------------------------------------------------------------------------


# In the order of the layout: code, words from the top, then the right end from the bottom.
@pytest.mark.parametrize(
    ("number", "on", "unit", "said"),
    [
        (0, "62x40", Unit.INCH, "2BX-G3C|Left side, framed|7 parts|1|stack"),
        (1, "62x40", Unit.INCH, "4F7-B2K|Leg|front left|1 3/4 × 1 3/4 × 36 1/4|rough × ×|1A 1B|1|stack|top"),
        (1, "62x40", Unit.MM, "4F7-B2K|Leg|front left|44.4 × 44.4 × 920.8|rough × ×|1A 1B|1|stack|top"),
        (2, "a4-2x7", Unit.INCH, "7T9-XD5|Leg|front right|mirror image|1 3/4 × 1 3/4 × 36 1/4|rough × ×|2|stack|top"),
        (3, "57x32", Unit.INCH, f"8H5-RW2|Drawer front|drawer 3|{INCHES}|rough × ×|3A 3B 3C|12|stack|left"),
        (4, "62x40", Unit.INCH, f"9K2-DX7|Upper rail|back|{INCHES}|rough 1 × 3 × 24|3|stack|right"),
        (4, "62x40", Unit.MM, "9K2-DX7|Upper rail|back|19 × 74.6 × 564.4|rough 25.4 × 76.2 × 609.6|3|stack|right"),
        (
            5,
            "62x40",
            Unit.INCH,
            f"B2C-8D5|Back panel|middle|{INCHES}|rough × ×|grain runs on into the next panel|bottom",
        ),
        (0, "25x25", Unit.INCH, "2BX-G3C|1 Left side, framed"),
        (1, "25x25", Unit.INCH, "4F7-B2K|Leg, front left"),
        (2, "35x50", Unit.INCH, f"7T9-XD5|Leg, front right|{MIRROR}|1 3/4 × 1 3/4 × 36 1/4|top end up, stack 2"),
    ],
)
def test_a_label_says_what_the_maker_needs(number, on, unit, said):
    assert texts_of(pdf_of([LABELS[number]], on=on, unit=unit)) == [said.replace("|", " ")]


def test_a_label_without_datum_word_says_datum_and_without_stack_no_number():
    [text] = texts_of(pdf_of([Label("4F7B2K", "Cleat", size=LEG)], on="62x40"))

    assert text == "4F7-B2K Cleat 1 3/4 × 1 3/4 × 36 1/4 rough × × datum"


def test_a_fraction_is_set_with_its_numerator_raised_to_the_height_of_the_figures():
    line = ink.set_lengths((23 * INCH // 16,), Unit.INCH, 16, 10 * MM, bold=True)  # 1 7/16

    runs = [(run.text, run.size, run.rise) for run in line.runs if run.text.strip()]

    # The small figures are 7 mm to the 10 mm of the large ones; 668 thousandths of the 3 mm between them is the rise.
    assert runs == [("1", 10 * MM, 0), ("7", 7 * MM, 2_004_000), ("/", 10 * MM, 0), ("16", 7 * MM, 0)]


def test_a_length_off_the_grid_says_which_way():
    assert ink.set_lengths((INCH // 2 + 1,), Unit.INCH, 16, 10 * MM).text == "1/2 full"
    assert ink.set_lengths((INCH // 2 - 1,), Unit.INCH, 16, 10 * MM).text == "1/2 shy"


def test_a_size_is_never_shortened_but_broken_or_left_to_the_sheet():
    whole = [Label("4F7B2K", "Beam", size=(LEG[0], LEG[1], wide)) for wide in (LEG[2], 2_540_000_001, 10**30)]

    [usual, broken, absurd] = texts_of(pdf_of(whole, on="57x32"))

    assert "1 3/4 × 1 3/4 × 36 1/4" in usual
    assert "1 3/4 × 1 3/4 × 100 full" in broken
    assert "size: see its sheet" in absurd


def test_many_pair_letters_go_on_more_rows_and_what_has_no_room_is_counted():
    many = [f"5{letter}" for letter in "ABCDEFGHJKLMNPQRSTUVWX"]
    leg = Label("4F7B2K", "Leg", "back right", LEG, letters=tuple(many), datum="top", stack_number=1)

    [large], [small] = texts_of(pdf_of([leg], on="a4-2x7")), texts_of(pdf_of([leg], on="letter-3x10"))
    shown, counted = re.search(r"5A .*?(?= \+)", small)[0].split(), int(re.search(r"\+(\d+)", small)[1])

    assert " ".join(many) in large
    assert shown == many[: len(shown)]
    assert counted == len(many) - len(shown) > 0


@pytest.mark.parametrize("name", ["<b>Top</b> & <font color=red>", "Gesäß Ế Ж Ω", "{{ 1 }} %s \\n (x)"])
def test_a_name_is_printed_as_it_is_typed(name):
    [text] = texts_of(pdf_of([Label("4F7B2K", name)], on="letter-2x5"))

    assert f"4F7-B2K {name} rough" in text


UNPRINTABLE = {
    "han": "棚板",
    "right to left": "לוח צד",
    "pictures": "\U0001f3b5\U0001f469\u200d\U0001f527",
    "half a pair": "\ud800",
    "control marks": "\x00\x07\u202eabc",
    "stacked accents": "e" + "\u0301" * 90,
    "400 letters": "W" * 400,
}


@pytest.mark.parametrize("name", UNPRINTABLE.values(), ids=UNPRINTABLE.keys())
def test_a_name_that_no_font_can_print_does_not_stop_the_label(name):
    [page] = pages(pdf_of([Label("4F7B2K", name, name, datum=name, note=name)], on="57x32"))

    assert decoded(page) == ["HTTPS://SHOP.LOCAL/P/4F7B2K"]


def test_letters_that_no_font_has_become_the_replacement_sign():
    assert ink.set_type("A棚B", MM).text == "A\ufffdB"


def test_the_second_font_stands_in_for_letters_that_the_first_one_lacks():
    assert [(run.text, run.face) for run in ink.set_type("5\u2033 Ж", MM).runs] == [
        ("5", "AtkinsonHyperlegibleNext-Regular"),
        ("\u2033", "NotoSans-Regular"),
        (" ", "AtkinsonHyperlegibleNext-Regular"),
        ("Ж", "NotoSans-Regular"),
    ]


def test_regular_and_bold_are_two_fonts_in_the_file():
    names = set(re.findall(rb"/BaseFont /[A-Z]{6}\+([A-Za-z-]+)", pdf_of()))

    assert names == {b"AtkinsonHyperlegibleNext-Bold", b"AtkinsonHyperlegibleNext-Regular"}


# --- nothing touches ---------------------------------------------------------------------------------------------

names = st.text(max_size=60) | st.text("abcdefgh nopqrstuÄÉ ", max_size=400) | st.sampled_from(["Leg", "Drawer front"])
lengths = st.integers(1, 10**10) | st.sampled_from([*LEG, *SIZE])
some_labels = st.builds(
    Label,
    code=st.just("8H5RW2"),
    name=names,
    place=names,
    size=st.none() | st.tuples(lengths, lengths, lengths),
    rough=st.none() | st.tuples(lengths, lengths, lengths),
    letters=st.lists(st.sampled_from(["1A", "12C", "3B"]), max_size=9).map(tuple),
    datum=st.sampled_from(["top", "left", "right", "bottom", "front", ""]) | names,
    stack_number=st.integers(0, 12_345),
    stack_name=names,
    count=st.integers(0, 300),
    kind=st.sampled_from(["part", "part", "stack"]),
    mirror=st.booleans(),
    mirrors=names,
    note=names,
)
layouts = st.sampled_from([*SHEETS.values(), sheet("35x50"), sheet("45x25"), sheet("99x99")])


def apart(one, other):
    """Whether two boxes (left, bottom, right, top) have no ink in common."""
    return one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def strokes_box(stroke):
    xs, ys = zip(*stroke.points, strict=True)
    half = stroke.width // 2
    return min(xs) - half, min(ys) - half, max(xs) + half, max(ys) + half


@pytest.mark.parametrize("datum", [" ", "\u200b", "\ue000"])
@pytest.mark.parametrize("stack", [0, 1])
def test_a_datum_end_of_signs_that_no_font_shows_leaves_the_arrow(datum: str, stack: int) -> None:
    label = Label("8H5RW2", "Leg", datum=datum, stack_number=stack)
    made = face(label, SHEETS["a4-3x8"], unit=Unit.INCH, denominator=16, host="shop.local")

    assert made.strokes


@settings(max_examples=150, deadline=None)
@given(label=some_labels, layout=layouts, unit=st.sampled_from(Unit))
def test_no_text_touches_another_or_leaves_its_label(label, layout, unit):
    laid_out = face(label, layout, unit=unit, denominator=32, host="shop.local")
    texts = [(text.line.text, text.box) for text in laid_out.texts]

    assert [text for text, _ in texts].count("8H5-RW2") == 1
    for (one, box), (other, other_box) in itertools.combinations(texts, 2):
        assert apart(box, other_box), (one, other)
    for text, box in [*texts, *(("a line", strokes_box(stroke)) for stroke in laid_out.strokes)]:
        left, bottom, right, top = box
        assert left >= 0 and bottom >= 0 and right <= layout.width and top <= layout.height, text
        assert apart(box, laid_out.quiet_zone), text
    for stroke in laid_out.strokes:
        if not stroke.closed:
            assert all(apart(strokes_box(stroke), box) for _, box in texts)


@given(text=st.text(max_size=200), width=st.integers(1 * MM, 60 * MM), lines=st.integers(1, 3))
def test_fitted_type_is_no_wider_than_asked_and_on_no_more_lines(text, width, lines):
    made = ink.fit(text, width, 4 * MM, least=2 * MM, lines=lines)

    assert len(made) <= lines
    assert all(line.width <= width for line in made)


def test_type_is_as_wide_as_it_is_drawn():
    label = Label("4F7B2K", "Drawer front")
    laid_out = face(label, sheet("62x40"), unit=Unit.INCH, denominator=32, host="shop.local")
    [name] = [text for text in laid_out.texts if text.line.text == "Drawer front"]
    textpage = pdfium.PdfDocument(pdf_of([label], on="62x40"))[0].get_textpage()
    start = textpage.get_text_range().index("Drawer front")

    first, last = (textpage.get_charbox(at, loose=True) for at in (start, start + len("Drawer front") - 1))

    assert (first[0], last[2]) == pytest.approx((ink.points(name.box[0]), ink.points(name.box[2])), abs=0.05)


# --- sheets ------------------------------------------------------------------------------------------------------


def test_a_begun_sheet_is_carried_on_at_the_place_asked_for():
    pdf = pdf_of(LABELS[:3], start_at=23)

    first, second = pages(pdf)
    at = {found.text[-6:]: found.position.top_left for found in zxingcpp.read_barcodes(first)}

    # 3 columns of 70 mm: place 23 is the middle of the last row, 24 its right end.
    assert sorted(at) == ["2BXG3C", "4F7B2K"]
    assert [code for code in sorted(at, key=lambda code: at[code].x) if at[code].y > 7 * 37 / 25.4 * 300] == [
        "2BXG3C",
        "4F7B2K",
    ]
    assert 70 / 25.4 * 300 < at["2BXG3C"].x < 140 / 25.4 * 300 < at["4F7B2K"].x
    [third] = zxingcpp.read_barcodes(second)
    assert third.text[-6:] == "7T9XD5"
    assert third.position.top_left.x < 70 / 25.4 * 300 and third.position.top_left.y < 37 / 25.4 * 300


@pytest.mark.parametrize("start_at", [0, 25, -1])
def test_a_place_that_the_sheet_does_not_have_is_refused(start_at):
    with pytest.raises(ShopError) as caught:
        pdf_of(start_at=start_at)

    assert caught.value.code == "bad-start"
    assert str(caught.value).startswith(f"first free place: the sheet has places 1 to 24, not {start_at}.")


def test_no_label_is_refused():
    with pytest.raises(ShopError) as caught:
        pdf_of([])

    assert caught.value.code == "nothing-to-print"


@pytest.mark.parametrize("size", ["19x50", "24x20", "60x15"])
def test_a_label_too_small_to_be_read_is_refused(size):
    with pytest.raises(ShopError) as caught:
        pdf_of(on=size)

    assert caught.value.code == "label-too-small"


@pytest.mark.parametrize("name", ["", "a5-1x1", "57x", "5x5", "1000x50", "57x32 mm", "../x"])
def test_an_unknown_sheet_is_refused_with_the_names_of_the_others(name):
    with pytest.raises(ShopError) as caught:
        sheet(name)

    assert caught.value.code == "unknown-sheet"
    assert "a4-3x8, a4-3x7, a4-2x7, letter-3x10" in str(caught.value)


def test_a_grid_larger_than_its_paper_is_refused():
    with pytest.raises(ShopError) as caught:
        Sheet("mine", 210 * MM, 297 * MM, 70 * MM, 37 * MM, 3, 8, left=1 * MM)

    assert caught.value.code == "sheet-overrun"
    assert str(caught.value).startswith("mine: the labels take 211 x 296 mm of a page of 210 x 297 mm.")


def test_a_custom_sheet_of_the_shop_can_be_used():
    mine = Sheet("mine", 210 * MM, 297 * MM, 90 * MM, 50 * MM, 2, 5, left=15 * MM, top=20 * MM)

    [page] = pages(pdf_of(on=mine))

    assert len(decoded(page)) == len(LABELS)


@pytest.mark.parametrize("name", SHEETS)
def test_nothing_of_a_label_lies_where_a_printer_leaves_the_paper_white(name):
    layout = SHEETS[name]
    [page] = [pages(pdf_of([LABELS[3]] * layout.places, on=name, cut_marks=False), 150)[0]]

    left, top, right, bottom = ImageChops.invert(page).getbbox()

    edge = 1.3 / 25.4 * 150 if layout.places == 1 else 4.2 / 25.4 * 150
    assert min(left, top, page.width - right, page.height - bottom) >= edge


def test_cut_marks_lie_outside_every_label_and_can_be_left_out():
    marks = ImageChops.difference(
        *(pages(pdf_of([LABELS[1]], on="letter-3x10", cut_marks=wanted), 300)[0] for wanted in (True, False))
    )

    # The label is 3/16 in from the left and 1/2 in from the top, 2 5/8 x 1 in: nothing has changed a pixel inside.
    assert marks.getbbox() is not None
    assert marks.crop((57, 151, 57 + 787 - 1, 151 + 298)).getbbox() is None


# --- the file ----------------------------------------------------------------------------------------------------


def test_the_same_labels_give_the_same_bytes():
    assert pdf_of() == pdf_of()


def test_only_black_ink_is_used():
    page = pdfium.PdfDocument(pdf_of())[0].render(scale=1).to_pil().convert("RGB")
    red, green, blue = page.split()

    assert ImageChops.difference(red, green).getbbox() is None
    assert ImageChops.difference(green, blue).getbbox() is None


@pytest.mark.parametrize("shop", ["", "Two at the bench"])
def test_the_file_says_what_it_is_and_whose(shop):
    told = pdfium.PdfDocument(pdf_of(shop=shop)).get_metadata_dict()

    assert {key: told[key] for key in ("Title", "Author", "Subject", "Creator")} == {
        "Title": "Sheet-music cabinet", "Author": shop, "Subject": "", "Creator": "Facemark",
    }  # fmt: skip


def test_a_job_gives_a_label_for_each_stack_and_before_the_parts_of_it():
    mortise = Mortise("mortise", Surface.FACE_EDGE, 50 * MM, 60 * MM, 10 * MM, 9 * MM, 30 * MM)
    tenon = Tenon("tenon", Surface.DATUM_END, 30 * MM, 5 * MM, 9 * MM, 5 * MM, 60 * MM)
    legs = (Part("leg-1", "front left"), Part("leg-2", "front right", Hand.MIRROR))
    job = Job(
        "cabinet",
        "Cabinet",
        assemblies=(Assembly("sides", 1, "Sides"),),
        lines=(
            Line("leg", "sides", "Leg", *LEG, datum="top", features=(mortise,), parts=legs),
            Line("rail", "sides", "Rail", *SIZE, datum="left", features=(tenon,), parts=(Part("rail-1", "upper"),)),
        ),
        joints=(Joint("j", Half("rail-1", "tenon"), Half("leg-1", "mortise"), "1A"),),
    )
    codes = {"leg-1": "4F7B2K", "leg-2": "7T9XD5", "rail-1": "8H5RW2", stack_key("sides"): "2BXG3C"}

    assert labels_of(sheets(job, codes)) == [
        Label("2BXG3C", "Sides", stack_number=1, stack_name="Sides", count=3, kind="stack"),
        Label("4F7B2K", "Leg", "front left", LEG, None, ("1A",), "top", 1, "Sides"),
        Label("7T9XD5", "Leg", "front right", LEG, None, (), "top", 1, "Sides", mirror=True, mirrors="front left"),
        Label("8H5RW2", "Rail", "upper", SIZE, None, ("1A",), "left", 1, "Sides"),
    ]


def test_a_single_label_has_the_dots_of_its_printer():
    assert single(57 * MM, 32 * MM).dpi == Fraction(1016, 5)
    assert single(57 * MM, 32 * MM, dpi=Fraction(300)).dpi == 300
