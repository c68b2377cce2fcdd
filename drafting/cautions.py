"""The cautions for cutting, sewing and fitting: said once in each document; the terminal refers to them."""

from __future__ import annotations

CAUTIONS = (
    "The rules where you live, and what makers say, come first. Blades, pins, needles and hot irons hurt. Cut away "
    "from yourself on a firm surface, keep the other hand behind the blade, and close or cover blades when you lay "
    "them down. Keep fingers clear of the needle, and unplug machines and irons before you handle or leave them. Keep "
    "all of it from children."
)
"""Wherever cutting and sewing are spoken of."""

SEE_CAUTIONS = "Blades, pins, needles and hot irons hurt: read the cautions at the end of the plan."
"""On the terminal, beside a document that tells them whole."""

ON_THE_WEARER = (
    "The rules where you live come first. Take the toile off before you cut it. Where that can't be, slip stiff card "
    "behind, and use blunt-tipped scissors, away from the body. On the wearer pin with safety pins, closed at "
    "once; keep any pin out of the mouth, and its point away from the skin."
)
"""Where something is tried on, pinned and altered."""

AT_A_PROJECTOR = "Don't look into the lamp, and lay cables where nobody trips over them."
"""Where a pattern is thrown onto the table."""

FOR_A_CHILD = (
    "for a child, no cords, ties or drawstrings at the neck, and nothing small that could come off and be swallowed: "
    "the rules for children's clothes are law, differ by country, and aren't checked here"
)
"""Where a small body is drafted."""
