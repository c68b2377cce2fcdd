"""What a ticket builds on: files in its own folder and below, or in a folder allowed; no circle, no endless chain."""

from __future__ import annotations

import os
from collections.abc import Callable
from pathlib import Path

import pytest

from drafting.errors import InputError
from drafting.ticket import read_job
from tests.ticket.stubs import WHOLE, catalogue

Write = Callable[..., Path]


def refusal(path: Path) -> str:
    """Return all that is said of a ticket that is refused."""
    with pytest.raises(InputError) as caught:
        read_job(path, catalogue())
    return str(caught.value)


def test_a_ticket_is_found_relative_to_the_one_that_builds_on_it(
    write: Write, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Wherever the command is given."""
    (tmp_path / "choir").mkdir()
    write('builds_on = "choir/tenor.toml"\n', "alto.toml")
    write('builds_on = "bass.toml"\n', "choir/tenor.toml")
    write(WHOLE, "choir/bass.toml")
    monkeypatch.chdir(tmp_path / "choir")
    assert read_job(tmp_path / "alto.toml", catalogue()).title == "Test top"
    assert read_job(Path("tenor.toml"), catalogue()).title == "Test top"


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("../base.toml", "lies outside the folder of tenor.toml"),
        ("../choir-2/base.toml", "lies outside"),
        ("old/../../base.toml", "lies outside"),
        ("{folder}/base.toml", "lies outside"),
        ("/etc/nowhere.toml", "lies outside"),
        ("link.toml", "lies outside"),
        ("link", "lies outside"),
        ("linked/base.toml", "lies outside"),
        ("../gone.toml", "lies outside"),
        ("//choir/share/base.toml", "is a place on the network"),
        ("\\\\choir\\share\\base.toml", "is a place on the network"),
        ("file:///base.toml", "is a place on the network"),
        ("https://choir.example/base.toml", "is a place on the network"),
        ("pipe.toml", "there is no file"),
        ("old", "there is no design"),
    ],
)
def test_a_ticket_builds_on_nothing_outside_its_folder(write: Write, tmp_path: Path, name: str, says: str) -> None:
    """By no way, absolute path or link; whether a file is there or not isn't told."""
    for folder in ("choir", "choir/old", "choir-2"):
        (tmp_path / folder).mkdir()
    for file in ("base.toml", "choir-2/base.toml"):
        write(WHOLE, file)
    (tmp_path / "choir" / "link.toml").symlink_to(tmp_path / "base.toml")
    (tmp_path / "choir" / "linked").symlink_to(tmp_path)
    os.mkfifo(tmp_path / "choir" / "pipe.toml")
    text = name.format(folder=tmp_path).replace("\\", "\\\\")
    path = write(f'builds_on = "{text}"\n', "choir/tenor.toml")
    said = refusal(path)
    assert said.startswith("tenor.toml: builds_on: ")
    assert says in said
    if "outside" in says:
        assert "allow its folder in the command: --from FOLDER" in said
        if "gone" not in name and "nowhere" not in name:
            assert read_job(path, catalogue(), folders=[tmp_path]).title == "Test top"
            with pytest.raises(InputError, match="outside"):
                read_job(path, catalogue(), folders=[tmp_path / "choir"])


def test_circles_are_refused_by_name(write: Write) -> None:
    """Of one, two or three tickets."""
    write('builds_on = "b.toml"\n', "a.toml")
    write('builds_on = "c.toml"\n', "b.toml")
    assert "in a circle: a.toml → b.toml → c.toml → a.toml" in refusal(
        write('builds_on = "a.toml"\n', "c.toml").with_name("a.toml")
    )
    assert "circle" in refusal(write('builds_on = "own.toml"\n', "own.toml"))


def test_an_endless_chain_is_refused(write: Write) -> None:
    """Twenty tickets, each on the next."""
    for place in range(20):
        write(f'builds_on = "t{place + 1}.toml"\n', f"t{place}.toml")
    write(WHOLE, "t20.toml")
    assert "too many tickets" in refusal(write(WHOLE, "t20.toml").with_name("t0.toml"))
