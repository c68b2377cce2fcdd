"""What a package brings wrongly is told as its own fault, by its entry point, with status 2."""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from drafting.cli.work import _catalogue
from drafting.errors import CannotDraft, InputError
from drafting.garment import Change, Figure, Garment, SeamKind, Section, Stage, Use
from drafting.garment.seam import Seam
from drafting.garment.step import PARTS
from drafting.job import draft_job
from drafting.ticket import Catalogue, find_catalogue
from drafting.ticket.installed import offers
from drafting.ticket.keys import seam_keys
from drafting.work.kinds import SHARED, SIDE
from drafting.work.seam_words import tell_plain
from tests.cli.running import run
from tests.laws.jobs import WEARER, catalogue, job_of, with_changes
from tests.ticket.stubs import EDGE, EdgeOptions

Install = Callable[..., None]
FRILL = SeamKind("frill", "the seam of a frill", tell_plain, allowance=6.0)
HEAD = "from drafting.garment import *\nfrom tests.ticket.stubs import EdgeOptions\n"


@pytest.fixture
def install(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Install]:
    """Put a distribution of one module, with the entry points given, beside what is installed."""
    monkeypatch.syspath_prepend(str(tmp_path))

    def put(name: str, group: str, line: str, code: str = "") -> None:
        (tmp_path / f"{name}-1.0.dist-info").mkdir()
        (tmp_path / f"{name}-1.0.dist-info" / "entry_points.txt").write_text(f"[blockwright.{group}]\n{line}\n")
        (tmp_path / f"{name}-1.0.dist-info" / "METADATA").write_text(f"Name: {name}\nVersion: 1.0\n")
        (tmp_path / f"{name}.py").write_text(code)
        monkeypatch.delitem(sys.modules, name, raising=False)

    _catalogue.cache_clear()
    yield put
    _catalogue.cache_clear()


