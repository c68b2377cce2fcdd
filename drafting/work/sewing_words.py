"""What is done at each kind of seam, in the words of a handbook page; all of it common practice unless said."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping

from drafting.garment import OVERLOCK, Garment, Role, Run, Seam, Use, is_centre, same_corner, usual_stitch
from drafting.units import Unit, show_length
from drafting.work import Task, banding
from drafting.work.wording import Group, and_, capital

__all__ = ["CLOSING", "READYING", "Group", "Telling"]

CLOSING = ("closure", "button-closure")
READYING = ("end", "mitre")

WORTH_TELLING = 1.5
"""mm: less than this is lost in any seam, and isn't told as ease (from memory)."""

GATHERED = 0.12
"""A ply that is longer by more than this share is gathered or pleated, not eased (from memory)."""

_TITLES: Mapping[str, str] = {
    "shoulder": "shoulder seam",
    "side": "side seam",
    "underarm": "sleeve underarm",
    "armhole": "sleeve",
    "waist": "waist seam",
    "front waist": "front waist seam",
    "back waist": "back waist seam",
}


class Telling:
    """What is told of one garment; it remembers what was told in full already. Local to one order of work."""

    def __init__(self, garment: Garment, unit: Unit, order: Iterable[Task]) -> None:
        self.garment, self.unit = garment, unit
        self.usual = usual_stitch(garment)
        self.knit = self.usual == OVERLOCK
        self.cornered = {f.name.removesuffix("_corners") for f in garment.facts if f.name.endswith("_corners")}
        self.kinds = {seam.name: seam.kind for seam in garment.seams}
        self.before = {task.seam: task.before for task in order}
        self.full: dict[str, str] = {}

    def steps(self, group: Group) -> Iterator[str]:
        """Yield the step or steps that tell a group, and remember it."""
        yield from self.words(group)
        key = banding.form(self, group)
        if key:
            self.full.setdefault(key, group.title.split(",")[0])

    def words(self, group: Group) -> tuple[str, ...]:
        """Return the step or steps that tell a group."""
        seam = group.seams[0]
        if seam.hangs:
            return (_layered(self, group),)
        tell = _KINDS.get(seam.kind, _plain)
        return tell(self, group)

    def length(self, millimetres: float) -> str:
        """Show a length in the maker's unit; an empty text for what isn't worth telling or rounds to nothing."""
        shown = show_length(abs(millimetres), self.unit)
        return "" if abs(millimetres) < WORTH_TELLING or not any(c in "123456789" for c in shown) else shown

    def eased(self, seam: Seam, what: str = "") -> str:
        """Tell what a seam takes up by ease or gathers: ", easing 0.40 cm of the back in"; empty if nothing."""
        ply = max(range(1, len(seam.ease)), key=lambda i: abs(seam.ease[i]), default=0)
        ease = seam.ease[ply]
        shown = self.length(ease)
        if not shown:
            return ""
        longer, shorter = (ply, 0) if ease > 0.0 else (0, ply)
        runs = seam.plies
        much = abs(ease) > GATHERED * self.garment.run_length(runs[shorter])
        of = what or self.called(runs[longer][0], runs[shorter][0])
        return f", {'gathering' if much else 'easing'} {shown} of the {of} in"

    def called(self, use: Use, other: Use) -> str:
        """Name a piece shortly beside another: by its face where they differ in that."""
        one, two = self.garment.line(use).face, self.garment.line(other).face
        return str(one) if one and one is not two else self.garment.piece(use.piece).title.lower().split(",")[0]

    def closed(self, run: Run) -> bool:
        """Whether a run goes right round."""
        return same_corner(self.garment)(run[-1], run[0])

    def pressed(self, knit: str) -> str:
        """Tell how a plain seam is pressed."""
        return f"press it {knit}" if self.knit else "press it open"

    def stitch(self, seam: Seam) -> str:
        """Tell the stitch where it isn't the garment's usual one."""
        if seam.stitch == self.usual or seam.kind in (*CLOSING, "dart"):
            return ""
        words = {"301": "by lockstitch (301)", "514": "by overlock (514) or zigzag (304)"}
        return f", {words.get(seam.stitch, f'by stitch {seam.stitch} of ISO 4915')}"

    def zipped(self) -> bool:
        """Whether a zip closes the garment."""
        return any(seam.kind == "closure" for seam in self.garment.seams)


