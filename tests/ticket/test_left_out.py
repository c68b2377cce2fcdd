"""What is inherited can be left out by name, or given anew in its place."""

from __future__ import annotations

from pathlib import Path

import pytest

from drafting.errors import InputError
from drafting.ticket import Job, read_job
from tests.ticket.stubs import WHOLE, BodyOptions, EdgeOptions, catalogue

BASE = """
fit = "relaxed"
cloths = {rib = {stretch_across = "80 %", cut = ["band"]}}
[cloth.stripe]
repeat = 3
[blocks.arms]
block = "stub-sleeve"
[blocks.band]
block = "stub-edge"
depth = 5
[seams]
side = "2 cm"
[paper]
size = "A3"
[[changes]]
change = "stub-lengthen"
depth = 2
[[changes]]
change = "stub-mirror"
depth = 3
[[changes]]
change = "stub-mirror"
depth = 4
"""


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder with a ticket to build on."""
    monkeypatch.chdir(tmp_path)
    head, tables = WHOLE.split("[wearer]", 1)
    fit, rest = BASE.split("[cloth.stripe]", 1)
    Path("first.toml").write_text(f"{head}{fit}[wearer]{tables}drop = 6\n[cloth.stripe]{rest}", encoding="utf-8")


def read(text: str, file: str = "spring.toml", on: str = "first.toml") -> Job:
    """Read a ticket that builds on the first."""
    Path(file).write_text(f'builds_on = "{on}"\n{text}', encoding="utf-8")
    return read_job(Path(file), catalogue())


def refusal(text: str, file: str = "spring.toml", on: str = "first.toml") -> str:
    """Return what is said of a ticket that is refused."""
    with pytest.raises(InputError) as caught:
        read(text, file, on)
    return str(caught.value)


def depths(job: Job) -> list[tuple[str, float]]:
    """The changes of a job in order, each with its depth."""
    return [
        (each.step.name, each.options.depth)
        for each in job.steps
        if isinstance(each.options, EdgeOptions) and not each.is_block
    ]


def test_all_of_it_is_inherited_where_nothing_is_left_out() -> None:
    """The ticket that the others are compared with."""
    job = read("")
    assert depths(job) == [("stub-lengthen", 20.0), ("stub-mirror", 30.0), ("stub-mirror", 40.0)]
    assert job.brief.cloth.stripe is not None
    assert "rib" in job.brief.cloths
    assert (job.brief.fit, job.paper.paper.name, job.finish.allowances) == ("relaxed", "A3", {"side": 20.0})


@pytest.mark.parametrize(
    ("name", "left"),
    [
        ("stub-lengthen", [("stub-mirror", 30.0), ("stub-mirror", 40.0)]),
        ("stub-mirror 1", [("stub-lengthen", 20.0), ("stub-mirror", 40.0)]),
        ("stub-mirror 2", [("stub-lengthen", 20.0), ("stub-mirror", 30.0)]),
        ("changes", []),
    ],
)
def test_a_change_is_left_out_by_its_name(name: str, left: list[tuple[str, float]]) -> None:
    """Or by name and number, where several have one; or all of them."""
    assert depths(read(f'leave_out = ["{name}"]\n')) == left


def test_a_table_an_option_and_a_key_are_left_out_by_their_path() -> None:
    """What isn't there any more has its default."""
    names = ["blocks.arms", "blocks.body.drop", "cloth.stripe", "cloths.rib", "seams.side", "paper", "fit"]
    job = read(f"leave_out = {names!r}\n")
    assert [each.label for each in job.steps if each.is_block] == ["body", "band"]
    assert job.steps[0].options == BodyOptions()
    assert job.brief.cloth.stripe is None
    assert not job.brief.cloths
    assert (job.brief.fit, job.paper.paper.name, job.finish.allowances) == ("semi-fitted", "A4", {})


def test_what_is_left_out_and_given_again_stands_in_its_place() -> None:
    """A change keeps its turn, a block takes none of the old one's options."""
    again = """leave_out = ["stub-lengthen", "stub-mirror 1", "blocks.band"]
[blocks.band]
block = "stub-edge"
[[changes]]
change = "stub-mirror"
depth = 9
[[changes]]
change = "stub-lengthen"
depth = 8
[[changes]]
change = "stub-lengthen"
depth = 7
"""
    job = read(again)
    assert sorted(depths(job), key=lambda each: each[0]) == [
        ("stub-lengthen", 80.0),
        ("stub-lengthen", 70.0),
        ("stub-mirror", 90.0),
        ("stub-mirror", 40.0),
    ]
    assert next(each.options for each in job.steps if each.label == "band") == EdgeOptions()


def test_a_change_given_again_without_a_word_is_taken_after_the_inherited_one() -> None:
    """Changes are steps, one after another: two of one name are often two sides, or two darts."""
    job = read('[[changes]]\nchange = "stub-lengthen"\ndepth = 7\n')
    assert [each for each in depths(job) if each[0] == "stub-lengthen"] == [
        ("stub-lengthen", 20.0),
        ("stub-lengthen", 70.0),
    ]


def test_a_chain_leaves_out_what_any_below_it_says() -> None:
    """And what was left out below isn't inherited any more."""
    read('leave_out = ["stub-lengthen"]\n')
    assert depths(read('leave_out = ["stub-mirror 2"]\n', "summer.toml", on="spring.toml")) == [("stub-mirror", 30.0)]
    assert "isn't inherited" in refusal('leave_out = ["stub-lengthen"]\n', "summer.toml", on="spring.toml")


@pytest.mark.parametrize(
    ("head", "says"),
    [
        ('leave_out = ["stub-lengthn"]\n', "did you mean stub-lengthen?"),
        ('leave_out = ["arms"]\n', "did you mean blocks.arms?"),
        ('leave_out = ["stripe"]\n', "did you mean cloth.stripe?"),
        (
            'leave_out = ["stub-mirror"]\n',
            'names 2 inherited changes; allowed: "stub-mirror 1" (first.toml: changes[2]), "',
        ),
        ('leave_out = ["stub-mirror 3"]\n', "isn't inherited"),
        ('leave_out = ["stub-mirror 0"]\n', "isn't inherited"),
        (
            'leave_out = ["quaver"]\n',
            "allowed: stub-lengthen, stub-mirror 1, stub-mirror 2, title, fit, cloths, clo",
        ),
        ('leave_out = [""]\n', "isn't inherited"),
        ('leave_out = ["unit"]\nunit = "in"\n', "write unit in this ticket as you want it"),
        ('leave_out = ["paper.join"]\n[paper]\njoin = "butt"\n', "it stands in this ticket itself"),
        ('[paper]\nleave_out = ["stub-lengthen"]\n', "leave_out stands at the top of a ticket"),
    ],
)
def test_what_is_not_inherited_is_refused_with_what_is(head: str, says: str) -> None:
    """With its file, key and names that are nearly it."""
    said = refusal(head)
    assert says in said
    assert "spring.toml: " in said


@pytest.mark.parametrize(
    "none", ['[cloth]\nstripe = "none"', "[cloth.stripe]\nrepeat = 0", '[cloth.stripe]\nrepeat = "0 in"']
)
def test_no_stripe_may_be_said_so(none: str) -> None:
    """As a word, or as a repeat of nothing."""
    assert read(none).brief.cloth.stripe is None
    assert "a table [cloth.stripe]" in refusal('[cloth]\nstripe = "checks"')
    assert "allowed: 1 mm to 200.0 cm" in refusal("[cloth.stripe]\nrepeat = -1")
