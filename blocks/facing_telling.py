"""How a facing of one opening is told: made ready, sewn to its edge, turned in (common practice)."""

from __future__ import annotations

from collections import Counter

from blocks.facing_words import UNDERSTITCHING, turn_points
from drafting.garment import Deed, Face, Group, Role, Seam, Side, Telling, Told, does, instruct, same_corner
from drafting.garment.deeds import ENCLOSED, ENDS_ENCLOSED, STRIP_NEATENED, Handling
from drafting.redraw.closing import find_stands
from drafting.saying import without_sides
from drafting.work.kinds import DART, ENDS, SIDE
from drafting.work.telling import and_, capital, goes_round, is_zipped


def tell_facing(told: Telling, group: Group) -> Told:
    """Tell a facing: made ready, sewn on, clipped, understitched, caught down."""
    seam = group.seams[0]
    title = capital(group.title)
    ring = goes_round(told, seam.plies[0])
    stands = find_stands(told.garment, seam)
    join = _join_words(told, group)
    pressed = ("Press the seams open.",) if join else ()
    left = () if ring else (f"Leave the ends at {_closure_words(told, seam)} open.",)
    ready = (
        "Fuse interfacing to its wrong side.",
        *join,
        *pressed,
        *left,
        does("Neaten its outer edge.", STRIP_NEATENED),
    )
    sewn = (
        "Pin the facing to the edge, right sides together, seams matched.",
        f"The broken line at each of its ends lies on {_closure_words(told, seam)}." if stands else "",
        does(_STAND_OVER, Handling.STAND_OVER) if stands else "",
        *turn_points(told, seam),
        *(() if ring else (_FROM_FOLDS,) if stands else _BEYOND),
        "Trim the allowance and clip the curve.",
        f"Press the allowance onto the facing and understitch it there{', between the stands' if stands else ''}: "
        f"{UNDERSTITCHING}.",
        does("Turn the facing in, press, and catch it to the seam allowances.", ENCLOSED),
        "" if ring else _close_ends(told, bool(stands)),
    )
    return Told((instruct(f"{title}, made ready", *ready), instruct(f"{title}, sewn on", *sewn)))


_STAND_OVER = "Fold each stand right sides together along its fold line, over the facing's end, and pin it."
_FROM_FOLDS = "Begin and end at the folds, through the stands too: they are turned in with the facing."
_BEYOND = (
    "Begin and end at the edges of the opening, where they are folded.",
    "Leave what the facing's ends have beyond them, their allowance, free.",
)
"""How a facing is sewn on between stands for buttons, and beside another opening."""


def _close_ends(told: Telling, stands: bool) -> Deed:
    """How a facing's ends beside an opening are closed: beneath the stands, or turned under."""
    if stands:
        return does("Sew each stand's neatened edge to the facing by hand.", ENDS_ENCLOSED)
    onto = "to the zip's tapes" if is_zipped(told) else "down"
    clear = "the zip's teeth" if is_zipped(told) else "what closes that"
    under = f"Turn its ends under beside the opening, clear of {clear}, and sew them {onto} by hand."
    return does(under, ENDS_ENCLOSED)


def _join_words(told: Telling, group: Group) -> tuple[str, ...]:
    """Which facings are sewn to each other, and where: at the seams of the garment that the faced edge crosses."""
    if not group.ready:
        return ()
    seam = group.seams[0]
    crossed = sorted(map(told.garment.seam, told.before.get(seam.name, ())), key=lambda one: one.kind.turn)
    at = Counter(_place_words(told, seam, one) for one in crossed if one.kind not in (ENDS, DART))
    where = and_([f"the {title}{'s' * (count > 1)}" for title, count in at.items()])
    return (f"Sew {_facings_words(told, group)}{where and ' at '}{where}, right sides together.",)


def _place_words(told: Telling, faced: Seam, seam: Seam) -> str:
    """Where an edge crosses a seam of the garment: "shoulder"; the side seam at the top, in an armhole, is underarm."""
    if seam.kind is SIDE:
        return "side seam" if told.garment.line(faced.plies[0][0]).role is Role.HEM else "underarm"
    return str(without_sides(seam.title)).lower()


def _facings_words(told: Telling, group: Group) -> str:
    """The facings that are joined: "the front facing to the back facings", or "the facings to each other"."""
    sections = group.seams[0].sections
    faces = {section.plies[1][0].piece: told.garment.line(section.plies[0][0]).face for section in sections}
    joined = [tuple(faces.get(run[0].piece) for run in one.plies) for one in group.ready if one.plies]
    if any(one is two for one, two in joined):
        return "the facings to each other"
    front, back = (f"{face} facing{'s' * (list(faces.values()).count(face) > 1)}" for face in (Face.FRONT, Face.BACK))
    return f"the {front} to the {back}"


def _closure_words(told: Telling, seam: Seam) -> str:
    """Where the opening is beside which a facing ends: "the centre back"; "the opening" where that can't be told."""
    meets, run = same_corner(told.garment), seam.plies[0]
    ends = run[-1], run[0].reversed
    for closure in told.garment.closures:
        edges = (told.garment.seam(name).plies[0] for name in closure.seams)
        if any(meets(end, tip) for edge in edges for tip in (edge[0], edge[-1].reversed) for end in ends):
            return (
                f"the {closure.place} side seam" if isinstance(closure.place, Side) else f"the centre {closure.place}"
            )
    return "the opening"
