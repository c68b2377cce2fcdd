"""What may stand in a ticket beside options and measurements: the keys of cloth, seams and paper, told like options."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Final

from drafting.cloth.cloth import CLOTH_LIMITS
from drafting.cloth.colour import NO_COLOUR, TINTS
from drafting.errors import InputError, Problem
from drafting.garment import SeamKind
from drafting.garment.step import OptionInfo
from drafting.saying import cm, say
from drafting.text import show_read
from drafting.ticket.printer import square_keys

_I = OptionInfo

FIT: Final = _I(
    "fit",
    "How near the garment lies to the body.",
    "choice",
    "semi-fitted",
    choices=("close", "semi-fitted", "relaxed"),
)
"""The key ``fit`` at the top of a ticket."""

_LEAST = {figure: float(least) for figure, ((least, _), _) in CLOTH_LIMITS.items()}
_MOST = {figure: float(most) for figure, ((_, most), _) in CLOTH_LIMITS.items()}

CLOTH_KEYS: Final[tuple[OptionInfo, ...]] = (
    _I("name", "What the cloth is called, as it is printed on the pieces.", "text", "cloth"),
    _I("kind", "How the cloth is made.", "choice", "knit", choices=("knit", "woven")),
    _I(
        "stretch_across",
        "Stretch from selvedge to selvedge: 10 cm that stretch to 13 cm: 30 %. A knit must state it; by rule a "
        "woven has none.",
        "ratio",
        None,
        low=_LEAST["stretch_across"],
        high=_MOST["stretch_across"],
    ),
    _I(
        "stretch_along",
        "Stretch along the length, measured the same way.",
        "ratio",
        0.0,
        low=_LEAST["stretch_along"],
        high=_MOST["stretch_along"],
    ),
    _I(
        "stretch_bias",
        "Stretch on the true bias, for pieces laid so under [grain]. Left out, a knit is taken to stretch there by the "
        "mean of both ways, a woven by 12 % or more.",
        "ratio",
        None,
        low=_LEAST["stretch_bias"],
        high=_MOST["stretch_bias"],
    ),
    _I(
        "recovery",
        "How well it comes back: 100 % if it returns to its length, 95 % if it stays 5 % longer.",
        "ratio",
        0.95,
        low=_LEAST["recovery"],
        high=_MOST["recovery"],
    ),
    _I("elastane", "Whether it holds elastane; leave it out if that isn't known.", "flag", None),
    _I(
        "width",
        "Width between the selvedges; the proof warns of a piece that is wider.",
        "length",
        1500.0,
        low=_LEAST["width"],
        high=_MOST["width"],
    ),
    _I(
        "sides_alike",
        "Whether either side may be the right one; the proof then says what to mind.",
        "flag",
        False,
    ),
    _I(
        "colour",
        "What it is drawn in, paler than it is, on the flat and on the cutting plan.",
        "choice",
        NO_COLOUR,
        choices=(NO_COLOUR, *TINTS),
    ),
    _I("nap", "Whether all pieces must point the same way; noted on the start page.", "flag", False),
    _I(
        "shades",
        "Whether it looks lighter one way up than the other. By rule knits do; of one that doesn't, and of a plain "
        "woven, pieces may lie upside down.",
        "flag",
        None,
    ),
    _I(
        "length",
        "How much there is of it, where it is bought already; the cutting plan says whether that is enough.",
        "length",
        None,
        low=_LEAST["length"],
        high=_MOST["length"],
    ),
    _I(
        "shrink_across",
        "Shrinkage across, in the wash. Leave it out if you wash before cutting.",
        "ratio",
        0.0,
        low=_LEAST["shrink_across"],
        high=_MOST["shrink_across"],
    ),
    _I(
        "shrink_along",
        "Shrinkage along, in the wash; as across.",
        "ratio",
        0.0,
        low=_LEAST["shrink_along"],
        high=_MOST["shrink_along"],
    ),
    _I(
        "cut_unwashed",
        "Whether it is cut as it is bought: the pattern is then drawn larger by what the wash takes.",
        "flag",
        False,
    ),
    _I("thickness", "Thickness of one layer.", "length", 0.8, low=_LEAST["thickness"], high=_MOST["thickness"]),
)
"""The keys of ``[cloth]`` and of each ``[cloths.NAME]``, without the table ``stripe``."""

STRIPE_KEYS: Final[tuple[OptionInfo, ...]] = (
    _I("repeat", "From one stripe to the next of its kind.", "length", None, low=1.0, high=2000.0, needed=True),
    _I(
        "direction",
        "Which way the stripes run; a check has both.",
        "choice",
        "across",
        choices=("across", "along", "check"),
    ),
    _I(
        "repeat_along",
        "Of a check: from one line along the cloth to the next of its kind; by rule as repeat.",
        "length",
        None,
        low=1.0,
        high=2000.0,
    ),
    _I("uneven", "Whether the order of colours differs from one way to the other.", "flag", False),
)
"""The keys of ``[cloth.stripe]``."""

FLAW_KEYS: Final[tuple[OptionInfo, ...]] = (
    _I(
        "left",
        "From the left selvedge to it, the cloth lying right side up.",
        "length",
        None,
        low=0.0,
        high=_MOST["width"],
        needed=True,
    ),
    _I("end", "From the cut end to it.", "length", None, low=0.0, high=_MOST["length"], needed=True),
    _I("width", "How far it reaches across.", "length", 20.0, low=1.0, high=_MOST["width"]),
    _I("length", "How far it reaches along.", "length", 20.0, low=1.0, high=_MOST["length"]),
)
"""The keys of ``[cloth.flaws.NAME]``."""

LARGEST_ALLOWANCE: Final = 60.0

SEAM_KEYS: Final[tuple[OptionInfo, ...]] = (
    _I("all", "Allowance of every seam not named here.", "length", 10.0, low=0.0, high=LARGEST_ALLOWANCE),
    _I(
        "hem_depth",
        say("How deep a turned hem is folded up; by rule {knit}, in a woven {woven}.", knit=cm(2.5), woven=cm(3.5)),
        "length",
        None,
        low=0.0,
        high=150.0,
    ),
    _I("on_fold", "Whether a piece that mirrors onto itself is printed as a half, cut on the fold.", "flag", True),
)
"""The keys of ``[seams]``, without those of the kinds of seam."""


def unite_kinds(kinds: Iterable[SeamKind]) -> tuple[SeamKind, ...]:
    """Return each kind once; InputError where its name is another key's, or two of one name aren't one kind.

    A kind told in another way, ``replace(SIDE, tell=…)``, is the same: one of other words or allowance is another.
    """
    found: dict[str, SeamKind] = {}
    for kind in kinds:
        first = found.setdefault(kind.name, kind)
        if kind.name in {key.name for key in SEAM_KEYS}:
            raise _misnamed_kind(
                f"the kind of {kind.words} is called {show_read(kind.name)}, which is a key of [seams]"
            )
        if (first.words, first.allowance) != (kind.words, kind.allowance):
            one, two = (f"{each.words} ({_allowance_words(each)})" for each in (first, kind))
            raise _misnamed_kind(f"two kinds of seam are called {show_read(kind.name)}: {one} and {two}")
    return tuple(found.values())


def _allowance_words(kind: SeamKind) -> str:
    return "the allowance of every seam" if kind.allowance is None else f"an allowance of {kind.allowance:g} mm"


def _misnamed_kind(read: str) -> InputError:
    return InputError([Problem("what is installed", read, "", "the maker of its package must give it another name")])


def seam_keys(kinds: Iterable[SeamKind]) -> tuple[OptionInfo, ...]:
    """Return the keys of ``[seams]`` with one for the allowance of each kind, in the order they are usually sewn in.

    InputError where two kinds, or a kind and another key, would have one key.
    """
    found = {kind.name: kind for kind in sorted(unite_kinds(kinds), key=lambda kind: (kind.turn, kind.name))}
    allowances = (
        _I(name, _tell_allowance(kind), "length", kind.allowance, low=0.0, high=LARGEST_ALLOWANCE)
        for name, kind in found.items()
    )
    return (SEAM_KEYS[0], *allowances, *SEAM_KEYS[1:])


def _tell_allowance(kind: SeamKind) -> str:
    return f"Allowance of {kind.words}{'' if kind.allowance else '; by rule that of all'}."


PAPER_KEYS: Final[tuple[OptionInfo, ...]] = (
    _I("size", 'The paper in the printer: a name, or a size such as "60 x 90 cm".', "text", "A4"),
    _I(
        "orientation",
        "How the pages are held.",
        "choice",
        "either",
        choices=("portrait", "landscape", "either"),
    ),
    _I("margin", "What the printer can't reach at each edge.", "length", 6.5, low=0.0, high=50.0),
    _I(
        "join",
        "How two pages meet: edge to edge, or one lying over the next.",
        "choice",
        "butt",
        choices=("butt", "overlap"),
    ),
    _I("overlap", "How far one page lies over the next, where they overlap.", "length", 10.0, low=3.0, high=40.0),
    *square_keys(),
    _I("gap", "The space kept between pieces.", "length", 4.0, low=1.0, high=50.0),
    _I(
        "projector",
        "Whether projector.pdf is made, for a projector or a screen: light lines on dark, or dark on light.",
        "choice",
        "none",
        choices=("none", "light-on-dark", "dark-on-light"),
    ),
    _I(
        "copy_shop",
        'What a copy shop prints sheet.pdf on: A0 or A1, the width of its roll ("90 cm", "36 in"), or a size.',
        "text",
        "",
    ),
)
"""The keys of ``[paper]``."""
