"""What to look for on a first toile: where, what is seen, what it means, which change answers it, and by how much.

All of it is common practice in fitting, in plain trade words.
"""

from __future__ import annotations

from dataclasses import replace

from drafting.cautions import ON_THE_WEARER
from drafting.mending import Advisor, Situation
from drafting.record import dataclass


@dataclass(frozen=True, slots=True)
class Fold:
    """One thing to look for on a toile: where, on what part, what is seen, what it means, and what answers it.

    ``needs`` is what of the garment else it takes ("bust dart"), "" for nothing; ``without`` what it isn't for.
    ``situation`` is what a change may say that it mends, "" where the answer is another; ``changes`` are those
    installed that do, and ``amount`` how what is pinned, let out or measured on the toile becomes an option of theirs.
    One is ``warned`` of that the garment's proof warns of, too.
    """

    part: str
    where: str
    seen: str
    means: str
    answer: str
    situation: str = ""
    changes: tuple[str, ...] = ()
    amount: str = ""
    needs: str = ""
    without: str = ""
    warned: bool = False

    @property
    def written(self) -> str:
        """How a ticket asks for what mends it: change = "sway-back"; "" where no change does."""
        return "change = " + " or ".join(f'"{name}"' for name in self.changes) if self.changes else ""

    def answered(self, advisor: Advisor) -> Fold:
        """Return it with the changes that mend it, as far as they are installed."""
        found = advisor(self.situation) if self.situation else ()
        told = (str(advice.words(Situation(self.situation))) for advice in found)
        return replace(self, changes=tuple(advice.change for advice in found), amount="; or ".join(told))


HOLLOW_BACK = "toile-back-hollow"
"""The situation whose change stands as the example of how a ticket asks for one."""


def fitting_steps(darts: bool, closure: bool) -> tuple[str, ...]:
    """Return how to fit a first toile, of a garment with darts or none, with a closure or none (common practice)."""
    sewn = f"Sew it with long stitches{', darts first' * darts}"
    sewn += "; leave the closure open and pin it on the wearer." if closure else "."
    return (_CUT, sewn, *_STEPS, ON_THE_WEARER)


_CUT = (
    "Cut the toile in a cheap cloth of about the same weight and stretch; mark centres, waist, hip and bust levels on "
    "it."
)
_STEPS = (
    "Wear what will be worn beneath. Stand easy, look ahead; then sit, reach forwards and lift both arms.",
    "Look from the front, the side and the back. Begin at the top: neck and shoulders, then bust and back, "
    "then waist and hip.",
    "A fold points to where the trouble is: a tight fold to where there is too little cloth, a loose one to too much.",
    "Measure again where a fold shows. Alter that measurement in the ticket, or add the fit change, and make the "
    "pattern again.",
)

