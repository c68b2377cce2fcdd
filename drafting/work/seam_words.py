"""How the steps of the common seams are told, in the words of a handbook page; all of it common practice."""

from __future__ import annotations

from collections.abc import Mapping

from drafting.garment import Fate, Garment, Group, Role, Seam, Telling, Told, Use, does, tell_step
from drafting.garment.balance import runs_on
from drafting.garment.darts import DRILL_HOLE
from drafting.garment.deeds import NEATENED, Handling
from drafting.garment.named_marks import OPENING_END, name_marks
from drafting.saying import Saying, Words, without_sides
from drafting.trade import TradeValue
from drafting.units import show_length
from drafting.work.bends import tell_bends
from drafting.work.meeting import mark_numbers
from drafting.work.telling import (
    and_,
    gather_words,
    is_centre,
    is_knit,
    is_zipped,
    meets_closure,
    neaten_as_one,
    sew_words,
    tell_ease,
    tell_pressing,
    title_of,
)

OVER_CENTRE = TradeValue(10.0, "mm", "from memory")
"""Beyond the centre on both sides that a seam lies at least for it to cross it."""


def pin_words(told: Telling, seam: Seam, what: str = "the two edges") -> str:
    """Tell how two edges are laid for a plain seam."""
    named, numbers = name_marks(told.garment), mark_numbers(told.garment, seam)
    snipped = any(named.get(number, "") != OPENING_END for number in numbers)
    notched = f", {'notches' if snipped else 'points'} matched" if numbers else ""
    return f"Pin {what} right sides together{notched}."


def tell_plain(told: Telling, group: Group) -> Told:
    """Tell a seam of which no more is to be said than what it takes up and how it is pressed."""
    seam = group.seams[0]
    return tell_step(
        title_of(told, group),
        *gather_words(told, seam, _ALONG),
        pin_words(told, seam),
        sew_words(told, seam),
        tell_pressing(told, seam.kind.press),
    )


_ALONG = "along the edge that is gathered"
"""Where it is gathered, in a seam of any kind."""


def tell_shoulder(told: Telling, group: Group) -> Told:
    """Tell a shoulder seam, with the stay that is caught in it."""
    seam = group.seams[0]
    pieces = [(told.garment.piece(use.piece), use.line) for use in seam.uses()]
    taped = any(z.line == line for piece, line in pieces for z in piece.zones)
    title = title_of(told, group, {"{side} shoulder": "{side} shoulder seam"})
    return tell_step(
        title,
        "Pin front to back, right sides together, neck edges level.",
        f"Sew the seam, through the stay too{tell_ease(told, seam)}." if taped else sew_words(told, seam),
        tell_pressing(told, seam.kind.press),
    )


def side_title(told: Telling, group: Group) -> str:
    """Return the title of a side or underarm seam."""
    return title_of(told, group, {"{side} side": "{side} side seam", "{side} underarm": "{side} sleeve underarm"})


def tell_side(told: Telling, group: Group) -> Told:
    """Tell a side seam: whether it goes on to the end of the sleeve, whether an opening is left in it."""
    seam = group.seams[0]
    roles = [told.garment.line(run[0]).role for run in (s.plies[0] for s in seam.sections) if run]
    if Role.END in roles and Role.SIDE in roles:
        return _tell_side_and_facing(told, group)
    through = Role.UNDERARM in roles and Role.SIDE in roles
    crossed = len({use.piece for use in seam.plies[0]}) > 1
    sides = [use for use in seam.plies[0] if told.garment.line(use).role is Role.SIDE]
    waist = len(sides) > 1 and any(each.kind.takes_up == "waist" for each in told.garment.seams)
    armhole = f"{'waist and ' * waist}armhole seams meeting"
    met = armhole if through else "the seams that cross it meeting" if crossed else ""
    notched = "notches matched" if mark_numbers(told.garment, seam) else ""
    edges = "the two underarm edges" if set(roles) == {Role.UNDERARM} else "front to back"
    opened = "zip" if is_zipped(told) else "buttons"
    return tell_step(
        side_title(told, group),
        f"Pin {', '.join(filter(None, (edges, 'right sides together', notched, met)))}.",
        f"Leave the opening for the {opened} unsewn." if meets_closure(told, seam) else "",
        _sew_through(told, seam, "along the sleeve") if through else sew_words(told, seam),
        _STOP_AT_NOTCH if not through and _is_open_beyond(told, seam) else "",
        tell_pressing(told, seam.kind.press),
    )


