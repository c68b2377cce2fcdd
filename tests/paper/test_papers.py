"""Papers, and how a pattern is printed on them."""

from __future__ import annotations

import pytest

from drafting.errors import InputError
from drafting.paper import Join, Orientation, PaperPlan, Tile, paper_named
from drafting.paper.papers import GRID, STRIP
from drafting.saying import render


@pytest.mark.parametrize(
    ("text", "size"),
    [
        ("A4", (210.0, 297.0)),  # ISO 216
        ("a3", (297.0, 420.0)),  # ISO 216
        ("US Letter", (215.9, 279.4)),  # ANSI/ASME Y14.1: 8 1/2 x 11 in
        ("letter", (215.9, 279.4)),
        ("us-legal", (215.9, 355.6)),
        ("Tabloid", (279.4, 431.8)),
        ("60 x 90 cm", (600.0, 900.0)),
        ("24 in x 36 in", (609.6, 914.4)),
        ("914 × 1200", (914.0, 1200.0)),
        ("8 1/2 x 11 in", (215.9, 279.4)),
    ],
)
def test_papers_by_name_and_size(text: str, size: tuple[float, float]) -> None:
    """Names in any spelling of case and spaces; sizes with units on either side."""
    paper = paper_named(text)
    assert (paper.width, paper.height) == pytest.approx(size)


@pytest.mark.parametrize("text", ["A44", "", "paper", "10 x", "x", "nan x 5", "1e9 x 3", "A4" * 10_000, "-3 x 4 cm"])
def test_unknown_papers_are_refused(text: str) -> None:
    """The error names what is allowed."""
    with pytest.raises(InputError):
        paper_named(text)


def test_misspelt_paper_offers_the_right_one() -> None:
    """Close matches help."""
    with pytest.raises(InputError, match="US Letter"):
        paper_named("US Leter")


@pytest.mark.parametrize(
    ("text", "read"),
    [("600 x 90 cm", "600.0 x 90.0 cm"), ("36 in x 17 ft", "91.4 x 518.2 cm"), ("5081 mm x 1 m", "508.1")],
)
def test_paper_longer_than_a_page_may_be_is_refused(text: str, read: str) -> None:
    """With its figure, where it was asked for, how long a page may be, and what to do about it."""
    with pytest.raises(InputError) as refused:
        paper_named(text, where="--paper")
    said = str(refused.value)
    assert said.startswith("--paper: ")
    assert read in render_in_cm(refused.value)
    assert "name a shorter piece of the roll" in said
    assert paper_named("508 x 90 cm").width == 5080.0


def render_in_cm(error: InputError) -> str:
    return " ".join(render(words, "cm") for problem in error.problems for words in (problem.read, problem.allowed))


@pytest.mark.parametrize(
    "options",
    [{"margin": -1.0}, {"margin": float("nan")}, {"overlap": 500.0}, {"correct_x": 2.0}, {"gap": 0.0}],
)
def test_impossible_plans_are_refused(options: dict[str, float]) -> None:
    """Each option has a range."""
    with pytest.raises(InputError):
        PaperPlan(**options)


def test_paper_too_small_is_refused() -> None:
    """A page must carry some pattern between its margins."""
    with pytest.raises(InputError, match=r"paper\.size"):
        PaperPlan(paper_named("50 x 50 mm"))


@pytest.mark.parametrize("join", list(Join))
@pytest.mark.parametrize("orientation", list(Orientation))
@pytest.mark.parametrize("name", ["A4", "letter", "A3", "500 x 300 mm"])
def test_live_area_leaves_margin_strip_and_lap(name: str, orientation: Orientation, join: Join) -> None:
    """Live area = paper less margins, less the strip for marks, less the lap; whole dots at common resolutions."""
    plan = PaperPlan(paper_named(name), orientation, join=join)
    for live, page in zip(plan.live, plan.page, strict=True):
        room = page - 2 * (plan.margin + STRIP) - plan.lapped
        assert room - 3 * GRID < live <= room + 1e-6
        assert live / GRID == pytest.approx(round(live / GRID))
    assert plan.lapped == (10.0 if join is Join.OVERLAP else 0.0)


def test_orientation() -> None:
    """Portrait is upright, landscape lies on its side, either takes the paper as it is named."""
    assert PaperPlan(orientation=Orientation.LANDSCAPE).page == (297.0, 210.0)
    assert PaperPlan(orientation=Orientation.PORTRAIT).page == (210.0, 297.0)
    assert PaperPlan(paper_named("90 x 60 cm")).page == (900.0, 600.0)


def test_correction_makes_the_live_area_smaller_or_larger() -> None:
    """A printer that shrinks is sent an enlarged drawing, so a page carries less of it."""
    plain, shrinking = PaperPlan(), PaperPlan(correct_x=1.02)
    assert shrinking.live[0] * 1.02 <= plain.live[0] + GRID
    assert shrinking.live[1] == plain.live[1]


def test_rows_go_on_after_z() -> None:
    """A to Z, then AA."""
    assert [Tile(n, 0).name[:-1] for n in (0, 1, 25, 26, 27, 51, 52, 701, 702)] == [
        "A", "B", "Z", "AA", "AB", "AZ", "BA", "ZZ", "AAA",
    ]  # fmt: skip