FOLDS: tuple[Fold, ...] = (
    Fold("neck", "Front neckline", "stands away from the chest", "more length there than the body has, or a hollow "
         "chest", "fold the spare out of the front on the paper, to nothing at the armhole, or raise the neckline",
         "toile-neckline-gapes", without="bust dart"),
    Fold("neck", "Front neckline", "stands away from the chest", "more length there than the body has, or a hollow "
         "chest", "turn the spare into the bust dart, or raise the neckline", "toile-neckline-gapes",
         needs="bust dart"),
    Fold("neck", "Neck all round", "cuts in, or pulls small folds round it", "the neck base is larger than drafted",
         "measure the neck base again"),
    Fold("shoulder", "Shoulder end", "folds slant from the neck down to the armhole", "the shoulders slope more than "
         "drafted", "sloping shoulders", "toile-shoulders-slope"),
    Fold("shoulder", "Below the neck, front and back", "a fold lies across, and it pulls at the shoulder ends",
         "the shoulders are squarer than drafted", "square shoulders", "toile-shoulders-square"),
    Fold("shoulder", "Shoulder seam", "lies behind the top of the shoulder, and folds run from it to the front armhole",
         "the shoulders lie forward", "forward shoulder", "toile-shoulders-forward"),
    Fold("shoulder", "One shoulder", "folds slant to the armhole on one side only", "one shoulder is lower than the "
         "other", "one shoulder lower: measure left and right apart, or lower it", "toile-shoulder-lower"),
    Fold("bust", "Bust", "folds run from the bust points to the sides, and the front rises at its lower edge",
         "the bust is fuller than was drafted for", "full bust", "toile-bust-fuller"),
    Fold("bust", "Bust", "cloth hangs loose over the bust", "the bust is smaller than was drafted for, or the fit is "
         "looser than you like", "measure the bust again, or ask for a closer fit", without="bust dart"),
    Fold("bust", "Bust", "cloth hangs loose over the bust, or a dart's end stands out", "the bust is smaller than "
         "the dart allows for", "small bust", "toile-bust-smaller", needs="bust dart"),
    Fold("bust", "Bust dart", "points above, below or past the bust point", "the bust point lies elsewhere",
         "measure the bust point again, or turn the dart", "toile-bust-point-elsewhere", needs="bust dart"),
    Fold("armhole", "Front armhole", "gapes", "spare length over the bust", "full bust", "toile-bust-fuller",
         without="bust dart"),
    Fold("armhole", "Front armhole", "gapes", "spare length over the bust that the dart hasn't taken", "full bust, or "
         "turn the spare into the dart", "toile-bust-fuller", needs="bust dart"),
    Fold("armhole", "Underarm", "cuts in when the arm hangs", "the armhole is too high", "lower the underarm",
         "toile-armhole-high"),
    Fold("back", "Across the back", "folds drawn tight between the armholes, worst reaching forwards",
         "the back is broader than drafted", "broad back", "toile-back-broader"),
    Fold("back", "Across the back", "a loose upright fold beside each armhole", "the back is narrower than drafted",
         "narrow back", "toile-back-narrower"),
    Fold("waist", "Back waist", "a loose fold lies across, just above the waist", "the back is hollow there: more "
         "length than it needs", "sway back", HOLLOW_BACK),
    Fold("waist", "Waist", "cloth bunches above it, the waist line sits below the body's waist", "the back and front "
         "are longer than the body", "short waist", "toile-waist-low"),
    Fold("waist", "Waist", "the waist line rides above the body's waist, and pulls when the arms are lifted",
         "the back and front are shorter than the body", "long waist", "toile-waist-high"),
    Fold("waist", "Waist", "folds drawn tight round it", "the waist is larger than drafted, or wants more ease",
         "measure the waist again, or give it more ease"),
    Fold("hip", "Hip", "tight folds lie across, and the lower edge rides up", "the hip is larger than drafted",
         "measure the hip again, or give it more ease"),
    Fold("hip", "Hem", "hangs higher on one side, with folds running up to that hip", "one hip stands higher",
         "high hip on one side", "toile-hip-higher"),
    Fold("skirt", "Below the back waist", "a loose fold lies across", "the back dips at the waist", "sway back",
         HOLLOW_BACK),
    Fold("skirt", "Side seam", "swings forwards at the hem", "the belly lifts the front", "on the paper, raise "
         "the waist edge at the centre front, to nothing at the sides"),
    Fold("skirt", "Side seam", "swings backwards at the hem", "the seat lifts the back", "on the paper, raise the "
         "waist edge at the centre back, to nothing at the sides"),
    Fold("skirt", "Dart ends", "a bubble stands at the point", "the dart is too deep or too long for the curve",
         "share it between two darts, or shorten it", "toile-dart-deep", needs="skirt dart"),
    Fold("sleeve", "Upper arm", "tight folds lie across", "the arm is fuller than drafted", "full upper arm",
         "toile-arm-fuller"),
    Fold("sleeve", "Cap", "folds slant from its top to the front or the back of the armhole", "the arm hangs farther "
         "forwards or back than the sleeve", "pin the sleeve in anew as the arm hangs, and move its cap's notches on "
         "the paper"),
    Fold("sleeve", "Elbow", "folds gather, and the wrist rides up when it bends", "too little length or room at the "
         "elbow", "lengthen the sleeve above the elbow", "toile-elbow-tight"),
)  # fmt: skip
"""What to look for on a first toile (common practice), from the neck down."""
