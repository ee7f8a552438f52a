"""Which limits of its machines does a shop start from?  Defaults, listed with their sources.

The machine's own manual, local law and code, and trained practice come first.  These are reminders and never a
permission: the shop enters the limits of the machines it has, and where two apply the stricter one wins.  Short and
narrow parts, in this order: mill a long blank and cut to length last; mill a wide one and rip last; a carrier, sled or
jig; hand tools.
"""

from __future__ import annotations

from fractions import Fraction

from .fact import CONFIRMED, UNCONFIRMED, AnyFact, Fact, Status, inch, mm, share
from .length import Length
from .sources import CALIFORNIA, CUSTOM, FEDERAL, MANUAL, REGULATOR_UK, SCHOOL_SHOP, SHEET_16, UNIVERSITY, WASHINGTON

__all__ = ["FACTS"]


def _length(
    key: str, name: str, value: Length, metric: str, status: Status, source: str, *, note: str = "",
    changeable: bool = True,
) -> Fact[Length]:  # fmt: skip
    return Fact(
        key=key,
        subject="machines",
        name=name,
        value=value,
        metric=mm(metric),
        status=status,
        source=source,
        note=note,
        changeable=changeable,
    )


def _rule(key: str, name: str, value: str, status: Status, source: str, *, note: str = "") -> Fact[str]:
    return Fact(
        key=key, subject="machines", name=name, value=value, unit="", status=status, source=source, note=note,
        changeable=False,
    )  # fmt: skip


def _ratio(key: str, name: str, value: Fraction, unit: str, status: Status, source: str) -> Fact[Fraction]:
    return Fact(key=key, subject="machines", name=name, value=value, unit=unit, status=status, source=source)