def _tell_side_and_facing(told: Telling, group: Group) -> Told:
    """Tell a side seam that takes in a facing beyond the underarm (common practice)."""
    seam = group.seams[0]
    notched = "notches and " if mark_numbers(told.garment, seam) else ""
    opened = "zip" if is_zipped(told) else "buttons"
    return tell_step(
        side_title(told, group),
        "Open the facing out, away from the garment, at the underarm.",
        f"Pin front to back, right sides together, {notched}the armhole seams meeting.",
        f"Leave the opening for the {opened} unsewn." if meets_closure(told, seam) else "",
        _sew_through(told, seam, "to the facing's edge"),
        tell_pressing(told, seam.kind.press),
        "Turn the facing in again, and catch it to the side seam's allowances by hand.",
    )


def _sew_through(told: Telling, seam: Seam, on: str) -> str:
    """From the lower end, or from where a vent ends, up to the armhole and on."""
    vent = "the notch where the edges part, the stitching secured there,"
    opening = f"{_name_opening_end(told)}, the stitching secured there,"
    beside = opening if _starts_at_opening(told, seam) else "the lower end"
    start = vent if _is_open_beyond(told, seam) else beside
    return f"Sew in one go, from {start} up to the armhole and on {on}{tell_ease(told, seam)}."


def _name_opening_end(told: Telling) -> str:
    """What marks the end of an opening: beside a zip a notch; beside a stand a snip would cut into the stand."""
    return f"the {'notch' if is_zipped(told) else 'point'} where the opening ends"


def _starts_at_opening(told: Telling, seam: Seam) -> bool:
    """Whether a seam begins where an opening ends: a closure goes on beyond one of its ends, over darts."""
    closing = {(use.piece, use.line) for one in told.garment.seams if one.kind.closes for use in one.uses()}
    for end in _list_ends(seam):
        piece = told.garment.piece(end.piece)
        go_on = piece.before if end.against else piece.after
        line = go_on(end.line)
        while line.role is Role.DART:
            line = go_on(line.name)
        if (piece.name, line.name) in closing:
            return True
    return False


_STOP_AT_NOTCH = "Stop at the notch where the edges part, and secure the stitching there."
"""Of a seam that ends at a vent."""


def _is_open_beyond(told: Telling, seam: Seam) -> bool:
    """Whether a seam ends on an edge that runs on unsewn, at a vent."""
    return any(_is_hemmed(told.garment, end) and runs_on(told.garment, end) for end in _list_ends(seam))


def _list_ends(seam: Seam) -> tuple[Use, ...]:
    """The uses at both ends of a seam's plies, each in the direction that leads out of it there."""
    first, last = seam.sections[0].plies, seam.sections[-1].plies
    return (*(run[0].reversed for run in first if run), *(run[-1] for run in last if run))


def _is_hemmed(garment: Garment, end: Use) -> bool:
    """Whether the line beyond a use is hemmed, as a vent's is; that of a closure isn't."""
    piece = garment.piece(end.piece)
    return (piece.before if end.against else piece.after)(end.line).fate is Fate.HEMMED


def tell_style(told: Telling, group: Group) -> Told:
    """Tell a centre seam, or a seam that the design draws across the body."""
    seam = group.seams[0]
    if is_centre(told.garment, seam):
        below = f", below the {'zip' if is_zipped(told) else 'opening'}" if meets_closure(told, seam) else ""
        parted = _is_open_beyond(told, seam)
        start, secured = ("the vent's notch", "at both") if parted else ("the lower end", "there")
        upto = f"Sew from {start} up to {_name_opening_end(told)}, and secure the stitching {secured}."
        sewn = (upto,) if below else (sew_words(told, seam), _STOP_AT_NOTCH if parted else "")
        back = _STANDS_BACK if below and not (is_zipped(told) or is_knit(told.garment)) else ""
        pin, pressed = pin_words(told, seam), tell_pressing(told, seam.kind.press)
        return tell_step(title_of(told, group) + below, pin, *sewn, pressed, back)
    run = seam.plies[0]
    a, b = told.garment.path(run[0]).start, told.garment.path(run[-1]).end
    across = abs(a.x - b.x) > abs(a.y - b.y)
    flat = is_knit(told.garment)
    up = "Press it up." if flat else does("Neaten its edges as one, then press it up.", NEATENED)
    opened, clipped = ((), ()) if flat else tell_bends(told, seam)
    return tell_step(
        title_of(told, group),
        *opened,
        *gather_words(told, seam, _ALONG),
        pin_words(told, seam),
        sew_words(told, seam),
        *clipped,
        up if across else tell_pressing(told, _inwards(told.garment, seam, told.letters)),
    )


