"""What stands in the file that somebody handed us?  Bytes in, rows of cells out, whatever program wrote them.

A file is known by its first bytes, never by its name: a workbook renamed .csv is read as a workbook, a picture
renamed .xlsx is refused as a picture.  Rows are numbered as a spreadsheet numbers them: the first is row 1, and a
line break inside quotation marks does not begin a new one.
"""

from __future__ import annotations

from .cells import MOST_BYTES, WANTED, Table, UnreadableTable
from .text_table import read_text
from .workbook import read_workbook

OTHER_FILES: tuple[tuple[bytes, int, str], ...] = (
    (b"\x89PNG", 0, "a picture (PNG)"),
    (b"\xff\xd8\xff", 0, "a picture (JPEG)"),
    (b"GIF8", 0, "a picture (GIF)"),
    (b"II*\x00", 0, "a picture (TIFF)"),
    (b"MM\x00*", 0, "a picture (TIFF)"),
    (b"WEBP", 8, "a picture (WebP)"),
    (b"ftyp", 4, "a picture or a film"),
    (b"%PDF", 0, "a PDF"),
    (b"\x1f\x8b", 0, "a packed file (gzip)"),
    (b"7z\xbc\xaf", 0, "a packed file (7z)"),
    (b"{\\rtf", 0, "a text document (RTF)"),
    (b"SQLite format 3", 0, "a database"),
    (b"\x7fELF", 0, "a program"),
)
"""First bytes, where they stand, and what such a file is.  Source: the published description of each format."""

OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
"""The compound file that old workbooks (.xls) and password-protected new ones are kept in."""


def read_table(data: bytes) -> Table:
    """The cells of a CSV text or of a workbook.

    Raises UnreadableTable, one sentence, if the file is empty, too large, broken, or another kind of file.
    """
    if len(data) > MOST_BYTES:
        raise UnreadableTable(
            f"this file has {len(data) / 1e6:.1f} MB, a cut list at most {MOST_BYTES / 1e6:.0f} MB",
            do="Hand in one piece of work at a time.",
        )
    if not data.strip():
        raise UnreadableTable("this file is empty", do=WANTED)
    if data.startswith(b"PK"):
        return read_workbook(data)
    _refuse_other_files(data)
    return read_text(data)


def _refuse_other_files(data: bytes) -> None:
    if data.startswith(OLE):
        if "EncryptedPackage".encode("utf-16-le") in data:
            raise UnreadableTable("this workbook is locked with a password", do="Save it without one.")
        raise UnreadableTable("this is a workbook in the old form (.xls)", do=WANTED)
    for first, at, what in OTHER_FILES:
        if data[at : at + len(first)] == first:
            raise UnreadableTable(f"this is {what}, not a table", do=WANTED)
