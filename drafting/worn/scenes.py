"""What is painted of a drape: the body with the garment in its colour, and a map of how far its cloth is stretched."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from types import MappingProxyType
from typing import Final

import numpy as np

from drafting.cloth import Cloth
from drafting.garment.laying import Striped, way_of_stripes
from drafting.record import dataclass
from drafting.worn.cloth import FULL_PULL, stiffness_of
from drafting.worn.doubtful import WITHIN_FORM, find_doubtful, measure_within
from drafting.worn.dressing import Worn
from drafting.worn.fastenings import find_fastenings, lapped_edges
from drafting.worn.figures import MEAN_OFF, take_strains
from drafting.worn.form import POLE_SHOWN, Form, make_form
from drafting.worn.letters import TALL, measure_words, write_words
from drafting.worn.outlines import outline_views
from drafting.worn.picture import PAPER, VIEWS, Dots, Scene, mean_normals, paint_views
from drafting.worn.shape import METRE, Floats
from drafting.worn.smoothing import smooth_over
from drafting.worn.soundness import edges_of

FORM: Final = (0.93, 0.93, 0.92)
"""What the dress form is painted in."""
_BUTTON: Final = (0.98, 0.98, 0.98)
"""What buttons are painted in."""
_PLAIN: Final = (0.76, 0.76, 0.76)
"""What cloth of no stated colour is painted in."""
_DEEPER: Final = 0.8
"""Tints are for drawings on paper: on a form they are painted so much deeper."""
BANDS: Final = tuple((grey, grey, grey) for grey in (0.97, 0.84, 0.69, 0.53, 0.36, 0.0))
"""Greys for each fifth of the stretch that the cloth has, and black for more than it has."""
_NAMED: Final = ("0", "20 %", "40 %", "60 %", "80 %", "100 %")
"""What stands where each of the bands begins."""
_MORE: Final = "more"
_BEHIND: Final = 12.0
"""mm that the form is painted farther away, so that cloth that lies on it hides it though its triangles are flat."""
_SPANNED: Final = 30.0
"""mm that it is so below the waist, where it is what a tape feels that spans hollows."""
_BENEATH: Final = 24.0
"""mm that what an overlay hangs over is painted farther away."""
_THINNER: Final = 3.0
"""mm that the form is thinner in a model to be turned, for the same."""
_TALL: Final = 640
"""Dots to a metre of height."""
SMALL_DOTS: Final = 340
"""Dots to a metre in a small picture, as a booklet or a list of designs shows it."""
_ROOM: Final = 55.0
"""mm above the nape that are shown."""
_WIDE: Final = 560.0
"""mm that each view shows from side to side, or as much as the garment is wide."""
_AROUND: Final = 40.0
"""mm of paper on either side of a garment."""
_HALF_TURN: Final = 180.0
_GAP: Final = 10
"""Dots between things in the picture, beside which words stand."""
_FINEST: Final = 6.0
"""mm of a stripe's repeat that is painted: a finer one has no dots enough."""
_BOX: Final = 90
"""Dots wide is each band of the scale."""
Window = tuple[float, float, float]
"""From which height to which something is shown, and how wide a view is (mm)."""
LOOK: Final = "as it looks"
STRAIN: Final = "how far it is stretched across, as a share of the stretch that its cloth has"
_HATCHED: Final = " (hatched: nothing is told there)"
VOID: Final = "VOID"
_JUST_BELOW: Final = 0.001
"""Of a band's width by which what isn't surely beyond what the cloth has lies in the band below."""
_NO_BAND: Final = -1000.0
"""The band of points that are hatched: so far below the others that no grey goes over into theirs."""
_HATCH: Final = 14.0
"""mm from line to line of what is hatched."""
_WHITE: Final = 0.97
"""Of white each part of a tint has at least that is painted as it is."""


def paint_worn(
    worn: Worn, cloths: Mapping[str, Cloth], striped: Striped = MappingProxyType({}), *, void: bool = False
) -> Dots:
    """Return the picture: a row of views as the garment looks, a row as it is stretched, and the scale to that.

    ``striped`` tells how stripes lie on its pieces, as it does for a flat. One of a ``void`` drape is marked so.
    """
    return paint_beside({"": Draped(worn, cloths, striped, void)})


