"""Sleeve fullness: a puffed cap, a flared or tapered lower edge, a sleeve wider all along."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from drafting.errors import CannotDraft, DraftingError
from drafting.garment import (
    Brief,
    Face,
    Fact,
    Garment,
    Line,
    Piece,
    Role,
    Side,
    Stage,
    change,
    option,
    side_option,
    sides_of,
)
from drafting.garment.places import Place
from drafting.geometry import Point
from drafting.mending import mend_wavering
from drafting.record import dataclass
from drafting.redraw.fullness import let_into, with_note
from drafting.redraw.letting_in import Fan, let_in, place_across, stay_within
from drafting.redraw.wider_sleeve import crown_of, only_line, widen_sleeve, with_parted_caps, with_whole_caps
from drafting.saying import mm, say
from drafting.trade import TradeValue, trade_row

DOWN_CAP = trade_row((0.06, 0.55), "share", "common practice")
"""Of half a cap, from the crown, between which a puffed cap is slashed: the fullness sits over the shoulder, and the
cap stays plain below its notches."""

ALONG_WRIST = trade_row((0.14, 0.42), "share", "from memory")
"""Of a sleeve's lower edge, from each end, between which it is slashed."""

FULLNESS_REACHES = trade_row((1.0, 0.8, 0.6, 0.4), "share", "from memory")
"""Of that which the slashes of a sleeve may take up, tried in turn: a narrow sleeve leaves less room."""

SLASHES = TradeValue(4, "count", "from memory")
"""Of slashes in each half of a sleeve."""


@dataclass(frozen=True, slots=True)
class SleeveFullnessOptions:
    """Options of the sleeve's fullness."""

    cap: float = option(
        "How much fullness is let into the cap, to be gathered into the armhole; the lower edge is kept.",
        "length",
        0.0,
        low=0.0,
        high=400.0,
    )
    hem: float = option(
        "How much wider (less than 0: narrower) the lower edge is; the cap keeps its length.",
        "length",
        0.0,
        low=-200.0,
        high=800.0,
    )
    width: float = option(
        "How much wider the sleeve is from the underarm down; the cap keeps its length and is lower for it.",
        "length",
        0.0,
        low=-60.0,
        high=150.0,
    )
    side: str = side_option("Which sleeve.")


@change(
    "sleeve-fullness",
    "A puffed cap, a flared or tapered lower edge, or a sleeve wider all along.",
    Stage.SLEEVE_SHAPE,
    moves=("cap_height", "cap_ease"),
    mends=mend_wavering(Role.CAP, Role.UNDERARM, Role.WRIST),
)
def fill_sleeve(garment: Garment, brief: Brief, o: SleeveFullnessOptions) -> Garment:
    """Give each sleeve asked for its fullness: first its width, then its lower edge, then its cap."""
    if not (o.cap or o.hem or o.width):
        raise CannotDraft(("cap", "hem", "width"), "no fullness is asked for", help="say how much, and where")
    for side in sides_of(o.side):
        garment = _fill_sleeve(garment, side, o)
    return garment


def _fill_sleeve(garment: Garment, side: Side, o: SleeveFullnessOptions) -> Garment:
    old = _sleeve(garment, side)
    piece = with_whole_caps(old)
    try:
        if o.width:
            piece = widen_sleeve(piece, o.width)
        if o.hem:
            piece = let_in(piece, [_wrist_fan(piece, o.hem)], _middle(piece))
        if o.cap:
            piece = let_in(piece, tuple(_cap_fans(piece, o.cap)), _middle(piece))
    except CannotDraft:
        raise
    except DraftingError as error:
        raise CannotDraft(
            ("cap", "hem", "width"),
            say("the {side} sleeve can't be spread: {error}", side=side, error=error.words),
            help="ask for less",
        ) from None
    piece = with_parted_caps(old, piece)
    if o.cap:
        caps = piece.lines(role=Role.CAP)
        drawn = sum(line.path.length for line in caps) - o.cap
        piece = with_note(piece, say("gather the cap to {drawn}, over the shoulder, the ease kept", drawn=mm(drawn)))
    made = let_into(garment, old, piece)
    return made.with_(facts=_facts(made, piece, side, o))


