"""From the halves that a skirt recipe draws to whole pieces, their seams and what is told of them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from blocks.waistline import Half, Waist, waist_facts
from drafting.errors import CannotDraft
from drafting.garment import (
    Adjust,
    Aim,
    Brief,
    Face,
    Fact,
    Garment,
    Girth,
    Level,
    Line,
    LineLength,
    Piece,
    Role,
    Seam,
    Section,
    Side,
    Solve,
    Use,
    option,
    stitch_for,
)
from drafting.garment.darts import Dart, dart_name, darts_of
from drafting.garment.lines import DartName, Fate
from drafting.geometry import Path
from drafting.record import dataclass
from drafting.saying import mm, say
from drafting.trade import TradeValue
from drafting.work.kinds import SIDE, sew_dart

SHORTEST_SKIRT = TradeValue(60.0, "mm", "from memory")
"""From hip to hem at least: a skirt cut higher covers no hip, and its girth there couldn't be proved."""

NEEDS = ("waist_girth", "hip_girth", "waist_to_hip", "back_neck_point_to_waist", "waist_height", "knee_height")
"""The measurements that every skirt is drawn from."""


def length_option() -> Any:
    """Return the field of a skirt's length."""
    return option(
        "Length from waist to hem; by rule to the middle of the knee.", "length", None, low=200.0, high=1300.0
    )


def waist_ease_option() -> Any:
    """Return the field of a skirt's ease at the waist."""
    sentence = say(
        "Ease at the waist; by rule {figure} in a woven and none in a knit, and the bodice's where there is one.",
        figure=mm(16),
    )
    return option(sentence, "length", None, low=-100.0, high=200.0)


@dataclass(frozen=True, slots=True)
class HalfShape:
    """One half of a skirt piece as the recipe draws it, on +x, everything run from the centre to the side.

    ``waist`` is the waist's parts, ``darts`` those between them, each in the ring's order, of no side yet;
    ``side`` runs from the hem up to the waist.
    """

    hem: Path
    side: Path
    waist: tuple[Path, ...]
    darts: tuple[Dart, ...] = ()
    levels: tuple[tuple[str, Path], ...] = ()
    adjusts: tuple[tuple[str, Path], ...] = ()


def piece_name(face: Face) -> str:
    """The name of the skirt piece of a face."""
    return f"skirt-{face}"


def whole_piece(face: Face, halves: Mapping[Side, HalfShape]) -> Piece:
    """Make the whole piece of a face from its left and right half; +x is the wearer's left on a front."""
    plus = Side.LEFT if face is Face.FRONT else Side.RIGHT
    minus = plus.other
    ring = (*_right_lines(halves[plus], plus, face), *_left_lines(halves[minus], minus, face))
    levels = tuple(
        Level(name, _join_halves(left, right))
        for (name, right), (_, left) in zip(halves[plus].levels, halves[minus].levels, strict=True)
    )
    adjusts = tuple(
        Adjust(name, _join_halves(left, right))
        for (name, right), (_, left) in zip(halves[plus].adjusts, halves[minus].adjusts, strict=True)
    )
    return Piece(piece_name(face), say("Skirt {face}", face=face), ring, face=face, features=(*levels, *adjusts))


def _mirror_path(path: Path) -> Path:
    """A path of the +x half as it runs on the other half, towards the centre."""
    return path.mirrored().reversed()


def _join_halves(left: Path, right: Path) -> Path:
    """A line across the piece from its two halves, each run from the centre on +x."""
    path = Path.join(_mirror_path(left), right)
    return Path.straight(path.start, path.end) if path.is_straight else path


def _right_lines(half: HalfShape, side: Side, face: Face) -> tuple[Line, ...]:
    """The lines of the +x half in ring order: hem outwards, side up, waist in to the centre."""
    parts = [path.reversed() for path in reversed(half.waist)]
    darts = [_of_half(dart, i, side, face) for i, dart in enumerate(half.darts)][::-1]
    return (
        Line(f"hem-{side}", half.hem, Role.HEM, side, face, Fate.HEMMED, "hem"),
        Line(f"side-{side}", half.side, Role.SIDE, side, face),
        *_waist(parts, darts, side, face),
    )


def _left_lines(half: HalfShape, side: Side, face: Face) -> tuple[Line, ...]:
    """The lines of the -x half in ring order: waist outwards, side down, hem in to the centre."""
    parts = [path.mirrored() for path in half.waist]
    darts = [_of_half(dart.mirrored(), i, side, face) for i, dart in enumerate(half.darts)]
    return (
        *_waist(parts, darts, side, face),
        Line(f"side-{side}", _mirror_path(half.side), Role.SIDE, side, face),
        Line(f"hem-{side}", _mirror_path(half.hem), Role.HEM, side, face, Fate.HEMMED, "hem"),
    )