@dataclass(frozen=True, slots=True, eq=False)
class Draped:
    """A drape with the cloths of its garment, how stripes lie on its pieces, and whether it is void."""

    worn: Worn
    cloths: Mapping[str, Cloth]
    striped: Striped
    void: bool = False


def paint_beside(drapes: Mapping[str, Draped], fine: int | None = None) -> Dots:
    """Return one picture of some drapes, all as large: how each looks, then how each is stretched, each named.

    So many dots are ``fine`` to a metre; if none are named, as a whole page shows it.
    """
    fine = _TALL if fine is None else fine
    forms = {name: make_form(each.worn) for name, each in drapes.items()}
    windows = [frame_views(each.worn, forms[name]) for name, each in drapes.items()]
    low, high, wide = min(w[0] for w in windows), max(w[1] for w in windows), max(w[2] for w in windows)
    rows: list[tuple[str, Dots]] = []
    for name, each in drapes.items():
        looks = paint_looks(each.worn, forms[name], each.cloths, each.striped, fine, (low, high, wide))
        _mark_void(looks, each.void)
        rows.append((f"{name}: {LOOK}" if name else LOOK, looks))
    for name, each in drapes.items():
        bands, doubtful = (
            band_strain(each.worn, each.cloths),
            find_doubtful(each.worn) | (measure_within(each.worn) > WITHIN_FORM),
        )
        bands[doubtful] = _NO_BAND
        scene = _set_scene(each.worn, forms[name], np.ones_like(each.worn.points), bands, hatch_cloth(each.worn))
        named = STRAIN + _HATCHED * bool(doubtful.any())
        strains = _paint_row(scene, (low, high, wide), fine)
        _mark_void(strains, each.void)
        rows.append((f"{name}: {named}" if name else named, strains))
    across = rows[0][1].shape[1]
    names = [name_views(each.worn) for each in drapes.values()] * 2
    out = [dots for (words, row), named_views in zip(rows, names, strict=True) for dots in (
        _paint_words(across, [(words, _GAP + measure_words(words) // 2)]), row,
        _paint_words(across, [(name, (2 * i + 1) * across // 8) for i, name in enumerate(named_views)]))]  # fmt: skip
    return np.concatenate([*out, _paint_scale(across)])


def _mark_void(dots: Dots, void: bool) -> None:
    """Write large across each view of a void drape that it is; in place."""
    if void:
        larger = max(1, dots.shape[1] // len(VIEWS) // (2 * measure_words(VOID)))
        for i in range(len(VIEWS)):
            middle = (2 * i + 1) * dots.shape[1] // (2 * len(VIEWS))
            left, top = middle - larger * measure_words(VOID) // 2, (dots.shape[0] - larger * TALL) // 2
            write_words(dots, VOID, top, left, larger)


def paint_looks(
    worn: Worn,
    form: Form,
    cloths: Mapping[str, Cloth],
    striped: Striped = MappingProxyType({}),
    fine: int = SMALL_DOTS,
    window: Window | None = None,
) -> Dots:
    """Return the four views of a garment on its form in its cloths' colours, with their stripes.

    So many dots are ``fine`` to a metre: small, if nothing is said. Shown is what lies in the ``window``, all of it if
    there is none.
    """
    colours, plain = colour_cloth(worn, cloths), np.full(len(worn.points), -1.0)
    scene = _set_scene(worn, form, colours, plain, count_repeats(worn, striped))
    return _paint_row(scene, window or frame_views(worn, form), fine)


def outline_worn(worn: Worn, form: Form) -> tuple[tuple[Floats, ...], ...]:
    """Return the lines of the four views (mm), in what ``frame_views`` shows."""
    scene = _set_scene(worn, form, colour_cloth(worn, {"main": Cloth()}), np.full(len(worn.points), -1.0))
    return outline_views(scene, frame_views(worn, form))


def frame_views(worn: Worn, form: Form) -> Window:
    """Return what of the height is shown, and how wide each view is (mm), so that all of garment and form is seen."""
    x, _, z = np.concatenate([worn.points, form.points[np.unique(form.faces)]]).T
    turns = np.radians(turn_views(worn))
    reach = max(float(np.abs(np.cos(turn) * x - np.sin(turn) * z).max()) for turn in turns)
    low, high = form.bottom - POLE_SHOWN, float(worn.posed.nape[1]) + _ROOM
    return low, high, max(_WIDE, 2.0 * (reach + _AROUND))


def turn_views(worn: Worn) -> tuple[float, ...]:
    """Return the degrees by which a garment is turned in its views: to the side that an overlay hangs over."""
    over = [worn.points[start : start + len(each.flat), 0]
            for each, start in zip(worn.mesh.pieces, worn.mesh.starts, strict=True)
            if worn.laid.layers.get(each.piece.name)]  # fmt: skip
    left = bool(over) and float(np.concatenate(over).mean()) > 0.0
    return tuple(-turn if left and abs(turn) < _HALF_TURN else turn for turn in VIEWS)


def name_views(worn: Worn) -> tuple[str, ...]:
    """Return what the views are called."""
    side = "right" if turn_views(worn) == VIEWS else "left"
    return "from the front", f"from its {side} side", "from behind", "three quarters"


def _paint_row(scene: Scene, window: Window, fine: int) -> Dots:
    low, high, wide = window
    return paint_views(scene, low, high, wide, round(fine * (high - low) / METRE))


def count_repeats(worn: Worn, striped: Striped) -> Floats:
    """Return how many repeats each point lies along the stripes of its piece, shape (n, 2); NaN where there are none.

    What lies at a whole number is on a stripe.
    """
    out = np.full((len(worn.points), 2), np.nan)
    for each, start in zip(worn.mesh.pieces, worn.mesh.starts, strict=True):
        for k, (stripe, shift) in enumerate(striped.get(each.piece.name, ())):
            way = way_of_stripes(each.piece.grain, stripe)
            if stripe.repeat >= _FINEST:
                along = each.flat[:, 0] * way.x + each.flat[:, 1] * way.y
                out[start : start + len(along), k] = (along + shift) / stripe.repeat
    return out


def hatch_cloth(worn: Worn) -> Floats:
    """Return how many lines of a hatching each point lies along its piece, aslant, as ``count_repeats`` does."""
    flat = worn.mesh.flat
    return np.stack([(flat[:, 0] + flat[:, 1]) / _HATCH, np.full(len(flat), np.nan)], axis=1)


def _set_scene(worn: Worn, form: Form, colours: Floats, bands: Floats, repeats: Floats | None = None) -> Scene:
    """The form and the garment; where bands are shown, the form is white."""
    mesh, count, held = worn.mesh, len(form.points), find_fastenings(worn)
    before, buttons = count + len(worn.points), len(held.points)
    rows = np.full((before + buttons, 2), np.nan)
    if repeats is not None:
        rows[count:before] = repeats
    shown = bool((bands >= 0.0).any())
    edges = edges_of(mesh.triangles)
    edges = edges[~np.isin(edges, lapped_edges(worn)).all(axis=1)]
    return Scene(
        np.concatenate([form.points, worn.points, held.points]),
        np.concatenate([form.faces, mesh.triangles + count, held.triangles + before]),
        np.concatenate([np.tile(FORM, (count, 1)), colours, np.tile(_BUTTON, (buttons, 1))]),
        np.concatenate([np.full(count, len(BANDS) if shown else -1.0), bands, np.full(buttons, -1.0)]),
        rows,
        np.array([*BANDS, (1.0, 1.0, 1.0)]),
        np.concatenate([_set_back(worn, form), np.zeros(buttons)]),
        np.concatenate([edges + count, held.lines + before]),
        turn_views(worn),
    )


def _set_back(worn: Worn, form: Form) -> Floats:
    """How much farther away (mm) the points of form and cloth are painted, so that what lies over others hides them.

    Below the waist the form spans hollows that cloth lies in; an overlay sinks into the folds of what it hangs over.
    """
    beneath = _BENEATH if worn.laid.layers else 0.0
    below = form.points[:, 1] < worn.posed.waist
    cloth = [np.full(len(each.flat), 0.0 if each.piece.name in worn.laid.layers else beneath)
             for each in worn.mesh.pieces]  # fmt: skip
    return np.concatenate([np.where(below, _SPANNED, _BEHIND) + beneath, *cloth])


def thin_form(form: Form) -> Floats:
    """Return the points of a form a little thinner, so that cloth that lies on it hides it."""
    out: Floats = form.points - _THINNER * mean_normals(form.points, form.faces)
    return out


def colour_cloth(worn: Worn, cloths: Mapping[str, Cloth]) -> Floats:
    """Return the colour of each point: its cloth's."""
    out = []
    for each in worn.mesh.pieces:
        tint = cloths.get(each.piece.cloth, cloths["main"]).tint
        parts = () if tint is None else tuple(int(tint[i : i + 2], 16) / PAPER for i in (0, 2, 4))
        deeper = 1.0 if min(parts, default=0.0) > _WHITE else _DEEPER
        colour = tuple(deeper * part for part in parts) or _PLAIN
        out.append(np.tile(colour, (len(each.flat), 1)))
    return np.concatenate(out)


def band_strain(worn: Worn, cloths: Mapping[str, Cloth]) -> Floats:
    """Each point's band, by how much of its stretch across the cloth near it gives.

    Black is only what is beyond the stretch that it has by more than the figure may be wrong by; of cloth that has less
    than that, only black is shown.
    """
    triangles, smooth, has = worn.mesh.triangles, smooth_over(worn.mesh, take_strains(worn)[0]), _find_has(worn, cloths)
    last = len(BANDS) - 1
    greys = np.where(has < MEAN_OFF, 0.0, np.minimum(last * smooth / has, last - _JUST_BELOW))
    band = np.where(smooth > has + MEAN_OFF, float(last), greys)
    total, number = np.zeros(len(worn.points)), np.zeros(len(worn.points))
    for i in range(3):
        np.add.at(total, triangles[:, i], band)
        np.add.at(number, triangles[:, i], 1.0)
    return np.asarray(np.clip(total / np.maximum(number, 1.0), 0.0, last))


def _find_has(worn: Worn, cloths: Mapping[str, Cloth]) -> Floats:
    """For each triangle the stretch across that its cloth has: of a stiff cloth, what a hand's pull gives."""
    out = []
    for each in worn.mesh.pieces:
        cloth = cloths.get(each.piece.cloth, cloths["main"])
        out.append(np.full(len(each.triangles), cloth.stretch_across or FULL_PULL / stiffness_of(cloth)[0]))
    return np.concatenate(out)


def _paint_words(wide: int, words: Sequence[tuple[str, int]]) -> Dots:
    """A line of words, each about the middle given."""
    dots = np.full((TALL + _GAP, wide, 3), PAPER, dtype=np.uint8)
    for each, middle in words:
        write_words(dots, each, _GAP // 2, middle - measure_words(each) // 2)
    return dots


def _paint_scale(wide: int) -> Dots:
    """A box in each band's grey, named where it begins; the last is for more than the cloth has."""
    left = (wide - len(BANDS) * _BOX) // 2
    names = _paint_words(wide, [(name, left + _BOX * i) for i, name in enumerate(_NAMED)])
    bar = np.full((3 * _GAP, wide, 3), PAPER, dtype=np.uint8)
    for i, colour in enumerate(BANDS):
        at = left + _BOX * i
        bar[: 2 * _GAP, at : at + _BOX] = 0
        bar[1 : 2 * _GAP - 1, at + 1 : at + _BOX - 1] = np.round(PAPER * np.array(colour))
    write_words(names, _MORE, _GAP // 2, left + _BOX * len(BANDS) - _BOX // 2)
    return np.concatenate([bar, names])