def _titled(group: Group, told: Telling) -> str:
    """The step's title in sewing words, and the stitch if that is another."""
    name, *rest = group.title.split(", ")
    words = name.lower().split()
    side = words[0] if len(words) > 1 and words[0] in ("left", "right") else ""
    stem = " ".join(words[1:]) if side else name.lower()
    known = _TITLES.get(stem, "")
    title = f"{side} {known}".strip() if known else name
    return capital(", ".join((title, *rest))) + told.stitch(group.seams[0])


def _plain(told: Telling, group: Group) -> tuple[str, ...]:
    seam = group.seams[0]
    return (f"{_titled(group, told)}{told.eased(seam)}; {told.pressed('to one side')}.",)


def _shoulder(told: Telling, group: Group) -> tuple[str, ...]:
    seam = group.seams[0]
    pieces = [(told.garment.piece(use.piece), use.line) for use in seam.uses()]
    taped = ", the stay caught in it" if any(z.line == line for piece, line in pieces for z in piece.zones) else ""
    return (f"{_titled(group, told)}{told.eased(seam)}{taped}; {told.pressed('towards the back')}.",)


def _side(told: Telling, group: Group) -> tuple[str, ...]:
    seam = group.seams[0]
    roles = [told.garment.line(run[0]).role for run in (s.plies[0] for s in seam.sections) if run]
    through = Role.UNDERARM in roles and Role.SIDE in roles
    how = ", in one go to the wrist, armhole seams meeting" if through else ""
    opened = ", leaving the opening" + (" of the zip" if told.zipped() else "")
    opened = opened if _meets_closure(told, seam) else ""
    return (f"{_titled(group, told)}{how}{opened}{told.eased(seam)}; {told.pressed('towards the back')}.",)


def _style(told: Telling, group: Group) -> tuple[str, ...]:
    seam = group.seams[0]
    if is_centre(told.garment, seam):
        below = f", below the {'zip' if told.zipped() else 'opening'}" if _meets_closure(told, seam) else ""
        return (f"{_titled(group, told)}{below}; {told.pressed('to one side')}.",)
    run = seam.plies[0]
    a, b = told.garment.path(run[0]).start, told.garment.path(run[-1]).end
    across = abs(a.x - b.x) > abs(a.y - b.y)
    press = "press it up" if across else told.pressed("towards the centre")
    bends = not all(told.garment.path(use).is_straight for use in run)
    clip = "" if told.knit or not bends else "clip hollow curves, notch round ones, "
    return (f"{_titled(group, told)}, notches matched{told.eased(seam)}; {clip}{press}.",)


def _meets_closure(told: Telling, seam: Seam) -> bool:
    """Whether a seam runs on where a closure ends."""
    parts = {use.line.rpartition("/")[0] for use in seam.uses()}
    ends = {use.line.rpartition("/")[0] for s in told.garment.seams if s.kind in CLOSING for use in s.uses()}
    return bool((parts - {""}) & ends)


def _darts(told: Telling, group: Group) -> tuple[str, ...]:
    """All darts that are sewn one after the other, by where they are pressed to."""
    ways: dict[str, dict[str, None]] = {}
    for seam in group.seams:
        words = [
            w
            for w in seam.title.lower().split()
            if w not in ("left", "right", "second", "dart", "dart,") and not w.isdigit()
        ]
        ways.setdefault(_pressed_to(told.garment, seam), {})[" ".join(words).strip(", ")] = None
    names = "; ".join(f"{and_(tuple(found))} (press {way})" for way, found in ways.items())
    two = any(len(seam.sections) > 1 for seam in group.seams)
    ends = "; those with two points from the middle out to each, clipped at the waist" if two else ""
    return (f"Darts, from the wide end to the point, threads knotted there{ends}: {names}.",)


