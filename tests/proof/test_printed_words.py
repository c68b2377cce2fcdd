"""What of the proof is printed with the pattern: verdict, fit, openings, and the order of work."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from drafting.finishing import finish
from drafting.garment import Group, Side, Telling
from drafting.job import draft_job
from drafting.output import PrintInfo, draw_sheet
from drafting.paper import PaperPlan, paper_named, plan_sheet
from drafting.proof import Severity, list_against_body, list_finished, print_proof, print_warnings, prove
from drafting.proof.fit import FitRow, check_fit
from drafting.proof.fit.row import FigureKind
from drafting.saying import Unit, say, specify
from drafting.work import make_up
from drafting.work.sewing import pair_tasks, steps_of_work
from drafting.work.telling import tell_first
from tests.garments import SLEEVED, TOP, brief, build
from tests.laws.jobs import WEARER, job_from


def words(voice: str = "soprano") -> dict[str, tuple[str, ...]]:
    """The sections of a full top, by heading."""
    wearer = brief(voice)
    top = build(wearer, TOP)
    return {str(heading): lines for heading, lines in print_proof(prove(top, wearer))}


def test_the_verdict_comes_first_and_tells_what_must_pass() -> None:
    """In words, with the lengths."""
    proof = words()["Proof"]
    assert proof[0] == "The pieces go together as meant, and fit the body that they are drafted for."
    assert any("the head" in line for line in proof)


def test_what_is_noted_of_the_fit_is_told_on_paper() -> None:
    """A row beyond its bound that is but a note: the page doesn't say that the pieces fit, and says what doesn't."""
    wearer = brief("soprano")
    top = build(wearer, TOP)
    proof = prove(top, wearer)
    row = FitRow(
        "cap_height", "sleeve", title="cap", body=0.3, garment=0.2, least=-0.02, measure="share", severity=Severity.NOTE
    )
    noted = replace(proof, findings=(*proof.findings, *check_fit(top, wearer, [row])))
    lines = dict(print_proof(noted))["Proof"]
    assert lines[:2] == ("The pieces go together as meant.", "Note: cap: 20 %, where at least 28 % is wanted.")


def test_what_is_held_against_a_rule_is_not_told_as_the_bodys() -> None:
    """A dash stands for it; what is measured on the body stands as it is."""
    wearer = brief("soprano")
    proof = prove(build(wearer, TOP), wearer)
    ruled = FitRow("ease", "cap", "cap, longer", 0.0, 40.0, chief=True, of_body=False)
    held = replace(proof, fit=(ruled, replace(ruled, title="arm", body=300.0, of_body=True)))
    told = [row[:3] for row in list_against_body(held, "cm")]
    assert told == [("cap, longer", "-", "4.0 cm"), ("arm", "30.0 cm", "4.0 cm")]


@pytest.mark.parametrize(
    ("least", "most", "measure", "unit", "limits"),
    [
        (-10.0, 20.0, "mm", "cm", "29.0 to 32.0 cm"),
        (-25.4, 25.4, "mm", "in", "10 3/4 to 12 3/4 in"),
        (-10.0, None, "mm", "cm", "at least 29.0 cm"),
        (None, math.radians(4.0), "rad", "cm", "at most 24 deg"),
        (-0.05, 0.1, "share", "cm", "25 % to 40 %"),
        (None, None, "mm", "cm", "-"),
    ],
)
def test_limits_stand_beside_the_figure(
    least: float | None, most: float | None, measure: FigureKind, unit: Unit, limits: str
) -> None:
    """In the maker's unit; a dash where there is none."""
    wearer = brief("soprano")
    body = {"mm": 300.0, "rad": math.radians(20.0), "share": 0.3}[measure]
    row = FitRow("x", "back", "x", body, body, least=least, most=most, measure=measure, chief=True)
    proof = replace(prove(build(wearer, TOP), wearer), fit=(row,))
    assert list_against_body(proof, unit)[0][3] == limits


