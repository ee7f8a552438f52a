"""Which letters do these bytes mean, and what parts the cells?  Text tables: commas, semicolons, tabs or bars."""

from __future__ import annotations

import codecs
import csv
import io
import re
from collections import Counter
from contextlib import suppress
from itertools import islice

from .cells import MOST_COLUMNS, WANTED, Cell, Table, UnreadableTable, row_of, trimmed
from .headings import recognised

MARKS = (
    (codecs.BOM_UTF8, "utf-8", "utf-8 with BOM"),
    (codecs.BOM_UTF32_LE, "utf-32-le", "utf-32-le with BOM"),
    (codecs.BOM_UTF32_BE, "utf-32-be", "utf-32-be with BOM"),
    (codecs.BOM_UTF16_LE, "utf-16-le", "utf-16-le with BOM"),
    (codecs.BOM_UTF16_BE, "utf-16-be", "utf-16-be with BOM"),
)
"""Byte-order marks, the longer ones first: that of UTF-32-LE begins like that of UTF-16-LE."""

DELIMITERS = {",": ",", ";": ";", "\t": "tab", "|": "|"}
LOOKED_AT = 60
"""Records read to tell the delimiter.  Headings come sooner; more would only cost time."""

# Reading an unclosed quotation mark to the end of the file would swallow all that follows.  This line is put after
# the text: it comes back as a record of its own only if every quotation mark was closed.
END = "\ue000end of the list\ue000"

BINARY = re.compile(r"[\x00-\x08\x0e-\x19\x1b-\x1f]")


def read_text(data: bytes) -> Table:
    """The cells of a text table.  Raises UnreadableTable if it is no text, or a quotation mark never closes."""
    text, encoding, notes = decoded(data)
    start = text.lstrip()[:300].casefold()
    if start.startswith(("<!doctype", "<html", "<?xml", "<table")):
        raise UnreadableTable("this is a web page or XML, not a table", do=WANTED)
    delimiter = _delimiter(text)
    rows: list[tuple[Cell, ...]] = []
    for number, record in enumerate(_records(text, delimiter), start=1):
        rows.append(row_of([Cell(value) for value in record], number))
    return Table(trimmed(rows), encoding, DELIMITERS[delimiter], notes=notes)


def decoded(data: bytes) -> tuple[str, str, tuple[str, ...]]:
    """The text, the name of its encoding, and a note where it had to be guessed.

    By the mark first, then strict UTF-8, then Windows-1252, which most spreadsheets of the West write without saying.
    """
    notes: tuple[str, ...] = ()
    mark, codec, encoding = next((row for row in MARKS if data.startswith(row[0])), (b"", "utf-8", "utf-8"))
    try:
        text = data[len(mark) :].decode(codec)
    except UnicodeDecodeError as err:
        if mark:
            raise UnreadableTable(f"the letters of this file are damaged ({encoding})", do=WANTED) from err
        text, encoding = _western(data, err), "cp1252"
        notes = ("The file does not say how its letters are written; they were read as Windows-1252. Look at ä, é, ½.",)
    text = text.rstrip("\x1a")
    if BINARY.search(text):
        raise UnreadableTable("this file holds bytes that no text has (NUL or control characters)", do=WANTED)
    if not text.strip("\ufeff \t\r\n"):
        raise UnreadableTable("this file is empty", do=WANTED)
    return text, encoding, notes


def _western(data: bytes, err: UnicodeDecodeError) -> str:
    try:
        return data.decode("cp1252")
    except UnicodeDecodeError:
        raise UnreadableTable(
            "this is no text: neither UTF-8, nor UTF-16 with its mark, nor Windows-1252", do=WANTED
        ) from err


def _delimiter(text: str) -> str:
    """What parts the cells: the one that gives the most headings we know; failing that, the steadiest columns."""
    named = re.match(r"\s*sep=([,;\t|])\s*[\r\n]", text, re.IGNORECASE)
    if named:
        return named[1]
    scores: dict[str, tuple[int, int, int]] = {}
    for delimiter in DELIMITERS:
        records: list[list[str]] = []
        with suppress(csv.Error):  # said properly when the whole text is read
            for record in islice(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter), LOOKED_AT):
                records.append(record)
        headings = max((len(recognised(record[:MOST_COLUMNS])) for record in records), default=0)
        widths = Counter(len(record) for record in records if len(record) > 1)
        width, times = max(widths.items(), key=lambda item: item[0] * item[1], default=(0, 0))
        scores[delimiter] = (headings if headings > 1 else 0, times * width, width)
    return max(DELIMITERS, key=lambda delimiter: scores[delimiter])


def _records(text: str, delimiter: str) -> list[list[str]]:
    records: list[list[str]] = []
    try:
        records = list(csv.reader(io.StringIO(f"{text}\n{END}", newline=""), delimiter=delimiter))
    except csv.Error as err:
        raise UnreadableTable("a cell holds more text than any cell of a cut list", do=WANTED) from err
    if not records or records[-1] != [END]:
        raise UnreadableTable(
            "a quotation mark opens here and never closes",
            where=f"row {len(records)}",
            do='Close it, or write an inch mark at the start of a cell as "in".',
        )
    records.pop()
    return records