_STANDS_BACK = "Above it the stands for the buttons lie back with its edges: don't press them yet."
"""Of a seam that is pressed open below a buttoned opening."""


def _inwards(garment: Garment, seam: Seam, letters: Mapping[str, str]) -> str:
    """Which way a seam of the design is pressed: towards the centre; one that crosses it, onto the lower piece."""
    boxes = [garment.path(use).bounds for use in seam.plies[0]]
    if not min(box[0] for box in boxes) < -OVER_CENTRE < OVER_CENTRE < max(box[2] for box in boxes):
        return "towards the centre"
    lower = min(
        (garment.piece(ply[0].piece) for ply in seam.plies if ply), key=lambda piece: sum(piece.outline.bounds[1::2])
    )
    name = f"{letters.get(lower.name, '')} {str(without_sides(lower.title)).lower()}".strip()
    return f"down, towards {name if lower.name in letters else f'the {name}'}"


def tell_darts(told: Telling, group: Group) -> Told:
    """Tell all darts that are sewn one after the other, by where they are pressed to."""
    ways: dict[str, dict[str, None]] = {}
    for seam in group.seams:
        ways.setdefault(_pressed_to(told.garment, seam), {})[_dart_words(seam.title)] = None
    two = any(len(seam.sections) > 1 for seam in group.seams)
    beyond = show_length(DRILL_HOLE, told.unit)
    return tell_step(
        "Darts",
        "Fold each dart right sides together, its legs on each other.",
        f"Sew from the wide end to the point, {beyond} beyond its mark, and knot the threads there.",
        "Sew a dart with two points from its middle out to each, and clip it at the waist." if two else "",
        *(f"Press the {and_(tuple(found))} darts {way}." for way, found in ways.items()),
    )


def _dart_words(title: Words) -> str:
    """Which dart it is, whatever its side and number: "skirt front"; its title, where that doesn't say."""
    if isinstance(title, Saying):
        words, whole = title.value("words"), title.value("title")
        return str(words) if words else _dart_words(whole) if isinstance(whole, Saying) else str(title).lower()
    return title.lower()


def _pressed_to(garment: Garment, seam: Seam) -> str:
    """Upright darts are pressed towards the centre, level ones down."""
    return "down" if is_level_dart(garment, seam) else "towards the centre"


def is_level_dart(garment: Garment, seam: Seam) -> bool:
    """Whether a dart runs across rather than up and down."""
    leg = garment.path(seam.sections[0].plies[0][0])
    return abs(leg.start.x - leg.end.x) > abs(leg.start.y - leg.end.y)


def tell_armhole(told: Telling, group: Group) -> Told:
    """Tell a sleeve set in: flat where the sides are open still, else in the round, its cap eased."""
    seam = group.seams[0]
    ease, title = tell_ease(told, seam, "cap"), title_of(told, group, {"{side} armhole": "{side} sleeve"})
    marks = "notches (one in front, two behind) and shoulder matched"
    if not any(_is_side(told, name) for name in told.before.get(seam.name, ())):
        return tell_step(
            f"{title}, set in flat",
            *gather_words(told, seam, "over the cap"),
            f"Pin the cap into the armhole, right sides together: ends, {marks}.",
            sew_words(told, seam, "cap"),
            neaten_as_one(told),
            "Press it towards the sleeve.",
        )
    gathered = gather_words(told, seam, "over the cap")
    eased = "Sew two rows of long stitches over the cap, from the notch in front to the two behind, and draw them up."
    drawn = gathered or ((eased,) if ease else ())
    return tell_step(
        f"{title}, set in round",
        *drawn,
        does("Turn the sleeve right side out and put it into the armhole.", Handling.PUT_IN),
        f"Pin them right sides together: underarm, {marks}.",
        f"Sew with the sleeve on top{ease}{', without tucks' if ease and not gathered else ''}.",
        neaten_as_one(told),
        "Press it into the sleeve.",
    )


def _is_side(told: Telling, name: str) -> bool:
    """Whether the seam of that name closes a side or an underarm."""
    return any(told.garment.line(use).role in (Role.SIDE, Role.UNDERARM) for use in told.garment.seam(name).uses())
