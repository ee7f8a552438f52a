"""What does the shop have, and where do its pieces go?  Cutters, seasons and the unit it thinks in."""

from __future__ import annotations

import re
from collections.abc import Mapping
from fractions import Fraction
from typing import Any

from flask import Response, redirect, request, url_for
from werkzeug.wrappers import Response as BaseResponse

from shopfloor.errors import ShopError
from shopfloor.store import shop
from shopfloor.trade.cutters import FIRST, Cutters
from shopfloor.trade.document import length_reader
from shopfloor.trade.fact import inch
from shopfloor.trade.length import MM, Length, write_exact
from shopfloor.trade.moisture import INTERIOR
from shopfloor.trade.part import Unit
from shopfloor.trade.rounding import percent_for_show
from shopfloor.trade.seasons import PRESETS, Seasons
from shopfloor.trade.sources import CUSTOM
from shopfloor.web.office_pages import blueprint, page

SEASONS = {"dry": "Driest, % moisture", "build": "When sized, % moisture", "damp": "Dampest, % moisture"}
OWN = "own"
LONGEST_NAME = 40
PERCENT = re.compile(r"\d{1,2}([.,]\d)?")


@blueprint.get("/shop")
def shop_page() -> Response:
    """What the shop has said about itself, or what it begins with."""
    return _page(_kept())


@blueprint.post("/shop")
def change_shop() -> BaseResponse:
    """Keep what was typed, all of it or none: what is wrong stands beside its field."""
    typed = {name: text.strip() for name, text in request.form.items()}
    unit = Unit(typed["unit"]) if typed.get("unit") in list(Unit) else Unit.INCH
    if typed.get("do") == "first":
        shop.set_back()
        return redirect(url_for("office.shop_page", kept="yes"), 303)
    if typed.get("do") == "undo":
        shop.take_back()
        return redirect(url_for("office.shop_page", kept="yes"), 303)
    before = _kept()
    faults: dict[str, str] = {}
    touched = any(typed.get(name, "") != before[name] for name in FIRST)
    made = _cutters(typed, before, unit, faults) if touched else shop.cutters()
    seasons = _seasons(typed, before, faults)
    if faults or made is None or seasons is None:
        answer = _page(before | typed, faults)
        answer.status_code = 422
        return answer
    if touched:
        shop.keep_cutters(made)
    if seasons != shop.seasons():
        shop.keep_seasons(seasons)
    shop.keep_unit(unit)
    return redirect(url_for("office.shop_page", kept="yes"), 303)


@blueprint.post("/shop/name")
def name_shop() -> BaseResponse:
    """What the shop is called: on its phones when they join, and in the files that it prints."""
    name = " ".join("".join(c for c in request.form.get("shop-name", "") if c.isprintable() or c == " ").split())[
        :LONGEST_NAME
    ]
    if not name:
        answer = _page(_kept(), {"shop-name": "A shop has a name. Call it something that tells it from another one."})
        answer.status_code = 422
        return answer
    shop.rename(name)
    return redirect(url_for("office.shop_page", kept="yes"), 303)


def _cutters(typed: Mapping[str, str], before: Mapping[str, str], unit: Unit, faults: dict[str, str]) -> Cutters | None:
    found: dict[str, tuple[Length, ...]] = {}
    for name in FIRST:
        text = typed.get(name, "")
        # Widths that were not touched keep their meaning when the unit changes.
        read = length_reader(unit if text != before[name] else shop.unit())
        try:
            found[name] = tuple(read(each.strip()) for each in text.split(";") if each.strip())
            if found[name]:
                Cutters(**{name: found[name]})
        except ValueError as err:
            what, _, do = str(err).partition("\n")
            faults[name] = f"{what}. {do}".strip()
        except ShopError as err:
            faults[name] = f"{err.what}. {err.do}"
    if faults:
        return None
    try:
        return Cutters(**found)
    except ShopError as err:
        faults["chisels"] = f"{err.what}. {err.do}"
        return None


def _seasons(typed: Mapping[str, str], before: Mapping[str, str], faults: dict[str, str]) -> Seasons | None:
    found: dict[str, Fraction] = {}
    preset = next((each for each in PRESETS if each.name == typed.get("preset")), None)
    # Numbers written over those of the house that stays chosen are the shop's own.
    if typed.get("preset") == before["preset"] and any(typed.get(name) != before[name] for name in ("dry", "damp")):
        preset = None
    wanted = ("build",) if preset else tuple(SEASONS)
    for name in wanted:
        text = typed.get(name, "").removesuffix("%").strip()
        if PERCENT.fullmatch(text):
            found[name] = Fraction(text.replace(",", "."))
        else:
            faults[name] = f'"{text[:20]}" is no moisture in percent. Write it like 7.5.'
    if len(found) < len(wanted):
        return None
    try:
        return preset.seasons(found["build"]) if preset else Seasons(found["dry"], found["build"], found["damp"])
    except ShopError as err:
        faults["build" if preset else "dry"] = f"{err.what}. {err.do}"
        return None


def _kept() -> dict[str, str]:
    """What is kept, as the form shows it."""
    unit, owned, seasons = shop.unit(), shop.cutters(), shop.seasons()
    preset = next((each for each in PRESETS if each.seasons(seasons.build) == seasons), None)
    return {
        "unit": unit.value,
        **{name: "; ".join(_written(width, unit) for width in getattr(owned, name)) for name in FIRST},
        "preset": preset.name if preset else OWN,
        **{name: _percent(Fraction(getattr(seasons, name))) for name in SEASONS},
    }


def _written(width: Length, unit: Unit) -> str:
    """A width in the unit in which it is round; its unit stands with it where that is not the shop's."""
    on_tape, round_mm = width % inch(1, 64) == 0, width % (MM // 10) == 0
    own = on_tape if unit is Unit.INCH else round_mm
    other = Unit.MM if unit is Unit.INCH else Unit.INCH
    used = other if not own and (on_tape or round_mm) else unit
    text = write_exact(width, used.value)
    return text.removesuffix(f" {used.value}") if used is unit else text


def _percent(value: Fraction) -> str:
    return percent_for_show(value).removesuffix(".0")


def _page(typed: Mapping[str, Any], faults: Mapping[str, str] | None = None) -> Response:
    presets = [(each, each.seasons(INTERIOR.value)) for each in PRESETS]
    return page(
        "office/shop.html", shop_name=shop.read().name, typed=typed, faults=faults or {},
        source=CUSTOM, cutters=FIRST, seasons=SEASONS, own=OWN,
        presets=[(each.name, f"{each.dry_rh} to {each.damp_rh} % humidity, so "
                             f"{_percent(Fraction(s.dry))} to {_percent(Fraction(s.damp))} % moisture")
                 for each, s in presets],
        kept=request.args.get("kept") == "yes", set_back=shop.was_set_back(),
        warnings=() if faults else shop.seasons().warnings,
    )  # fmt: skip
