"""What the pictures of zips, hooks, stands and buttons show, and of the facings beside them."""

from __future__ import annotations

import numpy as np
import pytest

from drafting.geometry import are_inside
from drafting.output.layers.fastening import RING_POINTS
from drafting.output.pictures.lettering import sample_courses
from tests.booklet.test_booklet import made, steps_with_views
from tests.booklet.test_step_pictures import SIDE_BUTTONED, views_of


def test_a_zip_is_drawn_between_its_edges_and_its_ends_enlarged() -> None:
    """Its tapes lie on the wrong side; from outside two lines run beside the fold, joined across its lower end alone.

    The seam below it is closed: there the two backs have the edge in common.
    """
    for design in ("sheath-dress", "waist-seam-dress"):
        inside, *held, upper, lower = views_of(design, "Zip at")
        assert len(held) == (design == "sheath-dress")  # its facing is turned in by then
        assert sum(layer.hatched for layer in inside.layers) == 2
        assert all(layer.wrong for layer in inside.layers if not layer.strip)
        assert inside.notches
        assert not any(layer.wrong or layer.hatched for view in (upper, lower) for layer in view.layers)
        left, right = upper.stitched
        assert np.hypot(*(left[-1] - right[-1])) == pytest.approx(12.0, abs=0.1)
        ((*_, near, far),) = [(*both[:1], *both[len(both) // 2 - 1 : len(both) // 2 + 1]) for both in lower.stitched]
        assert np.hypot(*(near - far)) == pytest.approx(12.0, abs=0.1)
        assert lower.focus is not None
        half = len(lower.layers) // 2
        one, two = (layer.points for layer in (lower.layers[half - 1], lower.layers[-1]))
        below = one[one[:, 1] < lower.focus[0, 1] - 100.0]
        assert np.hypot(*(below[:, None, :] - two[None, :, :]).transpose(2, 0, 1)).min() < 1.0


def test_the_ends_of_a_facing_are_held_back_while_the_zip_is_sewn_in() -> None:
    """Each folded over itself, its wrong side seen, clear of the tapes, whose upper ends are folded back too."""
    _, held, *_ = views_of("sheath-dress", "Zip at")
    assert sum(layer.hatched for layer in held.layers) == 4
    *_, one, flap, two, other = held.layers
    assert [layer.wrong for layer in (one, flap, two, other)] == [False, True, False, True]
    tops = np.stack([layer.points.mean(axis=0) for layer in held.layers if layer.hatched][2:])
    assert not any(are_inside(tops, layer.points).any() for layer in (one, flap, two, other))


def test_the_ends_of_a_facing_are_folded_under_beside_the_zip() -> None:
    """Of the back's facing alone; its end lies on the zip's tape, clear of the teeth, and is sewn there."""
    step, (view,) = next(each for each in steps_with_views("sheath-dress") if each[0].said.title == "Facing's ends")
    assert step.meets == ("D back facing",)
    teeth, facing = view.focus, view.layers[-1]
    assert teeth is not None
    assert facing.letter == "D"
    assert np.hypot(*(facing.points[:, None, :] - teeth[None, :, :]).transpose(2, 0, 1)).min() > 5.0
    assert sum(layer.hatched for layer in view.layers) == 2


def test_a_strip_behind_a_zip_is_sewn_to_one_tape_alone() -> None:
    """Over both tapes, its stitching on one; a hook and an eye lie above it, to either side of where the edges meet."""
    whole, close = views_of("sheath-dress", "Zip guard")
    strip, (sewn,), teeth = whole.layers[-1], whole.stitched, whole.focus
    assert close.close
    assert teeth is not None
    assert np.ptp(strip.points[:, 0]) > 30.0
    assert np.hypot(*(sewn[:, None, :] - teeth[None, :, :]).transpose(2, 0, 1)).min() > 9.0
    (hooked,) = views_of("sheath-dress", "Hook and eye")
    sides = {bool(np.sign(each[:, 0].mean() - teeth[0, 0]) > 0.0) for each in hooked.fittings}
    assert sides == {True, False}


def test_the_facing_is_seen_where_hook_and_zip_guard_are_sewn_on() -> None:
    """Turned in by then, right side up, on the neck's edge, clear of the teeth; the hook is on it, above the zip."""
    (hooked,) = views_of("sheath-dress", "Hook and eye")
    guard, close = views_of("sheath-dress", "Zip guard")
    for view in (hooked, guard, close):
        assert [layer.wrong for layer in view.layers if layer.letter == "D"] == [False, False]
    assert hooked.focus is not None
    top = hooked.focus[0]
    facings = [layer.points for layer in hooked.layers if layer.letter == "D"]
    tape = max(layer.points[:, 1].max() for layer in hooked.layers if layer.hatched)
    rings = [each for each in hooked.fittings if np.ptp(each[:, 0]) < 4.0]
    assert len(rings) == 4
    for ring in rings:
        assert any(are_inside(ring.mean(axis=0)[None], points).all() for points in facings)
        assert ring[:, 1].min() > tape
    for points in facings:
        assert np.abs(points[:, 0] - top[0]).min() > 5.0
        assert np.hypot(*(points - top).T).min() < 12.0
    (told,) = (step.said for step, _ in steps_with_views("sheath-dress") if step.said.title == "Zip guard")
    assert any("over the facing's end, its top just below hook and eye" in sentence for sentence in told.sentences)


def test_hook_and_eye_are_sewn_on_first_and_the_zip_guard_ends_below_them() -> None:
    """Else it would lie over the ends they are sewn to; the two are told apart, the eye wider than the hook."""
    titles = [step.said.title for step, _ in steps_with_views("sheath-dress")]
    assert titles.index("Hook and eye") < titles.index("Zip guard")
    whole, close = views_of("sheath-dress", "Zip guard")
    (hooked,) = views_of("sheath-dress", "Hook and eye")
    assert hooked.title.endswith("the eye, in the picture at the left, and the hook")
    assert not whole.fittings
    assert close.layers[-1].points[:, 1].max() < min(each[:, 1].min() for each in close.fittings)
    wires = sorted((each for each in hooked.fittings if np.ptp(each[:, 0]) > 5.0), key=lambda each: each[:, 0].mean())
    eye, *hook = wires
    assert np.ptp(eye[:, 1]) > 1.5 * max(np.ptp(each[:, 1]) for each in hook)
    assert eye[:, 0].max() > min(each[:, 0].min() for each in hook)  # shut: the one passes through the other


@pytest.mark.parametrize(
    ("design", "told", "once"),
    [
        (
            "sheath-dress",
            "Zip at",
            "Fold the upper ends of its tapes back, away from the teeth, just below the neck edge",
        ),
        (
            "sheath-dress",
            "Neck facing",
            "Begin and end at the stitching lines of the centre back, not at the raw edges",
        ),
        ("waist-seam-dress", "Waist seam", "from the one stitching line of the opening to the other"),
        ("half-circle-dress", "Hem", "Mark the fold line there anew"),
        ("half-circle-dress", "Hem", "as high above the floor all round"),
        ("half-circle-dress", "Side and underarm", "waist and armhole seams meeting"),
        ("waist-seam-dress", "Neck facing, sewn", "clear of the zip's teeth"),
        ("waist-seam-dress", "Zip at", "as far as they are still raw"),
        ("half-circle-dress", "Front waist seam", "lay it unstretched on the bodice's wrong side"),
        ("diagonal-overlay-top", "Stay tape", "The neckline of front shoulder piece and back shoulder piece has no"),
        ("diagonal-overlay-top", "Neck binding", "one of its long edges level with that edge"),
    ],
)
def test_a_step_says_where_what_it_works_on_begins_ends_and_lies(design: str, told: str, once: str) -> None:
    """Said once, in the step that it belongs to: no picture shows it."""
    said = [
        words
        for step, _ in steps_with_views(design)
        if step.said.title.startswith(told)
        for words in step.said.sentences
    ]
    assert sum(once in words for words in said) == 1


BUTTONED = '[[changes]]\nchange = "closure"\nkind = "buttons"\n'


def test_a_waist_seam_sewn_flat_that_an_opening_parts_is_two_seams() -> None:
    """Its sides are open still: nothing is a tube to slip over another, and each half has an elastic up to its fold."""
    for kind, fold in (("buttons", 15.0), ("zip", 0.0)):
        steps = steps_with_views("half-circle-dress", BUTTONED.replace("buttons", kind))
        step, views = next(each for each in steps if each[0].said.title.startswith("Back waist seam"))
        told = " ".join(step.said.sentences)
        _, garment, _ = made("half-circle-dress", BUTTONED.replace("buttons", kind))
        long = garment.run_length(step.seams[0].sections[0].plies[0]) + fold
        assert f"two pieces of clear elastic, each {long / 10.0:.1f} cm long" in told
        assert not [words for words in ("Slip the", "inside out", "right side out") if words in told]
        assert {len({layer.letter for layer in view.layers} - {""}) for view in views} == {2}  # one half of it
        assert all(view.title.endswith(", right") for view in views)


def test_a_buttoned_opening_is_drawn_from_its_stands_to_its_buttons() -> None:
    """What has the buttonholes lies on top, its stand over the other edge; a stand shows its wrong side at first."""
    steps = steps_with_views("sheath-dress", SIDE_BUTTONED)
    assert all(views for _, views in steps)
    side = next(step.said for step, _ in steps if step.said.title.startswith("Left side seam"))
    assert "from the point where the opening ends, the stitching secured there, up to" in " ".join(side.sentences)
    *_, seam = next(views for step, views in steps if step.said.title.startswith("Left side seam"))
    assert len([layer for layer in seam.layers if layer.strip and np.ptp(layer.points, axis=0).min() > 40.0]) == 2
    flat, folded, turned = next(views for step, views in steps if step.said.title.startswith("Opening"))
    assert [view.layers[-1].wrong for view in (folded, turned)] == [True, False]
    assert flat.layers[-1].stiff
    assert {notch.name for view in (flat, folded, turned) for notch in view.notches} == {"fold", "left side"}
    shut, close, *_ = next(views for step, views in steps if step.said.title == "Buttons")
    under, front = shut.layers
    assert [layer.letter for layer in (under, front)] == ["B", "A"]
    assert shut.title.endswith("front over back")
    assert (len(close.holes), len(shut.holes)) == (len(close.fittings), 0)  # so small there, they would be blots
    beyond = shut.centres[0][:1] * (1.0, 1.1) + (3.0, 0.0)
    assert are_inside(beyond, front.points).all()  # it goes beyond the line, over the back


def test_the_end_of_a_stand_is_clipped_held_and_covers_the_facing() -> None:
    """Above a seam the allowance is clipped to its last stitch, and lapped ends stitched across; right over left."""
    more = 'leave_out = ["closure"]\n[[changes]]\nchange = "closure"\nkind = "buttons"\n'
    steps = {step.said.title: views for step, views in steps_with_views("fitted-bodice", more)}
    below = next(views for title, views in steps.items() if title.startswith("Centre back"))
    wide = [np.ptp(layer.points[:, 0]) for layer in below[0].layers]
    flat, folded, _ = next(views for title, views in steps.items() if title.startswith("Opening"))
    *_, whole, stiff = (np.ptp(layer.points[:, 0]) for layer in flat.layers)
    assert whole - stiff == pytest.approx(15.0, abs=0.5)  # from the fold line to the long edge
    (clip,), (across,) = folded.clips, folded.stitched
    assert np.hypot(*(across - clip[0]).T).min() == pytest.approx(1.0, abs=0.1)
    assert "opening end" in {notch.name for notch in folded.notches if notch.number}
    two = [layer for layer in below[-1].layers if layer.strip][-2:]  # each edge, with the stand above
    assert [float(np.ptp(layer.points[:, 0])) for layer in two] == pytest.approx([52.0, 52.0], abs=6.0)  # aslant
    end = next(notch for notch in below[-1].notches if notch.number)
    wider = [layer.points[np.abs(layer.points[:, 0] - end.x) > 12.0] for layer in two]
    assert [end.y - points[:, 1].min() for points in wider] == pytest.approx([10.0, 10.0], abs=2.0)  # raw
    told = {step.said.title: " ".join(step.said.sentences) for step, _ in steps_with_views("fitted-bodice", more)}
    opening = next(words for title, words in told.items() if title.startswith("Opening"))
    marked = "centre back line, buttons, buttonholes and notch 5 through to the right side"
    lower = "Fold the rest of its lower end in, from the seam to the long edge"
    assert 0 < opening.index(marked) < opening.index("Fold each stand") < opening.index(lower)
    assert "broken line at each of its ends lies on the centre back" in told["Neck facing, sewn on"]
    assert told["Buttons"].count("where the thread marks them") == 2
    over, inside, laid, turned = steps["Neck facing, sewn on"]
    for view, wrong in ((laid, True), (turned, False)):  # both stands lie over the facing's ends there, too
        assert [(layer.strip, layer.wrong) for layer in view.layers[-2:]] == [(True, wrong)] * 2
        hidden = [are_inside(course, layer.points).any() for course in view.stitched for layer in view.layers[-2:]]
        assert hidden == [wrong] * len(hidden)
        assert {layer.shift for layer in view.layers[-2:]} == {max(layer.shift for layer in view.layers[:-2])}
    (round_neck,) = laid.stitched
    assert np.hypot(*(round_neck[0] - round_neck[1])) > 14.0  # on over the stand, 15 mm wide, to its fold
    assert [layer.wrong for layer in over.layers[-2:]] == [True, True]
    for layer in (over.layers[0], over.layers[-2]):  # B and the facing are caught, level with the stand's raw end
        assert are_inside(over.stitched[-1][1:-1], layer.points).all()
        near = layer.points[np.abs(layer.points[:, 0] - over.stitched[-1][0, 0]) < 4.0][:, 1]
        assert near.max() == pytest.approx(over.layers[-1].points[:, 1].max(), abs=1.5)
    assert [layer.wrong for layer in inside.layers[-2:]] == [False, False]
    shut, upper, lower = steps["Buttons"]
    assert shut.title.endswith("right back over left back")
    assert [len(view.stitched) for view in (shut, upper, lower)] == [1, 1, 1]
    ring = next(each for each in upper.fittings if len(each) == RING_POINTS)
    line = sample_courses([upper.centres[0]])
    assert [notch.name for view in (upper, lower) for notch in view.notches] == [
        "centre back",
        "centre back",
        "opening end",
    ]
    assert np.hypot(*(line - ring[:-1].mean(axis=0)).T).min() < 0.8  # the button lies on the line
    assert min(wide) > 250.0 + 52.0  # the stands jut out where the seam isn't sewn yet
