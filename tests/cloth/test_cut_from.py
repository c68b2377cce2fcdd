"""Any number of cloths: what is named is cut from each, drafted for its stretch, and laid and bought with it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from drafting.errors import InputError
from drafting.finishing import finish
from drafting.garment import Garment
from drafting.job import draft_job, finish_job
from drafting.lay import plan_lays
from drafting.ticket import Job
from tests.laws.jobs import WEARER, job_from

ONE = WEARER.split("[cloths")[0]
"""A wearer and one cloth."""

LIGHT = '[cloths.light]\ncut = [{cut}]\nstretch_across = "60 %"\nrecovery = "95 %"\n'


def job(design: str, *cut: str) -> Job:
    """A design with a light knit for what is named."""
    names = ", ".join(f'"{name}"' for name in cut)
    return job_from(f'builds_on = "{design}"\nunit = "cm"\n{ONE}{LIGHT.format(cut=names) if cut else ""}')


def cloths(garment: Garment) -> dict[str, str]:
    """What each piece is cut from."""
    return {piece.name: piece.cloth for piece in garment.pieces}


@pytest.mark.parametrize(
    ("cut", "pieces"),
    [
        (["cuffs"], {"cuff-left", "cuff-right"}),
        (["shaped-cuff"], {"cuff-left", "cuff-right"}),
        (["sleeve"], {"sleeve-left", "sleeve-right"}),
        (["Sleeve left", "neck-band"], {"sleeve-left", "neck-band"}),
        (["front", "sleeves"], {"front", "sleeve-left", "sleeve-right"}),
        (["hem", "patch-pocket"], {"hem-band"}),
    ],
)
def test_blocks_and_pieces_are_cut_from_the_cloth_that_names_them(cut: list[str], pieces: set[str]) -> None:
    """By the label in the ticket, the block's own name, or the piece's with or without its side; all else is main.

    An installed block that this garment hasn't is no slip: another ticket may build on this one.
    """
    found = cloths(draft_job(job("knit-top", *cut)))
    assert {name for name, cloth in found.items() if cloth == "light"} == pieces
    assert {cloth for name, cloth in found.items() if name not in pieces} == {"main"}


@pytest.mark.parametrize(
    ("design", "cut", "piece"),
    [("knit-top", "neck-band", "neck-band"), ("diagonal-overlay-top", "neck-binding", "neck-binding")],
)
def test_a_band_is_drafted_for_its_own_cloth(design: str, cut: str, piece: str) -> None:
    """A stretchier cloth makes it no longer; its edge is the garment's, whatever it is cut from."""
    plain, light = draft_job(job(design)), draft_job(job(design, cut))
    (one, edge), (other, same) = (
        (garment.run_length(ply[1]), garment.run_length(ply[0]))
        for garment in (plain, light)
        for ply in [garment.seam(piece).plies]
    )
    assert edge == pytest.approx(same)
    assert other < one - 1.0


def test_what_names_nothing_is_refused_with_what_there_is() -> None:
    """And with the name that is nearly it."""
    with pytest.raises(InputError, match="did you mean sleeves") as caught:
        draft_job(job("knit-top", "sleevs"))
    (problem,) = caught.value.problems
    assert "cuff-left" in str(problem.allowed)
    assert "ticket.toml: cloths.light.cut" in problem.where


def test_a_name_in_two_cloths_a_cloth_called_main_and_pieces_of_interfacing_are_refused() -> None:
    """Each with its place."""
    twice = f'{LIGHT.format(cut=chr(34) + "cuffs" + chr(34))}[cloths.dark]\ncut = ["cuffs"]\nstretch_across = 0.3\n'
    with pytest.raises(InputError, match="is cut from “light” already"):
        job_from(f'builds_on = "knit-top"\nunit = "cm"\n{ONE}{twice}')
    with pytest.raises(InputError, match=r"the main cloth stands under \[cloth\]"):
        job_from(f'builds_on = "knit-top"\nunit = "cm"\n{ONE}[cloths.main]\nstretch_across = 0.3\n')
    stiff = '[cloths.interfacing]\nstretch_across = 0\ncut = ["front"]\n'
    with pytest.raises(InputError, match="nothing is cut from interfacing alone"):  # it would be cut from it twice
        job_from(f'builds_on = "knit-top"\nunit = "cm"\n{ONE}{stiff}')


def test_each_cloth_has_its_lay_and_bands_of_the_main_cloth_lie_on_it() -> None:
    """As many lays as cloths that are cut; each part on one of them."""
    for names, kinds in (((), ["main"]), (("cuffs", "hem"), ["main", "light"])):
        asked = job("knit-top", *names)
        garment = draft_job(asked)
        cut = finish_job(asked, garment)[0]
        lays = plan_lays(garment, cut, asked.brief)
        assert [lay.kind for lay in lays] == kinds
        assert sum(len(lay.laid) for lay in lays) == sum(piece.quantity for piece in cut)
        assert {part.part.piece.cloth for lay in lays for part in lay.laid} == set(kinds)


def test_a_front_of_a_cloth_that_cant_serve_is_refused_with_the_number() -> None:
    """What a design needs of its cloth holds for whatever its front and back are cut from."""
    asked = job("diagonal-overlay-top", "front")
    stiff = replace(asked.brief, cloths={"light": replace(asked.brief.cloths["light"], stretch_across=0.0)})
    garment = draft_job(replace(asked, brief=stiff))
    found = [
        each for each in finish_job(replace(asked, brief=stiff), garment)[1].findings if each.place == "cloths.light"
    ]
    assert found == [] or all(each.severity == "error" for each in found)
    assert finish(garment, asked.finish)
