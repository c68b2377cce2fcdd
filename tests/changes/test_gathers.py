"""Gathers: an edge longer than what it is sewn to, by what the seam says."""

from __future__ import annotations

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from blocks.bodice import draft_knit_bodice
from drafting.changes.design.gathers import let_in_gathers
from drafting.changes.design.mirror import mirror_whole
from drafting.changes.design.style_line import draw_style_line
from drafting.errors import CannotDraft
from drafting.garment import Garment, Role, Side, Use
from drafting.garment.places import gathered_length
from drafting.proof.proof import prove
from drafting.saying import render
from drafting.units import show_length
from drafting.work import make_up
from drafting.work.sewing import steps_of_work
from drafting.work.taping import find_tapes
from tests.garments import BODY, SINGERS, TOP, Planned, brief, build

LAW = settings(max_examples=10, derandomize=True, deadline=None)
YOKE: Planned = (draw_style_line, {})
PANELS: Planned = (
    draw_style_line,
    {"start": "shoulder 0.5", "end": "hem 0.5", "start_side": "both", "end_side": "same", "name": "panel"},
)


def full(options: dict[str, Any], voice: str = "soprano", plan: tuple[Planned, ...] = BODY) -> Garment:
    """A top with a yoke, gathered below it."""
    return build(brief(voice), plan, [YOKE, (let_in_gathers, options)])


@pytest.mark.parametrize("voice", SINGERS)
@pytest.mark.parametrize("way", ["through", "away"])
def test_a_gathered_top_is_proved(way: str, voice: str) -> None:
    """The seam states its ease, the levels what they gained."""
    garment = full({"by": 100.0, "way": way, "on": "both"}, voice, TOP)
    assert prove(garment, brief(voice)).passed


def test_a_gathered_neckline_is_stayed_once_it_is_gathered_and_its_band_is_stretched_by_no_gathers() -> None:
    """Its stay is as long as without the fullness; so is what the band is stretched by; told in the maker's unit."""
    made = build(brief(), TOP, [(let_in_gathers, {"at": "neckline", "by": 40.0, "on": "back"})])
    by = -made.seam("neck-band").ease[-1] - 40.0
    stay = sum(length for title, _, _, role, length in find_tapes(made) if (title, role) == ("back", "neckline"))
    steps = [str(step) for step in steps_of_work(make_up(made), made, "mm")]
    assert f"Back (neckline): only once it is gathered, cut {show_length(stay, 'mm')} long." in steps[0]
    back = sum(line.path.length for line in made.piece("back").lines(role=Role.NECKLINE))
    assert stay == pytest.approx(back - 40.0, abs=0.01)
    assert any(f"stretching the band (by {show_length(by, 'mm')} altogether)" in step for step in steps)


def test_a_stay_along_gathers_never_keeps_the_head_out() -> None:
    """What passes only ungathered isn't taped all round, and a tape's gathers are no length to pass through."""
    plain, made = (
        build(brief(), TOP, [(let_in_gathers, {"at": "neckline", "by": 80.0, "on": face})] if face else [])
        for face in ("", "front")
    )
    taped = [{(title, role) for title, _, _, role, _ in find_tapes(garment)} for garment in (plain, made)]
    assert taped[0] == taped[1]
    back = build(brief(), TOP, [(let_in_gathers, {"at": "neckline", "by": 40.0, "on": "back"})])
    lengths = [
        next(
            row.length
            for row in prove(each, brief()).openings
            if (row.opening, row.edge) == ("neck", "its band's seam")
        )
        for each in (plain, back)
    ]
    assert lengths[1] == pytest.approx(lengths[0], abs=0.01)


@LAW
@given(st.floats(10.0, 250.0), st.sampled_from(["through", "away"]))
def test_the_seam_states_what_was_let_in(by: float, way: str) -> None:
    """The lower edge is longer by just that; the yoke is as it was; the seam's ease is what its plies measure."""
    plain, made = build(brief(), BODY, [YOKE]), full({"by": by, "way": way})
    seam = made.seam("yoke-front")
    lengths = {run[0].piece: made.run_length(run) for run in seam.plies}
    assert lengths["front"] - lengths["front-yoke"] == pytest.approx(by, abs=2e-3)
    assert made.run_length(seam.plies[1]) - made.run_length(seam.plies[0]) == pytest.approx(seam.ease[1], abs=1e-9)
    assert made.piece("front-yoke").outline.same_as(plain.piece("front-yoke").outline, 1e-6)
    eases = [abs(section.ease[1] - section.ease[0]) for section in seam.sections]
    assert eases == pytest.approx([0.0, by, 0.0], abs=2e-3)  # matched where the gathers start and end
    assert any(str(note).endswith("between the notches") for note in made.piece("front").notes)
    for line in plain.piece("front").ring:
        if line.role in (Role.SIDE, Role.ARMHOLE):
            assert made.piece("front").line(line.name).path.length == pytest.approx(line.path.length, abs=1e-9)


