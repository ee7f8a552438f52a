"""The symbol on a label: what it says, how large its modules are, and that its outline is the symbol."""

from __future__ import annotations

from fractions import Fraction

import pytest
import zxingcpp
from hypothesis import given
from hypothesis import strategies as st
from PIL import Image

from shopfloor.paper.qr import QUIET, LabelTooSmall, fitting, is_loopback, outline, printed_payload, symbol

MM = 1_000_000
ROLL = Fraction(1016, 5)  # 8 dots to the millimetre
CODE = "K7Q2MX"
URL = "HTTPS://SHOP.LOCAL/P/K7Q2MX"


@pytest.mark.parametrize(
    ("host", "text", "version", "level"),
    [
        ("", "K7Q2MX", 1, "H"),
        ("nas", "HTTPS://NAS/P/K7Q2MX", 1, "M"),
        ("shop.local", URL, 2, "Q"),
        ("192.168.1.20", "HTTPS://192.168.1.20/P/K7Q2MX", 2, "Q"),
        ("nas2", "HTTPS://NAS2/P/K7Q2MX", 2, "Q"),
        ("shop.local:84", "HTTPS://SHOP.LOCAL:84/P/K7Q2MX", 2, "M"),
        ("192.168.1.20:8443", "HTTPS://192.168.1.20:8443/P/K7Q2MX", 2, "M"),
        ("woodshop-server.local", "HTTPS://WOODSHOP-SERVER.LOCAL/P/K7Q2MX", 2, "M"),
        ("woodshop-server.local2", "K7Q2MX", 1, "H"),
        ("woodshop-server.lan:8443", "K7Q2MX", 1, "H"),
        ("my_shop.local", "K7Q2MX", 1, "H"),
        ("localhost:8000", "K7Q2MX", 1, "H"),
        ("127.0.0.1", "K7Q2MX", 1, "H"),
    ],
    ids=lambda value: str(value) or "no host",
)
def test_a_symbol_says_the_address_only_where_it_fits_and_is_of_use(host, text, version, level):
    assert printed_payload(CODE, host) == text

    made = symbol(text)

    assert (made.version, made.level, made.size) == (version, level, 17 + 4 * version)


@pytest.mark.parametrize(
    ("host", "loopback"),
    [
        ("localhost", True),
        ("LOCALHOST.", True),
        ("shop.localhost:8000", True),
        ("127.0.0.1:8000", True),
        ("127.9.9.9", True),
        ("[::1]:8000", True),
        ("::1", True),
        ("0.0.0.0", True),
        ("10.0.0.7", False),
        ("shop.local", False),
        ("localhost.shop.lan", False),
        ("", False),
    ],
)
def test_a_host_that_means_this_machine_is_known(host, loopback):
    assert is_loopback(host) is loopback


# Worked out by hand: dots = floor(side / (modules + 8) / dot); a dot is 1/8 mm, 25.4/300 mm or 25.4/600 mm.
@pytest.mark.parametrize(
    ("host", "side", "dots"),
    [
        ("", 17_200_000, (4, 7, 14)),
        ("shop.local", 17_200_000, (4, 6, 12)),
        ("shop.local", 27 * MM, (6, 9, 19)),
        ("shop.local", 25 * MM, (6, 8, 17)),
        ("shop.local", 34 * MM, (8, 12, 24)),
    ],
    ids=["code on 25x25", "address on 25x25", "beside text", "low roll", "high roll"],
)
def test_a_module_is_a_whole_number_of_printer_dots(host, side, dots):
    for dpi, count in zip((ROLL, Fraction(300), Fraction(600)), dots, strict=True):
        _, module = fitting(CODE, host, side, dpi, most=2 * MM)

        assert module == round(count * Fraction(25_400_000) / dpi)


def test_a_module_is_never_larger_than_asked():
    _, module = fitting(CODE, "", 60 * MM, ROLL, most=1_020_000)

    assert module == 1 * MM  # 8 dots of 0.125 mm; 9 would be 1.125 mm


def test_where_an_address_would_be_too_fine_the_bare_code_is_printed():
    # 15 mm: an address would get 15 / 33 = 0.45 mm a module, the code gets 15 / 29 = 0.517, 6 dots = 0.508 mm.
    made, module = fitting(CODE, "shop.local", 15 * MM, Fraction(300), most=2 * MM)

    assert (made.text, module) == (CODE, 508_000)


def test_where_not_even_the_code_is_readable_the_label_is_refused_in_a_sentence():
    with pytest.raises(LabelTooSmall) as caught:
        fitting(CODE, "shop.local", 13 * MM, Fraction(300), most=2 * MM)

    assert caught.value.code == "label-too-small"
    says = "label size: the square for the code is 13.0 mm, and a phone needs 14.5 mm. Choose a larger label."
    assert str(caught.value) == says


@given(code=st.text("0123456789ABCDEFGHJKMNPQRSTVWXYZ", min_size=6, max_size=6), host=st.sampled_from(["", "shop.lan"]))
def test_another_decoder_reads_what_the_symbol_says(code, host):
    text = printed_payload(code, host)

    [found] = zxingcpp.read_barcodes(picture(symbol(text).modules))

    assert found.text == text


def picture(modules, scale=4):
    """The modules as an image, dark on light, with the quiet zone."""
    size = len(modules) + 2 * QUIET
    image = Image.new("L", (size, size), 255)
    for row, line in enumerate(modules):
        for column, dark in enumerate(line):
            if dark:
                image.putpixel((column + QUIET, row + QUIET), 0)
    return image.resize((size * scale, size * scale), Image.Resampling.NEAREST)


def inside(loops, column, row):
    """Even-odd: how many upright edges lie left of the module's middle, at its height."""
    crossed = 0
    for loop in loops:
        for (x0, y0), (x1, y1) in zip(loop, [*loop[1:], loop[0]], strict=True):
            if x0 == x1 and x0 <= column and min(y0, y1) <= row < max(y0, y1):
                crossed += 1
    return crossed % 2 == 1


@given(
    st.integers(1, 9).flatmap(
        lambda n: st.lists(st.lists(st.booleans(), min_size=n, max_size=n), min_size=n, max_size=n)
    )
)
def test_the_outline_encloses_the_dark_modules_and_no_other(modules):
    loops = outline(modules)

    assert [[inside(loops, column, row) for column in range(len(modules))] for row in range(len(modules))] == modules


def test_the_outline_has_corners_only():
    # A ring of 3 x 3: one loop around it and one around the hole, four corners each.
    loops = outline([[True, True, True], [True, False, True], [True, True, True]])

    assert sorted(sorted(loop) for loop in loops) == [
        [(0, 0), (0, 3), (3, 0), (3, 3)],
        [(1, 1), (1, 2), (2, 1), (2, 2)],
    ]


def test_a_text_that_does_not_pack_is_a_mistake_of_ours():
    with pytest.raises(ValueError, match="alphanumeric"):
        symbol("https://shop.local")