def _facts(garment: Garment, piece: Piece, side: Side, o: SleeveFullnessOptions) -> list[Fact]:
    told = {
        "cap": "gathered into the armhole",
        "hem": "let in at the lower edge",
        "width": "let in from underarm to edge",
    }
    found = [
        Fact(f"sleeve_{name}_{side}", getattr(o, name), "mm", "choice", words)
        for name, words in told.items()
        if getattr(o, name)
    ]
    eases = [
        ease
        for seam in garment.seams
        for section in seam.sections
        for run, ease in zip(section.plies, section.ease, strict=True)
        if any(use.piece == piece.name and piece.line(use.line).role is Role.CAP for use in run)
    ]
    if o.cap and eases:
        found.append(
            Fact(f"cap_ease_{side}", sum(eases), "mm", "choice", "the cap's ease and the fullness let into it")
        )
    return found


def _sleeve(garment: Garment, side: Side) -> Piece:
    found = [piece for piece in garment.pieces if piece.lines(role=Role.CAP, side=side)]
    if len(found) != 1:
        state = "no sleeve" if not found else f"a sleeve in {len(found)} pieces"
        raise CannotDraft(
            "side", say("there is {state} on the {side}", state=state, side=side), help="leave that side out"
        )
    return found[0]


def _place_along(line: Line, start: Point, share: float) -> Place:
    """The place at a share of a line, measured from its end at ``start``."""
    length = line.path.length
    from_start = line.path.start.distance(start) < line.path.end.distance(start)
    return Place(line.name, length * (share if from_start else 1.0 - share))


def _middle(piece: Piece) -> Place:
    """The crown, which is held; on the front's side of the joint, where no slash lies."""
    return _place_along(only_line(piece, Role.CAP, Face.FRONT), crown_of(piece), DOWN_CAP[0] / 4.0)


def _shares(ends: tuple[float, ...], reach: float) -> list[float]:
    return [ends[1] + (ends[0] - ends[1]) * reach * (k + 0.5) / SLASHES for k in range(int(SLASHES))]


def _find_clear(piece: Piece, trials: Iterable[Sequence[Place]], role: Role) -> tuple[tuple[Place, Place], ...] | None:
    """The slashes along the grain to lines of a role, from the first set of places whose slashes stay within."""
    for opens in trials:
        cuts = tuple((place, place_across(piece, place, piece.grain)) for place in opens)
        if all(piece.line(pivot.line).role is role for _, pivot in cuts) and stay_within(piece, cuts):
            return cuts
    return None


def _wrist_fan(piece: Piece, by: float) -> Fan:
    """Slashes from the lower edge up to the cap."""
    wrist = only_line(piece, Role.WRIST)
    length = wrist.path.length
    shares = (_shares(ALONG_WRIST, reach) for reach in FULLNESS_REACHES)
    trials = ([Place(wrist.name, length * t) for t in (*one, *(1.0 - s for s in one))] for one in shares)
    found = _find_clear(piece, trials, Role.CAP)
    if found is None:
        raise CannotDraft("hem", say("the {title:lower} is too hollow to be slashed up to its cap", title=piece.title))
    return Fan(found, (wrist.name,), by)


def _cap_fans(piece: Piece, by: float) -> Iterator[Fan]:
    """Slashes from each half of the cap down to the lower edge; each half takes half of the fullness."""
    crown = crown_of(piece)
    low, high = DOWN_CAP
    for face in (Face.FRONT, Face.BACK):
        line = only_line(piece, Role.CAP, face)
        shares = (
            [low + (high - low) * reach * (k + 0.5) / SLASHES for k in range(int(SLASHES))]
            for reach in FULLNESS_REACHES
        )
        found = _find_clear(piece, ([_place_along(line, crown, t) for t in one] for one in shares), Role.WRIST)
        if found is None:
            raise CannotDraft(
                "cap", say("the {title:lower} is too narrow below to be slashed from its cap", title=piece.title)
            )
        yield Fan(found, (line.name,), by / 2.0)
