"""Blockwright's drafting engine: from a body, a cloth and a design to proven pieces on paper.

Words used throughout, each with one meaning:

block
    A parametric definition that drafts pieces from the body or onto the garment so far.
change
    A function from garment to garment, applied before anything hidden exists.
stitch line, net line
    The line that is sewn; the net garment is what the eye sees, drawn on these lines.
cut line
    The stitch line moved out by its allowance; what the scissors follow.
ply, run
    One of the layers of a seam; the lines of that layer, in order, with direction.
ease
    What a ply is longer than the first ply of its seam; or what a garment measures beyond the body.
notch
    A mark across the cut line: single on a front edge, double on a back edge.
level
    A line across a piece at a height of the body: bust, waist, hip.
opening
    A loop of unsewn lines: neck, armhole, wrist, hem.
right side
    The face of the cloth that is seen when worn; pieces are always drawn as seen from it.
left, right
    The wearer's.

Lengths are millimetres and angles radians inside the engine; units exist only at the door.
"""
