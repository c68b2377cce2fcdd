"""A body is one person's: taken whole from one ticket, or merged where the ticket says that it is the same person."""

from __future__ import annotations

from pathlib import Path

import pytest

from drafting.errors import InputError
from drafting.ticket import Job, read_job
from tests.ticket.stubs import WHOLE, catalogue

ALTO = """
[wearer]
name = "Alto"
[wearer.body]
stature = 172
bust_girth = 104
waist_girth = 88
hip_girth = 110
back_neck_point_to_waist = 42
"""
SOPRANO = WHOLE.replace('"Alto"', '"Soprano"').replace(
    "stature = 168", "stature = 168\nupper_arm_girth = 30\nwrist_girth = 16\nshoulder_slope_left = '26 deg'"
)
SAME = "[wearer]\nsame_person = true\n"


@pytest.fixture(autouse=True)
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A folder with the soprano's ticket."""
    monkeypatch.chdir(tmp_path)
    Path("soprano.toml").write_text(SOPRANO, encoding="utf-8")


def read(text: str, file: str = "alto.toml", on: str = "soprano.toml") -> Job:
    """Read a ticket that builds on the soprano's, or on another."""
    Path(file).write_text(f'builds_on = "{on}"\n{text}', encoding="utf-8")
    return read_job(Path(file), catalogue())


def refusal(text: str, file: str = "alto.toml", on: str = "soprano.toml") -> str:
    """Return what is said of a ticket that is refused, in one line."""
    with pytest.raises(InputError) as caught:
        read(text, file, on)
    assert len(caught.value.problems) == 1
    return str(caught.value)


def test_another_persons_measurements_are_not_taken() -> None:
    """The alto with five measurements of her own has no arm, wrist or shoulder of the soprano's."""
    job = read(ALTO)
    assert sorted(job.brief.body.given) == sorted(
        line.split(" =")[0] for line in ALTO.splitlines() if "_" in line or "stature" in line
    )
    assert job.sources.strangers == ("soprano.toml",)
    assert job.brief.body.values == read_job(_alone(ALTO), catalogue()).brief.body.values


def _alone(wearer: str) -> Path:
    """A ticket with that wearer that builds on none with another."""
    path = Path("alone.toml")
    path.write_text(wearer + WHOLE[WHOLE.index("[cloth]") :], encoding="utf-8")
    return path


@pytest.mark.parametrize(
    "wearer",
    [
        '[wearer]\nname = "Alto"\n',
        '[wearer]\naverages = "men"\n',
        "[wearer.body]\nhip_girth = 104\n",
        '[wearer]\nname = "Soprano"\n[wearer.body]\nhip_girth = 104\n',
        ALTO.replace("bust_girth = 104\n", ""),
    ],
)
def test_what_another_person_lacks_is_refused_with_both_mends(wearer: str) -> None:
    """A name, averages or a figure alone would make a body of two people's figures."""
    said = refusal(wearer)
    assert said.startswith("alto.toml: wearer.body: still needed: ")
    assert "bust girth" in said
    assert "the wearer of soprano.toml isn't taken" in said
    assert "give these measurements too" in said
    assert "same_person = true" in said
    assert ("take the name out" in said) == ("name =" in wearer)


def test_the_same_person_measured_anew_is_merged_and_said() -> None:
    """Next month's version alters one figure; the rest stands where it was, and so does the name."""
    job = read(f'unit = "in"\n{SAME}[wearer.body]\nhip_girth = 41\n', "spring.toml")
    assert job.wearer == "Soprano"
    assert job.brief.body["hip_girth"] == pytest.approx(1041.4)
    assert job.brief.body["upper_arm_girth"] == 300.0
    assert job.sources.measured[0] == ("spring.toml", ("hip_girth",))
    assert job.sources.sentences() == (
        "The same person's measurements: hip girth from spring.toml; all others from soprano.toml.",
    )


def test_a_version_that_says_nothing_of_its_wearer_is_for_the_same_one() -> None:
    """A blank name says nothing either."""
    for wearer in ("", "[wearer]\n", '[wearer]\nname = ""\n', "[wearer]\nsame_person = true\n"):
        job = read(wearer)
        assert (job.wearer, job.brief.body["wrist_girth"]) == ("Soprano", 160.0)
        assert (job.sources.measured, job.sources.strangers) == ((), ())


def test_both_shoulders_measured_anew_stand_over_the_sides_measured_before() -> None:
    """Else the figure in the version would have no effect; and one side measured anew leaves the other."""
    job = read(f"{SAME}[wearer.body]\nshoulder_slope = '20 deg'\n")
    assert "shoulder_slope_left" not in job.brief.body.given
    assert "Shoulder slope left of soprano.toml gave way to what was measured anew." in job.sources.sentences()
    job = read(f"{SAME}[wearer.body]\nshoulder_slope_right = '20 deg'\n")
    assert {"shoulder_slope_left", "shoulder_slope_right"} <= set(job.brief.body.given)


def test_the_same_person_by_another_name_is_refused() -> None:
    """A name is all by which two people can be told apart; how it is written doesn't matter."""
    said = refusal(SAME + 'name = "Alto"\n')
    assert said.startswith("alto.toml: wearer.name: Alto, but soprano.toml is for Soprano")
    assert read(SAME + 'name = " SOPRANO"\n').wearer == "SOPRANO"


def test_a_name_left_out_is_not_forgotten() -> None:
    """Neither by the ticket itself, nor by one between."""
    left = 'leave_out = ["wearer.name"]\n'
    assert "soprano.toml is for Soprano" in refusal(f'{left}{SAME}name = "Alto"\n')
    read(f"{left}{SAME}[wearer.body]\nhip_girth = 99\n", "between.toml")
    assert "soprano.toml is for Soprano" in refusal(f'{SAME}name = "Alto"\n', on="between.toml")


def test_the_same_person_as_no_one_is_refused() -> None:
    """A design has no wearer."""
    Path("design.toml").write_text('[blocks.body]\nblock = "stub-body"\n', encoding="utf-8")
    said = refusal(WHOLE.replace("[wearer]", SAME), on="design.toml")
    assert "alto.toml: wearer.same_person: true, but nothing that this ticket builds on has a wearer" in said


def test_in_a_chain_each_is_the_person_of_the_one_before() -> None:
    """The soprano's, the alto's on that, and the alto's measured anew: nothing of the soprano's comes back."""
    read(ALTO)
    job = read(SAME + "[wearer.body]\nhip_girth = 112\n", "spring.toml", on="alto.toml")
    assert (job.wearer, job.brief.body["hip_girth"], job.brief.body["bust_girth"]) == ("Alto", 1120.0, 1040.0)
    assert "wrist_girth" not in job.brief.body.given
    job = read("", "summer.toml", on="spring.toml")
    assert job.brief.body["hip_girth"] == 1120.0


def test_what_contradicts_is_told_in_the_file_it_stands_in() -> None:
    """A range is broken in the base, not in the version that builds on it."""
    Path("soprano.toml").write_text(SOPRANO.replace("wrist_girth = 16", "wrist_girth = 160"), encoding="utf-8")
    assert refusal("").startswith("soprano.toml: wearer.body.wrist_girth")