def _pressed_to(garment: Garment, seam: Seam) -> str:
    """Upright darts are pressed towards the centre, level ones down."""
    leg = garment.path(seam.sections[0].plies[0][0])
    return "down" if abs(leg.start.x - leg.end.x) > abs(leg.start.y - leg.end.y) else "towards the centre"


def _armhole(told: Telling, group: Group) -> tuple[str, ...]:
    seam = group.seams[0]
    eased = told.eased(seam, "cap")
    marks = "notches (one in front, two behind) and shoulder matched"
    if not any(told.kinds[name] == "side" for name in told.before.get(seam.name, ())):
        return (f"{_titled(group, told)}, set in flat: ends, {marks}{eased}; press it towards the sleeve.",)
    rows = "two rows of long stitches over the cap between the notches; " if eased else ""
    return (
        f"{_titled(group, told)}, set in round: {rows}underarm, {marks}{eased}{', without tucks' if eased else ''}; "
        "sew with the sleeve on top; press it into the sleeve.",
    )


def _waist(told: Telling, group: Group) -> tuple[str, ...]:
    seam = group.seams[0]
    eased = told.eased(seam, "skirt" if seam.ease[1] > 0.0 else "bodice")
    match = ("centres", "sides", "darts") if "dart" in told.kinds.values() else ("centres", "sides")
    return (f"{_titled(group, told)}, bodice to skirt: {and_(match)} matched{eased}; press it up.",)


def _closure(told: Telling, group: Group) -> tuple[str, ...]:
    seam = group.seams[0]
    what, _, place = seam.title.split(",")[0].rpartition(" at the ")
    where = "at the centre back" if place == "back" else f"in the {place} side seam"
    length = show_length(told.garment.run_length(seam.plies[0]), told.unit)
    if seam.kind == "button-closure":
        return (f"Opening {where}, {length}: interface both stands. Fold the stand in half onto its wrong side, press "
                "and stitch it.",)  # fmt: skip
    top = told.garment.line(seam.plies[0][0]).opening
    at = (
        f"its stop just below the {top}'s stitch line" if top in ("neck", "waist") else "its ends at the opening's ends"
    )
    return (
        f"{capital(what)} {where}, {length} long: neaten both edges, press them under along the stitch lines, pin the "
        f"zip behind them, {at}; stitch both sides, from below up, with a zip foot.",
    )


def _layered(told: Telling, group: Group) -> str:
    """A seam that takes in another layer: which lies on which, right side up or down."""
    seam = group.seams[0]
    title = _titled(group, told)
    if seam.kind == "side":
        return (
            f"{title}: lay each overlay on its own main piece, both right side up, edges level; then back on front, "
            "right sides together. Sew all layers; past the overlay's hem the main pieces alone. "
            f"{capital(told.pressed('towards the back'))}."
        )
    return (
        f"{title}: lowest the main piece, right side up; on it the overlay, right side up; on top the shoulder piece, "
        "right side down. Round the covered neck main piece and overlay alone. Sew in one go, clip into both V points, "
        "press the diagonal down; neaten the covered neck's two edges as one, turn them in and topstitch."
    )


_KINDS: Mapping[str, Callable[[Telling, Group], tuple[str, ...]]] = {
    "dart": _darts,
    "shoulder": _shoulder,
    "side": _side,
    "style": _style,
    "armhole": _armhole,
    "waist": _waist,
    "closure": _closure,
    "button-closure": _closure,
    "neck": banding.band,
    "band": banding.band,
    "cuff": banding.band,
    "hem-band": banding.band,
    "binding": banding.binding,
    "facing": banding.facing,
    "waistband": banding.waistband,
}
