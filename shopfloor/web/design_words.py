"""What is each choice of a construction called on the page?  In words of the trade; the rest reads as it is named."""

from __future__ import annotations

from shopfloor.trade.construct import (
    cabinet,
    carcase,
    cleats,
    derived,
    doors,
    drawer_choices,
    frame_choices,
    housed_frames,
    legs,
    plain,
    shelf,
    top,
)
from shopfloor.trade.construct import web_frames as web
from shopfloor.trade.part import Line
from shopfloor.trade.record import KINDED

__all__ = ["CHOICES", "about", "label", "legend"]

CHOICES = {
    "cabinet": "Cabinet on legs",
    "carcase": "Case of solid boards",
    "doors": "Door, or a pair",
    "plain": "Plain parts",
}
"""The constructions as a maker would ask for them."""

ABOUT = {
    "cabinet": "Four legs, each side open or a frame with panels; web frames, drawers and a solid top as you like.",
    "carcase": "Two sides of solid board; shelves or web frames in dadoes between them, drawers and a top.",
    "doors": "Frame and panel, inset in an opening, hinged left, right or as a pair.",
    "plain": "Parts of one size that stand for themselves: a knob, a batten, a stretcher.",
}

WORDS: dict[tuple[type, str], str] = {
    (cabinet.Cabinet, "width"): "Width over the legs",
    (cabinet.Cabinet, "depth"): "Depth over the legs",
    (cabinet.Cabinet, "height"): "Height with the top",
    (cabinet.Cabinet, "left"): "Left side",
    (cabinet.Cabinet, "right"): "Right side",
    (cabinet.Cabinet, "back"): "Back",
    (cabinet.Cabinet, "front"): "Front",
    (carcase.Carcase, "width"): "Outside width",
    (carcase.Carcase, "depth"): "Depth of the sides",
    (carcase.Carcase, "height"): "Height with the top",
    (carcase.Carcase, "side"): "Thickness of the sides",
    (carcase.Carcase, "frames"): "Web frames in dadoes",
    (doors.Doors, "width"): "Width of the opening",
    (doors.Doors, "height"): "Height of the opening",
    (doors.Doors, "hinges"): "Hinges at",
    (doors.Doors, "beside"): "Gap at each side",
    (doors.Doors, "between"): "Gap between a pair",
    (doors.Doors, "above"): "Gap above",
    (doors.Doors, "below"): "Gap below",
    (plain.Plain, "count"): "How many",
    (plain.Plain, "hands"): "Their hands are",
    (plain.Plain, "datum"): "Datum end (top, left ...)",
    (plain.Plain, "face_side"): "Face side looks",
    (plain.Plain, "face_edge"): "Face edge looks",
    (plain.Plain, "features"): "Cuts",
    (Line, "features"): "Cuts",
    (Line, "datum"): "Datum end (top, left ...)",
    (Line, "face_side"): "Face side looks",
    (Line, "face_edge"): "Face edge looks",
    (Line, "group"): "Grain group",
    (legs.Legs, "foot"): "Sides stop above the floor by",
    (legs.Side, "flush"): "Flush with the legs'",
    (legs.Side, "set_back"): "Set back from there by",
    (legs.Side, "down"): "Upper edge below the top of the legs",
    (frame_choices.Frame, "rails"): "Widths of the rails, from the top",
    (frame_choices.Frame, "stiles"): "Widths of its own stiles, from the left",
    (frame_choices.Frame, "fields"): "Heights between the rails (0 shares the rest)",
    (frame_choices.Frame, "muntins"): "Muntins in each field, from the top",
    (frame_choices.Frame, "muntin"): "Width of a muntin",
    (frame_choices.Frame, "tenon"): "Tenons of the rails",
    (frame_choices.Frame, "groove"): "Groove for panels",
    (frame_choices.Tenon, "offset"): "Behind the face side",
    (frame_choices.Tenon, "shoulder"): "Shoulder at an edge",
    (frame_choices.Tenon, "extra"): "Mortise deeper by",
    (frame_choices.Groove, "offset"): "Behind the face side",
    (frame_choices.Groove, "clear"): "Muntin tenons stay clear by",
    (frame_choices.Panel, "beside"): "Clear of the groove across the grain",
    (frame_choices.Panel, "ends"): "Clear of the groove along the grain",
    (frame_choices.Panel, "set_back"): "Behind the frame's face by",
    (frame_choices.Panel, "group"): "Grain group",
    (web.WebFrames, "count"): "Openings between them",
    (web.WebFrames, "front"): "Width of the front rails",
    (web.WebFrames, "back"): "Width of the back rails",
    (web.WebFrames, "runner"): "Width of the runners",
    (web.WebFrames, "front_tenon"): "Tenons of the front rails",
    (web.WebFrames, "back_tenon"): "Tenons of the back rails",
    (web.WebFrames, "groove"): "Groove for runners",
    (web.WebFrames, "set_back"): "Behind the front of the legs by",
    (web.WebFrames, "heights"): "Heights of the openings, from the top (0 shares the rest)",
    (web.WebFrames, "front_species"): "Species of the front rails",
    (web.WebFrames, "back_species"): "Species of the back rails",
    (web.WebFrames, "runner_species"): "Species of the runners",
    (web.LegTenon, "shoulder"): "In from the outer edge",
    (web.LegTenon, "offset"): "Behind the face side",
    (web.LegTenon, "extra"): "Mortise deeper by",
    (housed_frames.HousedFrames, "count"): "Openings between them",
    (housed_frames.HousedFrames, "front"): "Width of the front rails",
    (housed_frames.HousedFrames, "back"): "Width of the back rails",
    (housed_frames.HousedFrames, "runner"): "Width of the runners",
    (housed_frames.HousedFrames, "tongue"): "Thickness of the tongue",
    (housed_frames.HousedFrames, "offset"): "Tongue above the underside",
    (housed_frames.HousedFrames, "depth"): "Depth of the dadoes",
    (housed_frames.HousedFrames, "groove"): "Groove for runners",
    (housed_frames.HousedFrames, "clear"): "Tongue clear of the dado by",
    (housed_frames.HousedFrames, "set_back"): "Behind the front edge by",
    (housed_frames.HousedFrames, "back_in"): "Before the back edge by",
    (housed_frames.HousedFrames, "up"): "Lowest frame above the lower end",
    (housed_frames.HousedFrames, "heights"): "Heights of the openings, from the top (0 shares the rest)",
    (shelf.Shelves, "count"): "How many shelves",
    (shelf.Shelves, "tongue"): "Thickness of the tongue",
    (shelf.Shelves, "depth"): "Depth of the dadoes",
    (shelf.Shelves, "clear"): "Tongue clear of the dado by",
    (shelf.Shelves, "stop"): "Dado stops behind the front by",
    (shelf.Shelves, "front"): "Behind the front edge by",
    (shelf.Shelves, "back"): "Before the back edge by",
    (shelf.Shelves, "down"): "First shelf below the top",
    (shelf.Shelves, "up"): "Last shelf above the lower end",
    (shelf.Shelves, "heights"): "Heights of the openings, from the top (0 shares the rest)",
    (drawer_choices.Drawers, "front"): "Thickness of the fronts",
    (drawer_choices.Drawers, "side"): "Thickness of the sides",
    (drawer_choices.Drawers, "back"): "Thickness of the backs",
    (drawer_choices.Drawers, "corner"): "Side and front",
    (drawer_choices.Drawers, "back_joint"): "Side and back",
    (drawer_choices.Drawers, "beside"): "Clear at each side",
    (drawer_choices.Drawers, "above"): "Clear above",
    (drawer_choices.Drawers, "behind"): "Clear behind",
    (drawer_choices.Drawers, "front_gap"): "Gap beside an inset front",
    (drawer_choices.Drawers, "overlay"): "Fronts lie over the case",
    (drawer_choices.Drawers, "front_species"): "Species of the fronts",
    (drawer_choices.Drawers, "side_species"): "Species of the sides",
    (drawer_choices.Drawers, "bottom_species"): "Species of the bottoms",
    (drawer_choices.CornerJoint, "kind"): "Joint",
    (drawer_choices.CornerJoint, "depth"): "Depth in the front",
    (drawer_choices.CornerJoint, "tongue"): "Thickness of the tongue",
    (drawer_choices.CornerJoint, "clear"): "Clear of the bottom by",
    (drawer_choices.CornerJoint, "count"): "Tails",
    (drawer_choices.CornerJoint, "pin"): "Pins where they are narrowest",
    (drawer_choices.CornerJoint, "half_pin"): "Half pins at the edges",
    (drawer_choices.CornerJoint, "slope"): "Slope, 1 in",
    (drawer_choices.BackJoint, "depth"): "Depth of the dado",
    (drawer_choices.BackJoint, "tongue"): "Thickness of the tongue",
    (drawer_choices.BackJoint, "clear"): "Clear of the bottom by",
    (drawer_choices.BackJoint, "ahead"): "Ahead of the rear ends by",
    (drawer_choices.BackJoint, "lower"): "Lower than the sides by",
    (drawer_choices.Bottom, "up"): "Groove above the lower edge",
    (drawer_choices.Bottom, "width"): "Width of the groove",
    (drawer_choices.Bottom, "depth"): "Depth of the groove",
    (drawer_choices.Bottom, "clear"): "Clear of the groove by",
    (drawer_choices.Overlay, "beside"): "Over the case at each side",
    (drawer_choices.Overlay, "above"): "Over the case above",
    (drawer_choices.Overlay, "below"): "Over the case below",
    (top.Top, "front"): "Overhang in front",
    (top.Top, "back"): "Overhang behind",
    (top.Top, "left"): "Overhang left",
    (top.Top, "right"): "Overhang right",
    (top.Top, "boards"): "Glued of how many boards",
    (cleats.Cleats, "screws"): "Screws in each",
    (cleats.Cleats, "shank"): "Width of the slots",
    (cleats.Cleats, "slot"): "Length of the slots",
    (cleats.Cleats, "held"): "The top is held at the",
    (derived.Override, "nm"): "Length",
}


def label(kind: type, name: str) -> str:
    """What a field is called: by its own words, or by its name."""
    words = name.replace("_", " ")
    return WORDS.get((kind, name), f"{words[:1].upper()}{words[1:]}")


def legend(kind: type) -> str:
    """What one item of a list is called."""
    words = KINDED.get(kind, kind.__name__)
    return f"{words[:1].upper()}{words[1:]}"


def about(kind: str) -> str:
    """One sentence on what a construction gives."""
    return ABOUT[kind]