@pytest.mark.parametrize(
    ("code", "said"),
    [
        ("import no_such_thread", "No module named 'no_such_thread'"),
        ("def x(:", "invalid syntax"),
        ("{}['needle']", "KeyError: 'needle'"),
        (HEAD + "x = change('frill', 'Frills.', Stage.EDGE)(len)", "its options"),
        (HEAD + "option('Deep.', 'inches', 3.0)", "there are length, ratio"),
        (HEAD + "Mend('hem-hobbles', '{depth} more')", "doesn't say {depth}"),
        ("x = 3", "it is no "),
    ],
)
@pytest.mark.parametrize("kind", ["block", "check"])
def test_a_package_that_fails_is_told_by_its_entry_point(
    kind: str, code: str, said: str, install: Install, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """Whatever it raises, in every command that loads it; to install it again mends nothing, its maker must."""
    install("frills", f"{kind}s", "frill = frills:x", code)
    ticket = tmp_path / "one.toml"
    block = '[blocks.frill]\nblock = "frill"\n' if kind == "block" else ""
    ticket.write_text(f'builds_on = "basic-tee"\nunit = "cm"\n{WEARER}{block}', encoding="utf-8")
    for words in (["list", f"{kind}s"], ["prove", str(ticket)], ["make", str(ticket), "--out", str(tmp_path / "out")]):
        done = run(capsys, *words)
        told = " ".join(done.err.split())
        assert done.status == 2
        assert f"the {kind} “frill” can't be loaded from frills:x (of frills): " in told
        assert said in told
        assert "its maker must put it right" in told


def test_what_isnt_there_any_more_may_be_installed_again(install: Install) -> None:
    """An entry point that was written down before its module was changed."""
    install("frills", "blocks", "frill = frills:gone")
    with pytest.raises(InputError, match="install that again"):
        find_catalogue().block("frill", "here")


def test_two_packages_of_one_name_are_refused(install: Install) -> None:
    """Neither replaces the other: both entry points are named, and whose they are."""
    install("frills", "blocks", "frill = frills:x")
    install("ruffles", "blocks", "frill = ruffles:x")
    with pytest.raises(InputError, match=r"two blocks “frill”: .*frills:x \(of frills\)") as told:
        find_catalogue()
    assert "ruffles:x (of ruffles)" in str(told.value)


def test_two_designs_of_one_name_are_refused(install: Install, tmp_path: Path) -> None:
    """Though the entry points of their folders have other names."""
    install("frills", "designs", "frilled = frilled_designs")
    (tmp_path / "frilled_designs").mkdir()
    (tmp_path / "frilled_designs" / "__init__.py").touch()
    (tmp_path / "frilled_designs" / "basic-tee.toml").touch()
    with pytest.raises(InputError, match=r"two designs “basic-tee”: .*frilled_designs"):
        find_catalogue()


def test_an_entry_point_is_called_as_its_step(install: Install) -> None:
    """Or a ticket would name one, and be told of another."""
    install("frills", "blocks", "ruffle = tests.ticket.stubs:BODY")
    with pytest.raises(InputError, match="is called “ruffle”, it calls itself “stub-body”"):
        find_catalogue().block("ruffle", "here")


def test_all_that_is_installed_says_whose_it_is() -> None:
    """The project's own among them."""
    assert "blockwright" in {offer.distribution for offer in offers()}


@pytest.mark.parametrize("name", ["all", "hem_depth", "on_fold"])
def test_a_kind_of_seam_has_no_key_of_another_meaning(name: str) -> None:
    """Its allowance couldn't be told from that key's value."""
    with pytest.raises(InputError, match=f"is called “{name}”"):
        seam_keys([replace(FRILL, name=name)])


def test_two_kinds_of_one_name_have_one_allowance() -> None:
    """Told in another way it is the same kind; with another allowance it is refused."""
    assert len(seam_keys([FRILL, replace(FRILL, turn=4)])) == len(seam_keys([FRILL]))
    with pytest.raises(InputError, match=r"“frill”: the seam of a frill \(an allowance of 6 mm\) and "):
        seam_keys([FRILL, replace(FRILL, allowance=None)])


@pytest.mark.parametrize(
    ("wrong", "said"),
    [
        ({"needs": ("bust_grith",)}, "needs=(…) names “bust_grith”, which there isn't; did you mean bust_girth"),
        ({"moves": ("wasit",)}, "moves=(…) names “wasit”, which there isn't; did you mean waist?"),
        ({"moves": ("zzz",)}, "moves=(…) names “zzz”, which there isn't; there are bust, waist, hip"),
        (
            {"moves": (Figure("hip", lambda garment: iter(())),)},
            "moves=(…) brings “hip”, which is a figure of the engine's",
        ),
        ({"makes": "bodise"}, "makes=… is “bodise”; did you mean bodice?"),
    ],
)
def test_a_misspelt_declaration_is_refused_as_the_step_is_loaded(wrong: dict[str, Any], said: str) -> None:
    """Or it would have no effect, and nobody be told; a part of another name is the package's own."""
    with pytest.raises(InputError) as told:
        Catalogue(blocks={"stub-edge": lambda: replace(EDGE, **wrong)}).block("stub-edge", "here")
    assert said in str(told.value)
    hood = replace(EDGE, makes="hood")
    assert Catalogue(blocks={"stub-edge": lambda: hood}).block("stub-edge", "here") == hood


def test_the_parts_that_blocks_make_are_known() -> None:
    """So that one misspelt is found."""
    makes = {catalogue().block(name, "").makes for name in catalogue().blocks}
    assert makes - {""} == set(PARTS)


def test_a_seam_has_a_stitch_of_the_standard() -> None:
    """ISO 4915 numbers them in six classes."""
    section = (Section(((Use("a", "b"),),), (0.0,)),)
    for stitch in ("9999", "914", "lock"):
        with pytest.raises(ValueError, match=f'"ruffled" is "{stitch}"'):
            Seam("ruffled", FRILL, "ruffle", section, stitch=stitch)


def test_a_kind_of_another_kinds_name_is_refused() -> None:
    """It would be taken for that wherever the engine asks; both are told. One told in another way is the same kind."""
    job = with_changes(job_of("basic-tee"), [("lengthen", {"by": 20.0, "at": "line"})])
    kinds = {"one": replace(SIDE, tell=tell_plain), "other": SeamKind("side", "the side of a frill", tell_plain)}
    seam_keys([*SHARED, kinds["one"]])
    with pytest.raises(InputError, match=r"“side”: side and underarm seams \(.*\) and the side of a frill"):
        seam_keys([*SHARED, kinds["other"]])

    def sew(garment: Garment, brief: object, options: object) -> Garment:
        return garment.with_(seams=[replace(garment.seams[0], kind=kinds["other"])])

    side = Change("side", "Sides.", EdgeOptions, Stage.EDGE_SHAPE, sew)
    planned = replace(job.steps[-1], step=side, options=EdgeOptions())
    with pytest.raises(CannotDraft, match=r'"side" \(the side of a frill\).* another kind .* side and underarm seams'):
        draft_job(replace(job, steps=(*job.steps, planned)))


def test_a_step_declares_the_kinds_it_makes() -> None:
    """One that doesn't is at fault, and named; what it makes of shared kinds, or was there before, is no fault."""

    def sew(garment: Garment, brief: object, options: object) -> Garment:
        use = (Use(garment.pieces[0].name, garment.pieces[0].ring[0].name),)
        return garment.with_(seams=[Seam("ruffled", FRILL, "ruffle", (Section((use,), (0.0,)),))])

    ruffle = Change("ruffle", "Ruffles.", EdgeOptions, Stage.EDGE_SHAPE, sew)
    job = with_changes(job_of("basic-tee"), [("lengthen", {"by": 20.0, "at": "line"})])
    planned = replace(job.steps[-1], step=ruffle, options=EdgeOptions())
    with pytest.raises(CannotDraft, match='ruffle: it makes the seam "ruffled" of the kind "frill"') as told:
        draft_job(replace(job, steps=(*job.steps, planned)))
    assert "kinds=(…)" in str(told.value.help)
    declared = replace(planned, step=replace(ruffle, kinds=(FRILL,)))
    assert draft_job(replace(job, steps=(*job.steps, declared))).seam("ruffled").kind == FRILL


RETOLD = f"""{HEAD}
from dataclasses import replace
from drafting.errors import DraftingError
from drafting.work.kinds import SIDE

def fail(told, what):
    raise ERROR

def retell(garment: Garment, brief: Brief, options: EdgeOptions):
    kind = replace(SIDE, WAY)
    return garment.with_(seams=[replace(s, kind=kind) if s.kind == SIDE else s for s in garment.seams])

x = change("frill", "Frills.", Stage.WHOLE)(retell)
"""


@pytest.mark.parametrize("error", ["KeyError('needle')", "DraftingError('no needle')"])
@pytest.mark.parametrize("way", ["tell=fail", "needs=fail", "tell=lambda told, group: Told(())"])
def test_a_kind_of_seam_that_fails_as_it_is_told_is_named(
    way: str, error: str, install: Install, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    """A fault of its package, in the order of work and in what to buy; so is one that tells no step at all."""
    install("frills", "changes", "frill = frills:x", RETOLD.replace("ERROR", error).replace("WAY", way))
    ticket = tmp_path / "one.toml"
    change = '[[changes]]\nchange = "frill"\n'
    ticket.write_text(f'builds_on = "basic-tee"\nunit = "cm"\n{WEARER}{change}', encoding="utf-8")
    done = run(capsys, "make", str(ticket), "--out", str(tmp_path / "out"))
    assert done.status == 3
    assert 'met in the seam "side-left" of the kind "side" as it is told' in " ".join(done.err.split())


def test_what_is_installed_has_its_names_for_itself() -> None:
    """The kinds of all that is installed can be united."""
    assert len({kind.name for kind in catalogue().kinds()}) == len(catalogue().kinds())
