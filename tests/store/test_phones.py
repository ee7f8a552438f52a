"""A code lets one phone in, once, for ten minutes; nothing that opens a door is kept readable."""

from __future__ import annotations

from pathlib import Path

import pytest
from flask import Flask

from shopfloor.store import journal, phones
from shopfloor.store.faults import NoSuchPhone
from tests.entries import NOON, entry, offered


def test_a_code_is_two_groups_of_four_and_its_qr_says_the_same(app: Flask) -> None:
    code = phones.new_code(NOON)

    left, dash, right = code.text.partition("-")
    assert (len(left), dash, len(right)) == (4, "-", 4)
    assert set(left + right) <= set(phones.SYMBOLS)
    assert code.qr == f"JOIN:{left}{right}"
    assert code.expires_ms == NOON + 600_000


def test_a_phone_joins_and_is_known_by_its_token(app: Flask) -> None:
    joined = phones.join(phones.new_code(NOON).text, "  Bench   phone ", NOON)

    phone = phones.by_token(joined.token)

    assert phone == phones.Phone(joined.device, "Bench phone", NOON, NOON, None, None)
    assert phones.all() == [phone]
    assert phones.by_token("another token") is None


@pytest.mark.parametrize(
    "typed",
    ["AB3K-Q0Z1", "ab3k q0z1", " AB3KQOZI ", "join:ab3kqozl", "AB-3K-Q0-Z1"],
)
def test_a_code_may_be_typed_as_it_is_read(typed: str) -> None:
    assert phones.read_code(typed) == "AB3KQ0Z1"


@pytest.mark.parametrize(
    ("name", "kept"),
    [("", "Phone"), (" \n ", "Phone"), ("x" * 500, "x" * 60), ("<b>Anna</b>", "<b>Anna</b>")],
    ids=["empty", "blank", "long", "markup"],
)
def test_a_name_is_kept_as_typed_within_reason(app: Flask, name: str, kept: str) -> None:
    phones.join(phones.new_code().text, name)

    assert phones.all()[0].name == kept


def test_a_code_works_once(app: Flask) -> None:
    code = phones.new_code().text
    phones.join(code, "first")

    with pytest.raises(phones.BadJoinCode):
        phones.join(code, "second")
    assert [phone.name for phone in phones.all()] == ["first"]


def test_a_code_works_for_ten_minutes(app: Flask) -> None:
    early, late = phones.new_code(NOON).text, phones.new_code(NOON).text

    phones.join(early, "early", NOON + 600_000)
    with pytest.raises(phones.BadJoinCode):
        phones.join(late, "late", NOON + 600_001)


@pytest.mark.parametrize("typed", ["", "0000-0000", "\ud800", "x" * 4000, "'; DROP TABLE phone; --"])
def test_a_wrong_code_opens_nothing(app: Flask, typed: str) -> None:
    phones.new_code()

    with pytest.raises(phones.BadJoinCode):
        phones.join(typed, "thief")
    assert phones.all() == []


def test_codes_and_tokens_cannot_be_read_out_of_the_files(app: Flask, tmp_path: Path) -> None:
    code = phones.new_code().text
    token = phones.join(code, "Bench phone").token

    written = b"".join(path.read_bytes() for path in (tmp_path / "data").glob("facemark.sqlite*"))

    assert b"Bench phone" in written
    assert token.encode() not in written
    assert code.encode() not in written and code.replace("-", "").encode() not in written


def test_a_withdrawn_phone_is_known_as_such_and_its_entries_stay(app: Flask) -> None:
    joined = phones.join(phones.new_code().text, "Lost phone")
    journal.keep(offered(entry(1)), phone=joined.device)

    phones.withdraw(joined.device, NOON)

    phone = phones.by_token(joined.token)
    assert phone is not None and phone.withdrawn_ms == NOON
    assert len(journal.rows()) == 1


def test_withdrawing_again_changes_nothing(app: Flask) -> None:
    joined = phones.join(phones.new_code().text, "Lost phone")
    phones.withdraw(joined.device, NOON)
    phones.withdraw(joined.device, NOON + 5)

    assert phones.all()[0].withdrawn_ms == NOON


def test_withdrawing_a_phone_that_is_not_there_is_told(app: Flask) -> None:
    with pytest.raises(NoSuchPhone):
        phones.withdraw("nobody")


def test_a_phone_is_seen_when_it_calls_and_says_what_is_waiting(app: Flask) -> None:
    joined = phones.join(phones.new_code(NOON).text, "Bench phone", NOON)

    phones.seen(joined.device, 12, NOON + 1)
    phones.seen(joined.device, None, NOON + 2)
    journal.keep([], joined.device, NOON + 3)

    [phone] = phones.all()
    assert (phone.last_seen_ms, phone.waiting) == (NOON + 3, 12)


def test_old_codes_are_cleared_away(app: Flask) -> None:
    from shopfloor.store.opening import reading

    phones.new_code(NOON)
    phones.new_code(NOON + 600_001)

    with reading() as connection:
        assert connection.exec_driver_sql("SELECT count(*) FROM join_code").scalar() == 1
