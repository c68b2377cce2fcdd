"""How the steps of the common seams are told, in the words of a handbook page; all of it common practice."""

from __future__ import annotations

from drafting.garment import Garment, Group, Role, Seam, Telling, Told
from drafting.saying import Saying, Words
from drafting.work.telling import and_, is_centre, is_knit, is_zipped, meets_closure, tell_ease, tell_pressing, title_of


def tell_plain(told: Telling, group: Group) -> Told:
    """Tell a seam of which no more is to be said than what it takes up and how it is pressed."""
    seam = group.seams[0]
    return Told((f"{title_of(told, group)}{tell_ease(told, seam)}; {tell_pressing(told, seam.kind.press)}.",))


def tell_shoulder(told: Telling, group: Group) -> Told:
    """Tell a shoulder seam, with the stay that is caught in it."""
    seam = group.seams[0]
    pieces = [(told.garment.piece(use.piece), use.line) for use in seam.uses()]
    taped = ", the stay caught in it" if any(z.line == line for piece, line in pieces for z in piece.zones) else ""
    title = title_of(told, group, {"{side} shoulder": "{side} shoulder seam"})
    return Told((f"{title}{tell_ease(told, seam)}{taped}; {tell_pressing(told, seam.kind.press)}.",))


def side_title(told: Telling, group: Group) -> str:
    """Return the title of a side or underarm seam."""
    return title_of(told, group, {"{side} side": "{side} side seam", "{side} underarm": "{side} sleeve underarm"})


def tell_side(told: Telling, group: Group) -> Told:
    """Tell a side seam: whether it goes on to the wrist, whether an opening is left in it."""
    seam = group.seams[0]
    roles = [told.garment.line(run[0]).role for run in (s.plies[0] for s in seam.sections) if run]
    through = Role.UNDERARM in roles and Role.SIDE in roles
    how = ", in one go to the wrist, armhole seams meeting" if through else ""
    opened = ", leaving the opening" + (" of the zip" if is_zipped(told) else "")
    opened = opened if meets_closure(told, seam) else ""
    return Told(
        (f"{side_title(told, group)}{how}{opened}{tell_ease(told, seam)}; {tell_pressing(told, seam.kind.press)}.",)
    )


def tell_style(told: Telling, group: Group) -> Told:
    """Tell a centre seam, or a seam that the design draws across the body."""
    seam = group.seams[0]
    if is_centre(told.garment, seam):
        below = f", below the {'zip' if is_zipped(told) else 'opening'}" if meets_closure(told, seam) else ""
        return Told((f"{title_of(told, group)}{below}; {tell_pressing(told, seam.kind.press)}.",))
    run = seam.plies[0]
    a, b = told.garment.path(run[0]).start, told.garment.path(run[-1]).end
    across = abs(a.x - b.x) > abs(a.y - b.y)
    press = "press it up" if across else tell_pressing(told, "towards the centre")
    bends = not all(told.garment.path(use).is_straight for use in run)
    clip = "" if is_knit(told.garment) or not bends else "clip hollow curves, notch round ones, "
    return Told((f"{title_of(told, group)}, notches matched{tell_ease(told, seam)}; {clip}{press}.",))


def tell_darts(told: Telling, group: Group) -> Told:
    """Tell all darts that are sewn one after the other, by where they are pressed to."""
    ways: dict[str, dict[str, None]] = {}
    for seam in group.seams:
        ways.setdefault(_pressed_to(told.garment, seam), {})[_dart_words(seam.title)] = None
    names = "; ".join(f"{and_(tuple(found))} (press {way})" for way, found in ways.items())
    two = any(len(seam.sections) > 1 for seam in group.seams)
    ends = "; those with two points from the middle out to each, clipped at the waist" if two else ""
    return Told((f"Darts, from the wide end to the point, threads knotted there{ends}: {names}.",))


def _dart_words(title: Words) -> str:
    """Which dart it is, whatever its side and number: "skirt front"; its title, where that doesn't say."""
    if isinstance(title, Saying):
        words, whole = title.value("words"), title.value("title")
        return str(words) if words else _dart_words(whole) if isinstance(whole, Saying) else str(title).lower()
    return title.lower()


def _pressed_to(garment: Garment, seam: Seam) -> str:
    """Upright darts are pressed towards the centre, level ones down."""
    leg = garment.path(seam.sections[0].plies[0][0])
    return "down" if abs(leg.start.x - leg.end.x) > abs(leg.start.y - leg.end.y) else "towards the centre"


def tell_armhole(told: Telling, group: Group) -> Told:
    """Tell a sleeve set in: flat where the sides are open still, else in the round, its cap eased."""
    seam = group.seams[0]
    ease, title = tell_ease(told, seam, "cap"), title_of(told, group, {"{side} armhole": "{side} sleeve"})
    marks = "notches (one in front, two behind) and shoulder matched"
    if not any(_is_side(told, name) for name in told.before.get(seam.name, ())):
        return Told((f"{title}, set in flat: ends, {marks}{ease}; press it towards the sleeve.",))
    rows = "two rows of long stitches over the cap between the notches; " if ease else ""
    return Told((
        f"{title}, set in round: {rows}underarm, {marks}{ease}{', without tucks' if ease else ''}; "
        "sew with the sleeve on top; press it into the sleeve.",
    ))  # fmt: skip


def _is_side(told: Telling, name: str) -> bool:
    """Whether the seam of that name closes a side or an underarm."""
    return any(told.garment.line(use).role in (Role.SIDE, Role.UNDERARM) for use in told.garment.seam(name).uses())
