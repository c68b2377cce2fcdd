"""Yokes: a seam across a skirt or a back near the ends of its darts takes them up."""

from __future__ import annotations

import pytest

from drafting.body import Body, make_body
from drafting.changes.design.style_line import draw_style_line
from drafting.garment import Face, Garment, Role, Side
from drafting.garment.darts import darts_of
from drafting.geometry import Path, count_seen_turns
from drafting.proof.fit.skirts import skirt_rows
from drafting.proof.fit.style_ends import style_end_rows
from tests.blocks_woven.people import bodice, brief_for, person
from tests.body.people import GROUPS, people
from tests.skirts.dressed import errors, skirt

BODIES = {"bodies_2012_women": (40, 200, 400, 600), "bodies_1988_women": (120, 480, 900, 1400)}

MOST_EASED = 3.5
"""By which a yoke's curved edge may be longer than the edge it is sewn to (mm), over half a metre and more."""


def with_yoke(body: Body, share: float) -> tuple[Garment, list[str], list[str]]:
    """A skirt with a yoke to a share of its side; its errors, and which figures of its darts and its seam offend."""
    at = f"side {share}"
    made, b = skirt(
        ["skirt", "closure", "waistband"], body, onto=[(draw_style_line, {"start": at, "end": at, "on": "both"})]
    )
    rows = [row for row in skirt_rows(made, b) if row.name == "skirt_front_darts"]
    told = [row.name for row in (*rows, *style_end_rows(made, b)) if row.beyond]
    return made, errors(made, b), told


@pytest.mark.parametrize("group", BODIES)
def test_a_hip_yoke_takes_the_darts_up(group: str) -> None:
    """No dart is left; both edges meet; the yoke's is one curve, and it runs on over the sides."""
    for number in BODIES[group]:
        body = make_body("someone", people(group)[number % len(people(group))], rules=GROUPS[group])
        made, wrong, told = with_yoke(body, 0.16)
        assert not wrong
        assert not told
        assert not [dart.name for piece in made.pieces for dart in darts_of(piece)]
        for seam in (seam for seam in made.seams if seam.name.startswith("yoke-")):
            for section in seam.sections:
                one, two = (made.run_length(run) for run in section.plies)
                assert abs(one - two) <= MOST_EASED
                for run in section.plies:
                    assert count_seen_turns(Path.join(*(made.path(use) for use in run)), 0.5) == 0


def test_what_a_hip_yoke_leaves_is_told() -> None:
    """Darts that end too far above a deep yoke's seam; a step where front and back start apart; a corner high up."""
    body = make_body("someone", people("bodies_2012_women")[200], rules="women")
    assert set(with_yoke(body, 0.25)[2]) == {"yoke_darts_left"}
    assert "style_line_corner" in with_yoke(body, 0.1)[2]
    lines = [
        (draw_style_line, {"start": at, "end": at, "on": on})
        for at, on in (("side 0.16", "front"), ("side 0.1", "back"))
    ]
    made, b = skirt(["skirt", "closure", "waistband"], body, onto=lines)
    assert "style_line_step" in {row.name for row in style_end_rows(made, b) if row.beyond}


@pytest.mark.parametrize(("share", "left"), [(0.35, 0), (0.7, 2)])
def test_a_back_yoke_takes_the_shoulder_darts_up(share: float, left: int) -> None:
    """Its seam near their ends is one curve, as long as the back's; far below them they stay."""
    asked = brief_for(person(200))
    at = {"start": f"armhole {share}", "end": f"armhole {share}", "on": "back"}
    plain = bodice(asked)
    made = draw_style_line.apply(plain, asked, draw_style_line.options(**at))
    darts = [dart for piece in made.pieces if "yoke" in piece.name for dart in darts_of(piece)]
    assert len(darts) == left
    for side in ("left", "right"):
        was, now = (sum_length(g, Role.ARMHOLE, Side(side)) for g in (plain, made))
        assert now == pytest.approx(was, abs=0.1)
    for section in next(seam for seam in made.seams if seam.name == "yoke-back").sections:
        for run in section.plies:
            assert made.run_length(run) == pytest.approx(made.run_length(section.plies[0]), abs=1.0)
            assert count_seen_turns(Path.join(*(made.path(use) for use in run)), 0.5) == 0
    assert not errors(made, asked) or errors(made, asked) == errors(plain, asked)


def sum_length(garment: Garment, role: Role, side: Side) -> float:
    """How long a line of the back is on a side (mm)."""
    lines = (line for piece in garment.pieces if piece.face is Face.BACK for line in piece.lines(role=role, side=side))
    return sum(line.path.length for line in lines)
