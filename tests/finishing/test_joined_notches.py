"""What a notch joins: the pieces on the other side of its seam, each of which bears its number."""

from __future__ import annotations

from functools import cache

import pytest

from drafting.finishing import CutPiece
from drafting.finishing.cutpiece import letters_on_paper
from drafting.job import draft_job, finish_job
from drafting.output.pictures.names import tell_joined
from tests.laws.jobs import catalogue, job_of, with_changes

ONE_SIDED = (("shoulder", {"narrow": 20.0, "side": "right"}), ("sleeve-length", {"to": "bracelet", "side": "right"}))


@cache
def cut(design: str, one_sided: bool = False) -> tuple[CutPiece, ...]:
    """The cut pieces of a design."""
    job = with_changes(job_of(design), ONE_SIDED if one_sided else ())
    return finish_job(job, draft_job(job))[0]


def told(pieces: tuple[CutPiece, ...]) -> dict[str, dict[int, set[str]]]:
    """What is told of each number on each piece, by its name."""
    letters = letters_on_paper(pieces)
    found: dict[str, dict[int, set[str]]] = {}
    for piece in pieces:
        for notch in piece.notches:
            found.setdefault(piece.name, {}).setdefault(notch.number, set()).add(
                tell_joined(notch, piece.code, letters)
            )
    return found


@pytest.mark.parametrize("design", [*sorted(catalogue().designs), "one-sided"])
def test_each_piece_that_a_notch_names_bears_its_number(design: str) -> None:
    """What bears none is named by what lies there, a dart or a seam."""
    pieces = cut(design) if design != "one-sided" else cut("diagonal-overlay-top", one_sided=True)
    borne = {name: {notch.number for notch in piece.notches} for piece in pieces for name in piece.stands_for}
    joined = [(notch.number, name) for piece in pieces for notch in piece.notches for name in notch.joins]
    assert joined
    assert [(number, name) for number, name in joined if number and number not in borne[name]] == []


def test_sleeves_that_differ_are_joined_each_to_its_own_cuff() -> None:
    """One sleeve is shorter, so that it and its cuff differ: each has its own side's number."""
    pieces = cut("diagonal-overlay-top", one_sided=True)
    letters = letters_on_paper(pieces)
    wrists = set()
    for side in ("left", "right"):
        (wrist,) = {
            number
            for number, words in told(pieces)[f"sleeve-{side}"].items()
            if letters[f"cuff-{side}"] in " ".join(words).split()
        }
        assert told(pieces)[f"sleeve-{side}"][wrist] == {letters[f"cuff-{side}"]}
        wrists.add(wrist)
    assert len(wrists) == 2


def test_a_place_that_a_dart_or_a_seam_marks_is_told() -> None:
    """The back's notch meets the bust dart of the front, the band's the shoulder seam."""
    said = told(cut("sheath-dress"))
    assert {"A at the bust dart"} in said["back"].values()
    assert {"the shoulder seam"} in told(cut("basic-tee"))["neck-band"].values()
