"""A block or a change is said once: over the function that draws it."""

from __future__ import annotations

from dataclasses import dataclass

import pytest

from drafting.errors import CannotDraft
from drafting.garment import (
    Block,
    Brief,
    Change,
    Face,
    Figure,
    Garment,
    Side,
    Stage,
    block,
    change,
    face_option,
    faces_of,
    option,
    side_option,
    sides_of,
    sum_departures,
)
from tests.garments import BODY, brief, build


@dataclass(frozen=True, slots=True)
class PleatOptions:
    """Options of an invented change."""

    deep: float = option("How deep it is.", "length", 10.0, low=0.0, high=50.0)
    side: str = side_option("On which side.")
    face: str = face_option("On which face.", "front")


@change("pleat", "A pleat.", Stage.SHAPE, needs=("hip_girth",))
def fold_pleat(garment: Garment, brief: Brief, o: PleatOptions) -> Garment:
    """Fold nothing, and refuse a deep one."""
    if o.deep > 20.0:
        raise CannotDraft("deep", "so deep a pleat has no room")
    return garment


def test_a_step_is_made_of_its_function() -> None:
    """Its name, sentence and stage are said once, its options are those that the function takes."""
    assert isinstance(fold_pleat, Change)
    assert (fold_pleat.name, fold_pleat.stage, fold_pleat.needs) == ("pleat", Stage.SHAPE, ("hip_girth",))
    assert fold_pleat.options is PleatOptions
    assert list(fold_pleat.told()) == ["deep", "side", "face"]
    assert isinstance(block("yoke", "A yoke.", Stage.BODY)(fold_pleat.work), Block)


def test_a_change_moves_a_figure_of_its_own() -> None:
    """It is taken before and after, and what it altered is kept with what moves the engine's figures."""
    count = Figure("pieces", lambda garment: iter([("body", float(len(garment.pieces)))]))

    @change("part", "More pieces.", Stage.SHAPE, moves=("waist", count))
    def add_pieces(garment: Garment, brief: Brief, o: PleatOptions) -> Garment:
        return garment.with_(pieces=build(brief, BODY).pieces)

    made = add_pieces.apply(Garment(), brief(), PleatOptions())
    assert sum_departures(made, "pieces", "body") == len(made.pieces) > 0
    assert {each.figure for each in made.departures} == {"pieces"}


def test_a_refusal_names_the_step_that_refused() -> None:
    """Whatever function deep within it raised it."""
    with pytest.raises(CannotDraft, match="pleat: so deep a pleat has no room") as refusal:
        fold_pleat.apply(Garment(), brief(), PleatOptions(deep=30.0))
    assert refusal.value.step == "pleat"
    assert fold_pleat.apply(Garment(), brief(), PleatOptions()) == Garment()


def test_a_function_that_is_no_step_is_told_at_once() -> None:
    """Where it is written, not when a ticket asks for it."""

    def fold(garment: Garment, brief: Brief) -> Garment:
        return garment

    with pytest.raises(TypeError, match="fold takes garment, brief; a step takes"):
        change("fold", "Folds.", Stage.SHAPE)(fold)


def test_sides_and_faces_are_asked_for_alike() -> None:
    """One of them, or both."""
    told = fold_pleat.told()
    assert (told["side"].choices, told["side"].default) == (("both", "left", "right"), "both")
    assert (told["face"].choices, told["face"].default) == (("both", "front", "back"), "front")
    assert [*map(sides_of, told["side"].choices)] == [(Side.LEFT, Side.RIGHT), (Side.LEFT,), (Side.RIGHT,)]
    assert [*map(faces_of, told["face"].choices)] == [(Face.FRONT, Face.BACK), (Face.FRONT,), (Face.BACK,)]
