"""Which column is which?  Headings in the spellings that people of the trade use, and the units they carry.

English first, with the German and French words that turn up on lists here.  What is not known is kept, not guessed.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Sequence
from dataclasses import dataclass, replace
from enum import StrEnum


class Column(StrEnum):
    """What a column of a cut list can hold."""

    NAME = "name"
    QUANTITY = "quantity"
    THICKNESS = "thickness"
    WIDTH = "width"
    LENGTH = "length"
    SPECIES = "species"
    ASSEMBLY = "assembly"
    NOTES = "notes"
    CODE = "code"
    UNIT = "unit"


SIZES = (Column.THICKNESS, Column.WIDTH, Column.LENGTH)
NEEDED = (Column.NAME, Column.QUANTITY, *SIZES)

# The best word of a column comes first: of "Part" and "Description" side by side, "Part" is the name and the other
# is kept.  Written in the plain form that `plain` makes.
SPELLINGS: dict[Column, str] = {
    Column.NAME: "part name|name of part|name|part|parts|component|component name|member|description|desc|designation"
    "|piece name|piece|item name|item description|item|bauteil|teil|teilename|benennung|bezeichnung|name des teils"
    "|piece nom|nom|nom de la piece|libelle",
    Column.QUANTITY: "qty|quantity|quant|qnty|qtty|q ty|qty req|qty required|quantity required|count|no off|number off"
    "|nr off|off|no of|no of pieces|no of pcs|no pieces|no req|no reqd|no required|number of pieces|number of parts"
    "|number required|how many|pieces|pcs|pcs req|stueckzahl|stuckzahl|stueck|stuck|stk|anzahl|menge|qte|quantite"
    "|nombre|nbre|nb|nb de pieces",
    Column.THICKNESS: "thickness|thick|thk|thkn|thck|t|th|staerke|starke|dicke|materialstaerke|epaisseur|epais|ep",
    Column.WIDTH: "width|wide|wid|wdt|wdth|w|wd|breite|breit|b|br|largeur|larg",
    Column.LENGTH: "length|long|len|lgth|lngth|lg|lng|l|laenge|lange|lang|longueur",
    Column.SPECIES: "species|wood|wood species|timber|material|mat|matl|mat l|lumber|holzart|holz|werkstoff|essence"
    "|bois|matiere|materiau",
    Column.ASSEMBLY: "assembly|assy|asm|assembly name|sub assembly|subassembly|sub assy|baugruppe|gruppe|ensemble"
    "|sous ensemble|group|stack",
    Column.NOTES: "notes|note|remarks|remark|comments|comment|bemerkung|bemerkungen|anmerkung|anmerkungen|hinweis"
    "|notiz|notizen|remarque|remarques|observation|observations|commentaire",
    Column.CODE: "code|part code|part no|part number|part nr|part id|item no|item number|item code|id|pos|position"
    "|pos nr|mark|tag|ref|reference|teilenummer|teile nr|teilenr|repere|rep",
    Column.UNIT: "unit|units|uom|unit of measure|einheit|masseinheit|unite|unites",
}
# "No." is the quantity on one list and a running number on the next.  It counts pieces only if nothing else does.
DOUBTFUL = ("no", "nos", "number", "nr", "num", "numero", "#")
KNOWN: dict[str, tuple[Column, int]] = {
    word: (column, rank) for column, words in SPELLINGS.items() for rank, word in enumerate(words.split("|"))
}

UNITS: dict[str, str] = {
    word: unit
    for unit, words in {
        "mm": "mm|millimeter|millimeters|millimetre|millimetres",
        "cm": "cm|centimeter|centimeters|centimetre|centimetres|zentimeter",
        "m": "m|meter|meters|metre|metres",
        "in": "in|inch|inches|ins|\"|″|”|''|zoll|pouce|pouces",
        "ft": "ft|foot|feet|'|′|’",
    }.items()
    for word in words.split("|")
}
_ENDS_IN_UNIT = re.compile(
    r"(?P<rest>.*?)(?:[\s,;/:_-]+(?:in\s+)?|\s*[(\[{]\s*(?:in\s+)?|(?=[\"″”'′’]))(?P<unit>"
    + "|".join(sorted(map(re.escape, UNITS), key=len, reverse=True))
    + r")\.?\s*[)\]}]?\s*",
    re.IGNORECASE | re.DOTALL,
)
_BLANK = "\u034f\u115f\u1160\u17b4\u17b5\u2800\u3164\uffa0"
"""Counted as letters, and nobody sees them."""
_SEEN = "\u0600\u0601\u0602\u0603\u0604\u0605\u06dd\u070f\u0890\u0891\u08e2\U000110bd\U000110cd"
"""Counted as marks of formatting, and printed all the same: signs of numbers in Arabic, Syriac and Kaithi."""
_FINISHED = re.compile(r"^(?:finished|finish|final|fin|net|netto|fertig|fertigmass|fini|finie)\s+(?:sizes?\s+)?(?=.)")
_SIZE_OF = re.compile(r"^(?:finished |overall |net )?(?:sizes?|dimensions?|dims?|masse?|cotes?) (?=.)")


@dataclass(frozen=True)
class Heading:
    """One heading: what stands in the file, what it was taken for (None: not known, kept), and the unit it names.

    `guessed` is true where the word could as well mean something else, and false where the person chose it.
    """

    index: int
    text: str
    column: Column | None = None
    unit: str = ""
    guessed: bool = False


def unseen(char: str) -> bool:
    """Whether a character leaves no mark on paper and is no blank: marks of direction, joiners, soft hyphens."""
    return char in _BLANK or (unicodedata.category(char) == "Cf" and char not in _SEEN)


def has_unseen(text: str) -> bool:
    """Whether somebody would be surprised at what stands in this text.  A mark at the start of a file is usual."""
    return not text.isascii() and any(unseen(char) for char in text.removeprefix("\ufeff"))


def tidy(text: str) -> str:
    """A text on one line: what cannot be seen and control characters gone, every run of blanks one blank.

    >>> tidy("Rail\\n upper"), tidy("grain \\u202eside\\u202c \\u2066up\\u2069")
    ('Rail upper', 'grain side up')
    """
    if text.isascii() and text.isprintable():
        return " ".join(text.split())
    visible = (char for char in text if not unseen(char))
    return " ".join("".join(" " if unicodedata.category(c) in ("Cc", "Zl", "Zp") else c for c in visible).split())


def unit_named(text: str) -> str:
    """The unit that a word names, or "".

    >>> unit_named("Inches"), unit_named("mm."), unit_named("pcs")
    ('in', 'mm', '')
    """
    return UNITS.get(tidy(text).casefold().rstrip("."), "")


def plain(text: str) -> tuple[str, str]:
    """A heading as a plain word, and the unit it carries.

    >>> plain("Thickness (mm)"), plain("LÄNGE in mm"), plain("Épaisseur"), plain("Finished width, in.")
    (('thickness', 'mm'), ('laenge', 'mm'), ('epaisseur', ''), ('width', 'in'))
    """
    words = tidy(unicodedata.normalize("NFKC", text)).casefold()
    unit = ""
    if found := _ENDS_IN_UNIT.fullmatch(words):
        words, unit = found["rest"], UNITS[found["unit"]]
    for umlaut, two in (("ä", "ae"), ("ö", "oe"), ("ü", "ue"), ("ß", "ss")):
        words = words.replace(umlaut, two)
    bare = "".join(c for c in unicodedata.normalize("NFD", words) if not unicodedata.combining(c))
    if bare.strip() == "#":
        return "#", unit
    words = " ".join("".join(c if c.isalnum() else " " for c in bare).split())
    words = _FINISHED.sub("", words)
    words = _SIZE_OF.sub("", words)
    return words, unit


def recognised(texts: Sequence[str]) -> tuple[Heading, ...]:
    """The headings of a row that we know, left to right; each column once, the best word winning it."""
    found: dict[Column, tuple[int, Heading]] = {}
    doubtful: list[Heading] = []
    for index, text in enumerate(texts):
        if not text or len(text) > 80:
            continue
        word, unit = plain(text)
        if word in DOUBTFUL:
            doubtful.append(Heading(index, tidy(text)))
        elif word in KNOWN:
            column, rank = KNOWN[word]
            if column not in found or rank < found[column][0]:
                found[column] = rank, Heading(index, tidy(text), column, unit if column in SIZES else "")
    for heading in doubtful:
        for column in (Column.QUANTITY, Column.CODE):
            if column not in found:
                found[column] = 0, replace(heading, column=column, guessed=column is Column.QUANTITY)
                break
    return tuple(sorted((heading for _, heading in found.values()), key=lambda heading: heading.index))