def test_a_failed_proof_says_so_on_paper() -> None:
    """In capitals, with what is wrong."""
    wearer = brief("soprano")
    top = build(wearer, SLEEVED)
    broken = top.with_(openings=("neck",))
    proof = prove(broken, wearer)
    assert dict(print_proof(proof))["Proof"][0].startswith("NOT PROVEN")
    ((heading, lines),) = print_warnings(proof)
    assert heading == "Before you cut"
    first = ["NOT PROVEN" for _ in proof.of(Severity.ERROR)]
    first += ["Warning" for _ in proof.of(Severity.WARNING)]
    assert first
    assert [line.split(":")[0] for line in lines] == first
    assert print_warnings(prove(top, wearer)) == ()


def test_the_order_follows_the_make_up_and_tells_pairs_once() -> None:
    """Shoulders, armholes flat, sides and underarms in one, then cuffs and bands (common practice)."""
    top = build(brief("soprano"), TOP)
    firsts = [step.said.title for step in steps_of_work(make_up(top), top, "cm")]
    wanted = [
        "Stay tape",
        "Shoulder seam, left",
        "Neck band",
        "Sleeve, left and right",
        "Side and underarm, left",
        "Cuff",
    ]
    assert [f.startswith(w) for f, w in zip(firsts, wanted, strict=False)] == [True] * 6
    assert sum("Cuff" in f for f in firsts) == 1
    assert sum("Neck band" in f for f in firsts) == 1


def test_seams_are_a_pair_by_what_both_are_called() -> None:
    """Titles in plain words say their side as a word: what both are called is a value of its own."""
    top = build(brief("soprano"), TOP)
    plain = [
        replace(seam, title=f"{seam.name[8:]} arm", pair="arm") if seam.name.startswith("armhole") else seam
        for seam in top.seams
    ]
    made = replace(top, seams=tuple(plain))
    told = steps_of_work(make_up(made), made, "cm")
    assert "Arm, left and right, set in flat" in [str(step.said.title) for step in told]


def test_pairing_never_sews_a_seam_before_one_it_crosses() -> None:
    """Each seam's prerequisites stand above it, whatever is told together."""
    for voice in ("alto", "bass"):
        top = build(brief(voice), TOP)
        order = make_up(top)
        done: set[str] = set()
        for task in pair_tasks(order, top):
            assert set(task.before) <= done
            done.add(task.seam)
        assert len(done) == len(order)


def test_a_like_seam_is_told_by_the_first() -> None:
    """By its side where it is the other of a pair, by its title without side or place where it is another's."""
    left, right = (specify("Armhole band", side) for side in (Side.LEFT, Side.RIGHT))
    garment = build(brief("soprano"), TOP)
    seam = garment.seams[0]
    told = Telling(
        garment, "cm", full={"band": left, "both": specify("Cuff", say("{a} and {b}", a=Side.LEFT, b=Side.RIGHT))}
    )
    assert tell_first(told, "band", Group((seam,), right)) == "left one"
    assert tell_first(told, "band", Group((seam,), "Neck band")) == "armhole band"
    assert tell_first(told, "both", Group((seam,), "Neck band")) == "cuff"
    assert tell_first(told, "facing", Group((seam,), right)) == ""


def test_a_mans_bust_is_told_as_his_chest() -> None:
    """Among the finished measures, in what passes his waist, and beside the level on the paper; a woman's stays."""
    said: dict[str, tuple[set[str], set[str], str]] = {}
    for averages in ("men", "women"):
        job = job_from(f'builds_on = "basic-tee"\nunit = "cm"\n{WEARER.replace("women", averages)}')
        garment = draft_job(job)
        proof = prove(garment, job.brief)
        info = PrintInfo("", "", "", called=job.brief.body.called)
        drawn = draw_sheet(plan_sheet(finish(garment, job.finish), PaperPlan(paper_named("A4"))), info)
        levels = {text.text for piece in drawn.pieces for text in piece.texts if text.kind == "level"}
        passing = " ".join(row.passing for row in proof.openings)
        said[averages] = {name for name, *_ in list_finished(proof, "cm")}, levels, passing
    for averages, is_called, is_not in (("men", "chest", "bust"), ("women", "bust", "chest")):
        for words in said[averages][:2]:
            assert is_called in words
            assert is_not not in words
        assert is_not not in said[averages][2]
