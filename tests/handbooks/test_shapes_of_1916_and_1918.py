"""Worked drafts of 1916 and 1918 laid over ours, centre on centre: how far apart each of their lines lies.

They hold seam allowance in some lines (Rosenfeld 1911, p. 255, treats drafts without seams apart): 15 mm is near. What
the sources as quoted don't give isn't drawn: no curve between its ends, and of the shirt of 1916 neither shoulder nor
depth.
"""

from __future__ import annotations

from drafting.body import Body, make_body
from drafting.cloth import Fit
from tests.blocks_woven.people import bodice, brief_for, mean_person
from tests.handbooks.drafts import (
    INCH,
    OldDraft,
    OwnHalf,
    baldt_back,
    baldt_front,
    burton_front,
    lay_over,
    rosenfeld_back,
)

NEAR = 15.0
BELOW_ARMPIT = 40.0
"""mm; the draft of 1918 cuts the armhole at the armpit's depth, ours lies 1 to 4 cm below (from memory)."""


def size_36() -> Body:
    """Rosenfeld's: bust 39, waist 25, hip 43, stature 66, nape to waist 15 1/2, back depth 7 in."""
    given = {
        "bust_girth": 39.0,
        "waist_girth": 25.0,
        "hip_girth": 43.0,
        "stature": 66.0,
        "back_neck_point_to_waist": 15.5,
        "scye_depth_length": 7.0,
    }
    return make_body("size 36", {name: inches * INCH for name, inches in given.items()})


def necked(inches: float, shoulder: float | None = None) -> Body:
    """The mean woman of 1988 with a neck of so many inches at its base, and perhaps a shoulder."""
    given = {**mean_person().values, "neck_base_girth": inches * INCH}
    return Body("of 1916", given | ({} if shoulder is None else {"shoulder_length": shoulder * INCH}))


def compared() -> list[tuple[str, OldDraft, OwnHalf]]:
    """Each draft, and ours for the same inputs."""
    mean = mean_person()
    half_back, half_front = (mean[f"across_{face}_width"] / 2.0 / INCH for face in ("back", "front"))
    neck = mean["neck_base_girth"] / INCH
    relaxed, of_36 = bodice(brief_for(mean, Fit.RELAXED)), bodice(brief_for(size_36()), back_shoulder="ease")
    burton = {inches: bodice(brief_for(necked(inches, 5.0))) for inches in (13.0, 14.0)}
    return [
        *((f"Burton, neck {n:g} in", burton_front(n, 5.0), OwnHalf(g, "front")) for n, g in burton.items()),
        ("Rosenfeld, size 36", rosenfeld_back(7.0, 15.5, 36.0), OwnHalf(of_36, "back")),
        ("Baldt, back", baldt_back(neck, half_back), OwnHalf(relaxed, "back")),
        ("Baldt, front", baldt_front(neck, half_front), OwnHalf(relaxed, "front")),
    ]


def test_old_drafts_laid_over_ours() -> None:
    """Neck, shoulder, armhole and waist: each line that a source gives lies near ours."""
    for name, draft, own in compared():
        for line, far in lay_over(draft, own).items():
            most = NEAR + (BELOW_ARMPIT if line == "armhole, underarm" else 0.0)
            assert far <= most, f"{name}, {line}: {far:.1f} mm apart ({draft.source})"
