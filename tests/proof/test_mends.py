"""What mends a finding: whatever installed change says that it does, by its own name and words."""

from __future__ import annotations

import ast
import re
from dataclasses import dataclass, replace
from pathlib import Path

import pytest

from blocks.bodice import draft_knit_bodice
from drafting.errors import InputError
from drafting.garment import Brief, Garment, Mend, Stage
from drafting.garment.step import change
from drafting.mending import Advice, Situation, add_mends, advise_nothing, situation
from drafting.proof import Finding, prove
from drafting.proof.words.fitting import fitting_lines, fitting_sheet
from drafting.saying import mm, render
from drafting.ticket import find_catalogue
from tests.laws.jobs import job_of, with_changes
from tests.proof.box_top import box_top, brief
from tests.skirts.dressed import JERSEY, skirt
from tests.test_architecture import nodes_of

ENGINE_ROOT = Path(__file__).parents[2] / "drafting"
ENGINE = sorted(file for file in ENGINE_ROOT.rglob("*.py") if "changes" not in file.relative_to(ENGINE_ROOT).parts)

WORD = re.compile(r"[a-z]+(?:-[a-z]+)*")

HELP_TEXTS = {"cli/list.py"}
"""Whose help shows commands to copy, and so names a block and a change that are installed with the engine."""


@dataclass(frozen=True, slots=True)
class GodetOptions:
    """No options."""


@change(
    "godet",
    "A triangle let in at the hem.",
    Stage.SHAPE,
    mends=(
        Mend("hem-hobbles", 'let in a triangle {height} high: change = "{change}"'),
        Mend("toile-back-hollow", "by = what hangs there"),
    ),
)
def let_in_godet(garment: Garment, brief: Brief, o: GodetOptions) -> Garment:
    """Somebody else's change."""
    return garment


def with_godet() -> object:
    """What is installed, and the change of somebody else's package."""
    installed = find_catalogue()
    return replace(installed, changes={**installed.changes, "godet": lambda: let_in_godet})


def hobbling(advisor: object) -> Finding:
    """What is found of a long straight skirt without a vent."""
    garment, b = skirt([("skirt", {"length": 800.0})])
    return next(f for f in prove(garment, b, advisor=advisor).findings if f.code == "stride.hem")


def test_a_change_of_somebody_elses_is_advised_in_the_remedy() -> None:
    """By its name and in its words, beside those that are installed already; with the situation's figures."""
    told = render(hobbling(with_godet().find_mends).remedy, "cm")
    assert re.fullmatch(
        r'let in a triangle [0-9.]+ cm high: change = "godet"; or add the change "vents", [0-9.]+ cm high or more, '
        r'side = "back" or "both"; or make the hem about [0-9.]+ cm wider',
        told,
    )


def test_a_change_that_is_not_installed_is_not_advised() -> None:
    """What the check itself knows is left."""
    told = render(hobbling(advise_nothing).remedy, "cm")
    assert re.fullmatch(r"make the hem about [0-9.]+ cm wider", told)


def test_where_nothing_mends_it_something_is_said() -> None:
    """The words that the situation has for that, or the remedy alone."""
    wanted = situation("opening-tight", "make the opening larger")
    assert str(add_mends("", wanted, advise_nothing)) == "make the opening larger"
    assert str(add_mends("or less", Situation("unheard-of"), advise_nothing)) == "or less"
    advice = Advice("zip-fly", Mend("fly-tight", "{change} by {much}"))
    told = add_mends("or less", situation("fly-tight", "no", much=mm(30.0)), lambda name: [advice])
    assert render(told, "cm") == "zip-fly by 3.0 cm; or or less"


def test_the_fitting_sheet_names_it_too() -> None:
    """Beside the change that is installed already; and none without one."""
    garment, b = skirt(["skirt"])
    advisor = with_godet().find_mends
    lines = "\n".join(fitting_lines(fitting_sheet(garment, b, advisor)))
    assert 'change = "godet" or "sway-back"' in lines
    assert "change = " not in "\n".join(fitting_lines(fitting_sheet(garment, b)))


def test_a_skirt_that_hangs_from_nothing_is_told_of_the_block_that_joins_it() -> None:
    """And what of its girths is counted with the bodice's isn't laid at the door of a change."""
    garment, b = skirt(["skirt"], cloth=JERSEY, onto=[(draft_knit_bodice, {})])
    found = {f.code: f for f in prove(garment, b, advisor=find_catalogue().find_mends).findings}
    assert str(found["puzzle.apart"].remedy) == "sew it on at the waist: [blocks.waist-seam]; or leave it out"
    assert "counted too" in str(found["ease.asked"].remedy)


def test_a_sound_garment_asks_for_no_advice() -> None:
    """No change is loaded for it."""

    def refuse(name: str) -> tuple[Advice, ...]:
        raise AssertionError(name)

    assert prove(box_top(), brief(), advisor=refuse).passed


def test_less_is_asked_only_of_a_change_that_the_ticket_takes() -> None:
    """A wavering side is laid at the flare's door where there is one, never at that of a change that isn't taken."""
    flared, plain = with_changes(job_of("tank-top"), [("flare", {})]), job_of("tank-top")
    assert [advice.change for advice in flared.advise("side-wavers")] == ["flare"]
    assert not plain.advise("side-wavers")
    assert [advice.change for advice in plain.advise("hem-hobbles")] == ["vents"]


def test_the_engine_spells_the_name_of_no_change_and_no_block() -> None:
    """Neither quoted, as a ticket has it, nor, where the name is no word of the trade, by itself."""
    installed = find_catalogue()
    names = {*installed.changes, *installed.blocks}
    quoted = re.compile("|".join(f'"{re.escape(each)}"' for each in names))
    assert len(ENGINE) > 250
    for file in ENGINE:
        docs = {node.value for node in nodes_of(file) if isinstance(node, ast.Expr)}
        strings = (node for node in nodes_of(file) if isinstance(node, ast.Constant) and node not in docs)
        texts = [node.value for node in strings if isinstance(node.value, str)]
        assert not [text for text in texts if quoted.search(text)], file
        if file.relative_to(ENGINE_ROOT).as_posix() not in HELP_TEXTS:
            assert not [text for text in texts for word in WORD.findall(text) if word in names and "-" in word], file


def test_a_mend_asks_only_for_what_its_situation_says() -> None:
    """Refused where it is declared, or where a situation of its own is found; else its remedy could never be said."""
    with pytest.raises(ValueError, match=r'"hem-hobbles" doesn\'t say \{depth\}'):
        Mend("hem-hobbles", "cut it {depth} deep")
    advice = Advice("zip-fly", Mend("fly-tight", "{change} by {depth}"))
    with pytest.raises(InputError, match=r'"zip-fly" mends "fly-tight" with \{depth\}'):
        add_mends("", situation("fly-tight", much=mm(30.0)), lambda name: [advice])