def test_fullness_runs_down_to_the_hem_or_dies_away() -> None:
    """Through: the hem gains it all. Away: the hem keeps its length."""
    plain = build(brief(), BODY, [YOKE])

    def hem(garment: Garment) -> float:
        return sum(line.path.length for line in garment.piece("front").lines(role=Role.HEM))

    assert hem(full({"by": 100.0, "way": "through"})) - hem(plain) == pytest.approx(100.0, abs=0.01)
    assert hem(full({"by": 100.0, "way": "away"})) == pytest.approx(hem(plain), abs=1e-6)


def test_gathers_on_both_sides_of_a_panel_seam() -> None:
    """Of the two plies of a style line the lower piece's is gathered, and its mirror image alike: still one garment."""
    made = build(brief(), TOP, [PANELS, (let_in_gathers, {"at": "panel-left", "by": 40.0, "way": "away"})])
    seam = made.seam("panel-left-front")
    assert abs(seam.ease[1]) == pytest.approx(40.0, abs=2e-3)


def test_a_gathered_neckline_says_to_what_it_is_gathered() -> None:
    """An edge that isn't sewn yet: what is drafted onto it later reads how much of it is gathers."""
    plain = build(brief(), BODY)
    made = build(brief(), BODY, [(let_in_gathers, {"at": "neckline", "by": 60.0, "way": "away"})])
    run = tuple(Use("front", f"neckline-{side}") for side in ("left", "right"))
    assert made.run_length(run) - plain.run_length(run) == pytest.approx(60.0, abs=2e-3)
    assert gathered_length(made, run) == pytest.approx(60.0, abs=2e-3)
    assert gathered_length(made, (Use("back", "neckline-left"),)) == 0.0
    assert prove(made, brief()).passed


def test_a_gathered_narrow_v_neck_leaves_the_armholes_alone() -> None:
    """However steep its sides are, a neckline is slashed down to the hem, not across into the armholes."""
    plan = ((draft_knit_bodice, {"front_neck": "v", "front_depth": 160.0}), *TOP[1:])
    plain, made = (
        build(brief("alto"), plan, extra) for extra in ((), [(let_in_gathers, {"at": "neckline", "by": 60.0})])
    )
    for side in ("left", "right"):
        was, now = (garment.piece("front").line(f"armhole-{side}").path.length for garment in (plain, made))
        assert now == pytest.approx(was, abs=1e-6)


def test_what_is_gathered_twice_adds_up() -> None:
    """What is drafted onto the neckline is as long as without gathers, however often they were let in."""
    once = (let_in_gathers, {"at": "neckline", "by": 40.0, "way": "away"})
    plain, made = build(brief(), BODY), build(brief(), BODY, [once, once])
    run = tuple(Use("front", f"neckline-{side}") for side in ("left", "right"))
    assert gathered_length(made, run) == pytest.approx(80.0, abs=4e-3)
    assert made.run_length(run) - gathered_length(made, run) == pytest.approx(plain.run_length(run), abs=4e-3)
    told = {render(note, "mm") for note in made.piece("front").notes}
    assert len(told) == 1 + len(plain.piece("front").notes)


def test_a_mirrored_garment_is_gathered_as_much() -> None:
    """Gathers near one end of the neckline: in the image they are near the other, and bands are drafted as long."""
    made = build(
        brief(), BODY, [(let_in_gathers, {"at": "neckline", "by": 60.0, "way": "away", "start": 0.1, "end": 0.6})]
    )
    image = mirror_whole(made)
    along = {side: (Use("front", f"neckline-{side}"),) for side in (Side.LEFT, Side.RIGHT)}
    drawn = {side: gathered_length(made, run) for side, run in along.items()}
    assert sum(drawn.values()) == pytest.approx(60.0, abs=4e-3)
    assert {side.other: gathered_length(image, run) for side, run in along.items()} == drawn
    assert mirror_whole(image) == made


@pytest.mark.parametrize(
    ("options", "says"),
    [
        ({"at": "ruffle"}, "has no “ruffle”"),
        ({"by": 1200.0}, "can't be gathered into"),
        ({"at": "neckline", "by": 560.0, "way": "away", "on": "front"}, "swing the front round"),
        ({"start": 0.5, "end": 0.5}, "end where they start"),
    ],
)
def test_refusals(options: dict[str, Any], says: str) -> None:
    """In a sentence."""
    with pytest.raises(CannotDraft, match=says):
        build(brief(), BODY, [(let_in_gathers, options)]) if options.get("at") == "neckline" else full(options)