def _of_half(dart: Dart, i: int, side: Side, face: Face) -> Dart:
    """A half's dart, counted from the centre outwards, as the dart of a side and a face."""
    return dart.of_side(side, face).renamed(_dart_name(face, side, i))


def _dart_name(face: Face, side: Side, i: int) -> DartName:
    """What a half's dart is called, counted from the centre outwards."""
    if i == 0:
        return dart_name(f"skirt-{face}", side)
    return dart_name(f"skirt-{face}-{i + 1}", side, f"skirt-{face}-{side}-{i + 1}")


def _waist(parts: list[Path], darts: list[Dart], side: Side, face: Face) -> tuple[Line, ...]:
    """The waist of a half, its parts with the legs of the darts between them, all in ring order."""
    whole = Line(f"waist-{side}", parts[0], Role.WAIST, side, face, Fate.SEWN, "waist", ("waist",))
    if not darts:
        return (whole,)
    out = [whole.part(0, parts[0])]
    for i, dart in enumerate(darts):
        out += dart.lines
        out.append(whole.part(i + 1, parts[i + 1]))
    return tuple(out)


def skirt_seams(pieces: Iterable[Piece], stitch: str) -> tuple[Seam, ...]:
    """The darts, and the side seams by a stitch (its ISO 4915 number), each from the hem up to the waist."""
    darts = [sew_dart(dart, dart.title) for piece in pieces for dart in darts_of(piece)]
    sides = []
    for side in (Side.LEFT, Side.RIGHT):
        against = side is Side.RIGHT
        plies = (
            (Use(piece_name(Face.FRONT), f"side-{side}", against),),
            (Use(piece_name(Face.BACK), f"side-{side}", not against),),
        )
        sections = (Section(plies, (0.0, 0.0)),)
        sides.append(Seam(f"skirt-side-{side}", SIDE, say("{side} side of the skirt", side=side), sections, stitch))
    return (*darts, *sides)


def length_of(brief: Brief, w: Waist, given: float | None) -> float:
    """Return the length from waist to hem (mm): as asked, or to the middle of the knee; CannotDraft above the hip."""
    length = given if given is not None else brief.body["waist_height"] - brief.body["knee_height"]
    if length < w.fall + SHORTEST_SKIRT:
        raise CannotDraft(
            "length",
            say(
                "a skirt of {is_length} ends less than {shortest_skirt} below the hip line",
                is_length=mm(length),
                shortest_skirt=mm(SHORTEST_SKIRT),
            ),
            short_by=w.fall + SHORTEST_SKIRT - length,
            help="make it longer",
        )
    return length


def add_skirt(
    garment: Garment,
    brief: Brief,
    w: Waist,
    shapes: Mapping[Half, HalfShape],
    told: tuple[tuple[Fact, ...], tuple[Solve, ...]],
) -> Garment:
    """Add the pieces, seams, aims and openings of a skirt to the garment."""
    pieces = tuple(
        whole_piece(face, {side: shapes[face, side] for side in (Side.LEFT, Side.RIGHT)})
        for face in (Face.FRONT, Face.BACK)
    )
    body = brief.body
    hip = sum(level.path.length for piece in pieces for level in piece.levels if level.name == "hip")
    aims = [
        # What a flared skirt has at the hip beyond the fit's ease is its shape's, and meant.
        Aim(Girth("hip"), "hip", body["hip_girth"], hip - body["hip_girth"], meant=max(hip - w.hip_girth, 0.0)),
        Aim(LineLength("waist"), "waist of the skirt", body["waist_girth"], w.ease),
    ]
    return garment.with_(
        pieces=pieces,
        seams=skirt_seams(pieces, stitch_for(brief.cloth)),
        facts=(*waist_facts(w), *_cloth_needs(garment, brief), *told[0]),
        solves=told[1],
        aims=aims,
        openings=(*garment.openings, "waist", "hem"),
    )


def _cloth_needs(garment: Garment, brief: Brief) -> tuple[Fact, ...]:
    """A skirt alone may be cut from any cloth; with a bodice, the bodice says what it needs."""
    if garment.pieces:
        return ()
    return (Fact("needs_knit", 0.0, "flag", "rule", "a skirt may be cut from a woven or a knit"),)