FACTS: tuple[AnyFact, ...] = (
    _length("jointer-shortest", "Jointer: shortest piece", inch(12), "300", CONFIRMED, f"{MANUAL}; {REGULATOR_UK}",
            note="Manuals give 8 and 10 in; below 300 mm the regulator advises another method such as sanding."),
    _ratio("jointer-shortest-openings", "Jointer: shortest piece, openings of the table", Fraction(4), "openings",
           UNCONFIRMED, f"{CUSTOM}; an older US standard"),
    _length("jointer-narrowest", "Jointer: narrowest piece", inch(3, 4), "19", CONFIRMED, MANUAL),
    _length("jointer-thinnest", "Jointer: thinnest piece", inch(1, 2), "13", CONFIRMED, MANUAL,
            note="Manuals give 1/4 and 1/2 in."),
    _length("jointer-block-length", "Jointer: push block or hold-down when shorter than", inch(12), "300", CONFIRMED,
            MANUAL),
    _length("jointer-block-size", "Jointer: push block or hold-down when narrower or thinner than", inch(3), "75",
            CONFIRMED, MANUAL),
    _length("jointer-hands", "Jointer: hands never nearer to the head than", inch(3), "75", CONFIRMED, MANUAL,
            note="And never over it.", changeable=False),
    _length("jointer-pass", "Jointer: depth of a pass", inch(1, 16), "1.5", CONFIRMED, SCHOOL_SHOP),
    _length("jointer-pass-most", "Jointer: depth of a pass, never more than", inch(1, 8), "3", CONFIRMED, MANUAL,
            changeable=False),
    _rule("jointer-end-grain", "Jointer: end grain", "is not jointed", CONFIRMED, f"{MANUAL}; {SCHOOL_SHOP}"),
    _length("jointer-projection", "Jointer: knives stand out at most", inch(1, 8), "3.175", CONFIRMED, FEDERAL,
            changeable=False),
    _length("jointer-rear-gap", "Jointer: gap to the rear table at most", inch(1, 8), "3.175", CONFIRMED,
            f"{FEDERAL}; {WASHINGTON}", changeable=False),
    _length("jointer-throat", "Jointer: throat opening at zero cut at most", inch(5, 2), "63.5", CONFIRMED,
            f"{FEDERAL}; {WASHINGTON}", changeable=False),
    _rule("jointer-guard", "Jointer: guard", "self-adjusting, covers the head that is not used", CONFIRMED, FEDERAL),
    _rule("bridge-guard", "Bridge guard: gap", "under 10 mm", CONFIRMED, REGULATOR_UK),
    _length("planer-shortest", "Planer: shortest piece", inch(12), "300", CONFIRMED, f"{UNIVERSITY}; {MANUAL}",
            note="The manual of a small machine gives 7 in."),
    _length("planer-beyond-rollers", "Planer: or longer than the distance of the feed rollers by", inch(2), "50",
            UNCONFIRMED, CUSTOM),
    _length("planer-thinnest", "Planer: thinnest piece", inch(1, 4), "6", CONFIRMED, UNIVERSITY,
            note="A manual gives 3/16 in."),
    _length("planer-narrowest", "Planer: narrowest piece", inch(3, 4), "19", CONFIRMED, MANUAL),
    _length("planer-pass", "Planer: depth of a pass at full width", inch(1, 16), "1.5", CONFIRMED,
            f"{MANUAL}; {UNIVERSITY}"),
    _length("planer-pass-most", "Planer: depth of a pass, never more than", inch(1, 8), "3", CONFIRMED,
            f"{MANUAL}; {UNIVERSITY}", changeable=False),
    _rule("planer-side-by-side", "Planer: several pieces side by side", "no, unless the feed is sectional", CONFIRMED,
          MANUAL, note="A thinner piece is not gripped and can be thrown back."),
    _rule("planer-stand", "Planer: where to stand", "to the side", CONFIRMED, MANUAL),
    _rule("planer-guards", "Planer: feed rolls and heads", "guarded", UNCONFIRMED, FEDERAL),
    _length("saw-push-stick", "Table saw: push stick for the last", inch(12), "300", CONFIRMED, REGULATOR_UK,
            note="300 mm there, the stick at least 450 mm long.  Sticks and blocks do not replace the guard."),
    _rule("saw-riving-knife", "Table saw: riving knife", "within 8 mm of the blade; thicker than its plate, thinner "
          "than the kerf", CONFIRMED, REGULATOR_UK),
    _rule("saw-spreader", "Table saw: spreader", "thinner than the kerf, no more than 1/2 in behind the blade",
          CONFIRMED, CALIFORNIA),
    _rule("saw-hood", "Table saw, hand-fed, ripping", "hood, spreader and anti-kickback device", CONFIRMED, FEDERAL,
          note="Confirmed in part."),
    _ratio("saw-smallest-blade", "Table saw: smallest blade", share("60/100"), "of the largest it takes", CONFIRMED,
           REGULATOR_UK),
    _length("saw-narrow-stick", "Table saw: push stick for rips below", inch(6), "150", UNCONFIRMED, CUSTOM),
    _length("saw-narrow-jig", "Table saw: push block or jig for rips below", inch(2), "50", UNCONFIRMED, CUSTOM),
    _length("saw-shortest", "Table saw: not against the fence when shorter than", inch(12), "300", UNCONFIRMED, CUSTOM,
            note="A sled instead."),
    _rule("saw-gauge-fence", "Table saw: crosscut gauge and fence", "never as a stop together; a spacer block ahead of "
          "the blade", UNCONFIRMED, CUSTOM),
    _rule("saw-run-down", "Table saw: runs down", "within 10 seconds", CONFIRMED, SHEET_16),
    _rule("saw-channel", "Dado, groove or rabbet on a saw", "feather boards or a jig where the guard cannot be used",
          CONFIRMED, f"{CALIFORNIA}; {WASHINGTON}"),
    _rule("saw-channel-after", "Dado, groove or rabbet on a saw: after the cut", "guard and spreader go back at once",
          UNCONFIRMED, FEDERAL),
    _rule("saw-channel-uk", "Dado, groove or rabbet, UK practice", "a guarded router or spindle moulder is preferred",
          CONFIRMED, SHEET_16),
    _length("dado-pass", "Dado stack: depth of a pass", inch(3, 8), "10", UNCONFIRMED, CUSTOM,
            note="Many saws do not take dado sets at all: look at the arbor and the manual."),
    _rule("push-sticks", "Push sticks and blocks", "several sizes at hand; they do not replace the guard", CONFIRMED,
          WASHINGTON),
    _length("chop-saw-shortest", "Chop saw: shortest piece", inch(8), "200", UNCONFIRMED, CUSTOM),
    _length("chop-saw-hands", "Chop saw: hands from the blade", inch(6), "150", UNCONFIRMED, CUSTOM),
    _rule("router-small", "Router table: small parts", "shaped on a longer or wider blank, then cut off; fed against "
          "the rotation", UNCONFIRMED, CUSTOM),
    _rule("machine-condition", "Any machine", "no vibration at full idle speed with the largest tool, no play in the "
          "arbor, a lockable disconnect", CONFIRMED, FEDERAL),
)  # fmt: skip
