"""Whether an earlier print still serves: decided by where points lie, not by a hash of rounded figures."""

from __future__ import annotations

import json
import random
from dataclasses import replace
from functools import cache

import pytest

from drafting.finishing import CutPiece, Drawn, EarlierDraft, Printed, keep_numbers, record_print
from drafting.finishing.cutpiece import Mark, Notch
from drafting.geometry import Affine, Path, Point
from drafting.job import Result, run
from drafting.proof import AsPrinted, proof_document, read_prints
from drafting.sides import Side
from drafting.tolerance import TOLERANCE
from tests.laws.jobs import job_of, with_changes

EDGE = 0.005
"""mm: what is rounded to a hundredth turns over here."""


@cache
def made() -> Result:
    """A top, drafted and finished."""
    return run(job_of("knit-top"), lay=False)


def document(result: Result) -> str:
    """The proof's document of a result, as a file holds it."""
    return json.dumps(proof_document(result.proof, title="", mark="", unit="cm", printed=AsPrinted(result.prints)))


def shaken(piece: CutPiece, by: float, seed: int = 0) -> CutPiece:
    """A piece each of whose points is moved by as much, one way or the other."""
    chance = random.Random(seed)

    def shake(path: Path) -> Path:
        figures = path.segments.copy()
        figures += [[[chance.choice((-by, by)) for _ in point] for point in cubic] for cubic in figures]
        return Path(figures)

    outline = tuple(replace(edge, path=shake(edge.path)) for edge in piece.outline)
    return replace(piece, outline=outline, marks=tuple(replace(mark, path=shake(mark.path)) for mark in piece.marks))


def on_edges(piece: CutPiece) -> CutPiece:
    """A piece moved so that all its points lie where rounding turns over."""

    def rounded(path: Path) -> Path:
        return Path((path.segments * 50.0).round() / 50.0 + EDGE)

    return replace(piece, outline=tuple(replace(edge, path=rounded(edge.path)) for edge in piece.outline), marks=())


@pytest.mark.parametrize("seed", range(3))
def test_the_last_figures_of_sums_never_print_a_piece_again(seed: int) -> None:
    """Whatever a processor makes of them, though every point lay on the edge of rounding."""
    for piece in made().cut:
        for lying in (piece, on_edges(piece)):
            before, after = record_print(shaken(lying, 1e-9, seed)), record_print(shaken(lying, 1e-9, seed + 7))
            assert before.serves_for(after)


def test_what_moved_visibly_is_printed_again() -> None:
    """A line moved by a tenth of a millimetre, a turned grain, another name, a mark more."""
    for piece in made().cut:
        before = record_print(piece)
        edge = piece.outline[0]
        moved = replace(edge, path=edge.path.moved(Point(0.0, 2.0 * TOLERANCE.printed)))
        others = (
            replace(piece, outline=(moved, *piece.outline[1:])),
            replace(piece, grain=Point(piece.grain.x + 0.02, piece.grain.y)),
            replace(piece, quantity=piece.quantity + 1, how="cut one more"),
            replace(piece, cloth="another"),
            replace(piece, marks=tuple(mark for mark in piece.marks if mark.kind != "stitch")),
            replace(piece, drills=(*piece.drills, ("here", Point(0.0, 0.0)))),
        )
        assert not any(before.serves_for(record_print(other)) for other in others)


def test_a_dotted_line_prints_no_piece_again() -> None:
    """Levels, places to lengthen at and arrows are told on paper: nothing is cut or sewn by them. A zone is."""
    for piece in made().cut:
        before = record_print(piece)
        told = [mark for mark in piece.marks if mark.kind in ("level", "adjust", "stretch", "grain")]
        assert told
        assert before.serves_for(record_print(replace(piece, marks=tuple(m for m in piece.marks if m not in told))))
        zone = Mark("zone", "stay", piece.outline[0].path)
        assert not before.serves_for(record_print(replace(piece, marks=(*piece.marks, zone))))


def test_a_print_is_read_back_from_the_proof_as_it_was_written() -> None:
    """To a hundredth of a millimetre, and it serves for itself."""
    read = read_prints(json.loads(document(made())))
    assert [(each.code, each.name, each.said) for each in read] == [
        (each.code, each.name, each.said) for each in made().prints
    ]
    for there, here in zip(read, made().prints, strict=True):
        assert there.serves_for(here)
        for one, two in zip(there.drawn, here.drawn, strict=True):
            assert one.at == pytest.approx(two.at, abs=0.00501)


