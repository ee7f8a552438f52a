"""The code on a label: what it catches, what it never spells, and that it never changes."""

from __future__ import annotations

import random
from itertools import combinations, islice

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from shopfloor.trade.code import (
    ALPHABET,
    SERIALS,
    UnreadableCode,
    check,
    code,
    codes,
    is_code,
    payload,
    read_code,
    show,
    spells_nothing,
)
from tests.vectors import load

VECTORS = load("codes")
five = st.text(ALPHABET, min_size=5, max_size=5)
serials = st.integers(0, SERIALS - 1)


def times(a: int, b: int) -> int:
    """a * b in GF(32) by schoolbook: another way than the module's."""
    product = 0
    for bit in range(5):
        if b >> bit & 1:
            product ^= a << bit
    for bit in range(8, 4, -1):
        if product >> bit & 1:
            product ^= 0b100101 << (bit - 5)
    return product


def xor(a: str, b: str) -> str:
    return "".join(ALPHABET[ALPHABET.index(x) ^ ALPHABET.index(y)] for x, y in zip(a, b, strict=True))


@pytest.mark.parametrize(("data", "symbol"), VECTORS["checks"])
def test_the_check_symbol_is_frozen(data: str, symbol: str) -> None:
    assert check(data) == symbol


@settings(deadline=None)
@given(data=five)
def test_the_check_symbol_is_the_weighted_sum_in_gf32(data: str) -> None:
    total, weight = 0, 1
    for symbol in data:
        weight = times(weight, 2)
        total ^= times(ALPHABET.index(symbol), weight)

    assert check(data) == ALPHABET[total]


@settings(deadline=None)
@given(a=five, b=five)
def test_the_check_is_linear(a: str, b: str) -> None:
    assert check(xor(a, b)) == xor(check(a), check(b))


def test_every_single_change_is_caught() -> None:
    # The check is linear, so what a change does to one code it does to every code: 6 places, 31 differences each.
    changed = ["0" * place + by + "0" * (5 - place) for place in range(6) for by in ALPHABET[1:]]

    assert len(changed) == 186
    assert not [text for text in changed if is_code(text)]


def test_every_swap_of_two_symbols_is_caught() -> None:
    # Swapping two symbols that differ by d changes both places by d: 15 pairs of places, 31 differences each.
    swapped = [
        "".join(by if place in pair else "0" for place in range(6))
        for pair in combinations(range(6), 2)
        for by in ALPHABET[1:]
    ]

    assert len(swapped) == 465
    assert not [text for text in swapped if is_code(text)]


def test_changes_and_swaps_of_real_codes_are_caught() -> None:
    rng = random.Random(3)
    for serial in (rng.randrange(SERIALS) for _ in range(60)):
        six = code(serial)
        wrong = [six[:i] + symbol + six[i + 1 :] for i in range(6) for symbol in ALPHABET if symbol != six[i]]
        for i, j in combinations(range(6), 2):
            swapped = list(six)
            swapped[i], swapped[j] = six[j], six[i]
            wrong.append("".join(swapped))

        assert is_code(six)
        assert not [text for text in wrong if text != six and is_code(text)]


@pytest.mark.parametrize(("serial", "six"), VECTORS["serials"])
def test_the_code_of_a_serial_is_frozen(serial: int, six: str) -> None:
    assert code(serial) == six


@pytest.mark.parametrize("serial", [-1, SERIALS])
def test_a_serial_out_of_range_has_no_code(serial: int) -> None:
    with pytest.raises(ValueError, match="is not a serial"):
        code(serial)


@settings(deadline=None)
@given(a=serials, b=serials)
def test_different_serials_have_different_codes(a: int, b: int) -> None:
    assert (code(a) == code(b)) == (a == b)
    assert is_code(code(a))


def test_the_codes_given_are_frozen() -> None:
    assert list(islice(codes(), len(VECTORS["given"]))) == [tuple(row) for row in VECTORS["given"]]


@pytest.mark.parametrize(("start", "serial", "six"), VECTORS["given_from"])
def test_codes_go_on_from_any_serial(start: int, serial: int, six: str) -> None:
    assert next(codes(start)) == (serial, six)


def test_a_hundred_thousand_parts_have_different_codes_that_spell_nothing() -> None:
    made = list(islice(codes(), 100_000))
    symbols = {symbol for _, six in made for symbol in six}

    assert len({six for _, six in made}) == 100_000
    # Over a twelfth of all serials is used for them: ten times as many are left.
    assert made[-1][0] == 2_764_079 < SERIALS / 12
    # No vowel, and nothing read as one; hence no 0 and O, and no 1 and I either.
    assert symbols == set("256789BCDFGHJKMNPQRSTWXZ")


@pytest.mark.parametrize(("six", "nothing"), VECTORS["spells_nothing"])
def test_what_could_be_read_as_a_word_is_not_given(six: str, nothing: bool) -> None:
    assert spells_nothing(six) is nothing


@pytest.mark.parametrize(("text", "expected"), VECTORS["read"], ids=lambda value: ascii(value)[:40])
def test_a_typed_or_scanned_code_is_read_or_refused(text: str, expected: str) -> None:
    if is_code(expected):
        assert read_code(text) == expected
    else:
        with pytest.raises(UnreadableCode) as refused:
            read_code(text, where="Code")
        assert refused.value.code == expected
        assert str(refused.value).startswith("Code: ")


@settings(deadline=None)
@given(st.text(max_size=30))
def test_reading_any_text_gives_a_code_or_a_sentence(text: str) -> None:
    try:
        assert is_code(read_code(text))
    except UnreadableCode as refused:
        assert str(refused).endswith(".")


@settings(deadline=None)
@given(serial=serials, host=st.sampled_from(["", "SHOP.LOCAL", "192.168.1.20:8443"]))
def test_what_is_shown_or_printed_reads_back(serial: int, host: str) -> None:
    six = code(serial)

    assert read_code(show(six)) == read_code(show(six).lower()) == six
    assert read_code(payload(six, host)) == six


@pytest.mark.parametrize(("six", "host", "text"), VECTORS["payload"])
def test_the_payload_is_in_the_signs_of_the_compact_mode(six: str, host: str, text: str) -> None:
    assert payload(six, host) == text
    assert set(text) <= set("0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZ $%*+-./:")


@pytest.mark.parametrize("host", ["shop local", "shop_local", "shop/p", "shop:", "shöp"])
def test_a_payload_needs_the_name_of_a_host(host: str) -> None:
    with pytest.raises(ValueError, match="not the name of a host"):
        payload("K7Q2MX", host)