def test_a_draft_that_changes_nothing_hands_the_same_prints_on() -> None:
    """So that moves too small to show can't add up over many versions: each is compared with the paper there is."""
    first = {each.name: each for each in read_prints(json.loads(document(made())))}
    moved = {name: _moved(each, 0.8 * TOLERANCE.printed) for name, each in first.items()}
    second = run(job_of("knit-top"), lay=False, since=EarlierDraft(moved))
    assert [each.name for each in second.same] == list(first)
    handed_on = read_prints(json.loads(document(second)))
    assert {each.name: each for each in handed_on} == _as_written(moved), "the prints on the table, not today's lines"


def _moved(printed: Printed, by: float) -> Printed:
    return replace(
        printed, drawn=tuple(replace(each, at=tuple(figure + by for figure in each.at)) for each in printed.drawn)
    )


def _as_written(prints: dict[str, Printed]) -> dict[str, Printed]:
    result = replace(made(), prints=tuple(prints.values()))
    return {each.name: each for each in read_prints(json.loads(document(result)))}


@cache
def narrower() -> Result:
    """The top with one shoulder narrowed, beside the prints of the first."""
    old = {each.name: each for each in read_prints(json.loads(document(made())))}
    job = with_changes(job_of("knit-top"), [("shoulder", {"narrow": 10.0, "across": 0.6, "side": Side.RIGHT})])
    return run(job, lay=False, since=EarlierDraft(old))


def test_of_a_pair_that_parts_the_side_that_stays_keeps_its_print() -> None:
    """The left sleeve is cut by the print of both, which keeps letter and numbers; the cuffs, alike, stay one piece."""
    first, second = ({piece.name: piece for piece in result.cut} for result in (made(), narrower()))
    assert [piece.name for piece in narrower().same] == ["sleeve-left", "cuff", "neck-band", "hem-band"]
    assert second["sleeve-left"].code == first["sleeve"].code
    assert [n.number for n in second["sleeve-left"].notches] == [n.number for n in first["sleeve"].notches]
    assert second["sleeve-right"].code not in {piece.code for piece in first.values()}
    assert narrower().served["sleeve-left"].one_of_pair


def test_a_label_names_a_notch_by_the_number_that_it_has() -> None:
    """The mitre of the neck band comes to the V point, which keeps its number, on band and front alike."""
    (v_point,) = {notch.number for piece in narrower().cut for notch in piece.notches if notch.name == "V point"}
    told = [next(label for label in piece.labels if label.startswith("mitre")) for piece in _bands()]
    assert told == [f"mitre to notch {v_point} V point"] * 2


def _bands() -> list[CutPiece]:
    return [piece for result in (made(), narrower()) for piece in result.cut if piece.name == "neck-band"]


def test_the_other_of_a_pair_lies_turned_over_on_its_print() -> None:
    """Whatever its lines are called and which way they run; and a piece whose label names another notch serves not."""
    (sleeve,) = (piece for piece in made().cut if piece.name == "sleeve")
    earlier = EarlierDraft({"sleeve": record_print(sleeve)})
    edges = tuple(
        replace(edge, path=edge.path.transformed(Affine.mirror()).reversed()) for edge in reversed(sleeve.outline)
    )
    over = replace(sleeve.mapped(Affine.mirror()), outline=edges, name="sleeve-right", notches=sleeve.notches[::-1])
    over = replace(over, notches=tuple(map(_mirrored, over.notches)))
    found = earlier.find_print(record_print(over))
    assert found is not None
    assert found.over
    assert found.numbers == tuple(notch.number for notch in over.notches)
    assert not earlier.serves_for(replace(record_print(sleeve), told=(7,)))


def _mirrored(notch: Notch) -> Notch:
    map_ = Affine.mirror()
    return replace(notch, at=map_.apply(notch.at), inward=map_.apply(notch.inward))


def test_what_is_kept_is_small() -> None:
    """A few kilobytes a piece, so that the proof stays a file to look at."""
    pieces = json.loads(document(made()))["pieces"]
    assert len(json.dumps(pieces)) < 4000 * len(pieces)


def test_numbers_of_two_prints_are_never_mixed_up() -> None:
    """A new notch takes no number of an earlier print; where two earlier ones are one now, it keeps the first's."""
    sleeve, band = (_numbered(name, *notches) for name, *notches in (("sleeve", 4, 7), ("band", 5)))
    earlier = EarlierDraft({each.name: each for each in (sleeve, band)})
    assert keep_numbers([_numbered("sleeve", 1, 2), _numbered("band", 1)], [1, 2, 3, 4], earlier) == {
        1: 4, 2: 7, 3: 3, 4: 1,
    }  # fmt: skip


def _numbered(name: str, *numbers: int) -> Printed:
    drawn = tuple(Drawn(f"notch seam-{at} 1", (float(at), 0.0)) for at, _ in enumerate(numbers))
    return Printed("A", name, name, "cut 1", drawn, numbers=numbers)
