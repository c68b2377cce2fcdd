"""Applied pieces: what lies on the face of another piece and is sewn down along some of its edges: a pocket, a tab.

It is neither trunk nor surface: it closes no opening and makes none. Its place is a feature of the piece (or pieces)
beneath, and follows whatever becomes of them; the edges that are sewn down are those of its own seam of one ply, and
what else is sewn or turned on it is finished before.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from drafting.garment.features import Feature, Joint, MirrorImage, Motion, Share
from drafting.garment.model import Garment
from drafting.garment.seam import Seam
from drafting.geometry import Affine, Path
from drafting.record import dataclass


@dataclass(frozen=True, slots=True)
class Applied(Feature):
    """Where another piece lies on this one's face: ``name`` is that piece's, ``path`` where its sewn edges come to lie.

    What lies there keeps its size and shape whatever becomes of the cloth beneath: it goes where the ends of the path
    go, and turns with them.
    """

    name: str
    path: Path

    def called(self) -> str:
        """Return the name of the piece that lies there."""
        return self.name

    def along(self, path: Path) -> Applied:
        """Return it with its edges along another path; the very same where that is its own."""
        return self if path is self.path else replace(self, path=path)

    def moved(self, motion: Motion) -> Applied:
        """Return it carried and turned, never stretched."""
        a, b = self.path.start, self.path.end
        new_a, new_b = motion.point(a), motion.point(b)
        if (new_a, new_b) == (a, b):
            return self
        turned = Affine.turn((new_b - new_a).angle - (b - a).angle, a.to(b, 0.5))
        return self.along(self.path.transformed(turned.then(Affine.move(new_a.to(new_b, 0.5) - a.to(b, 0.5)))))

    def parted(self, share: Share) -> tuple[Applied, ...]:
        """Return its stretches in the part: it is sewn over the seam."""
        return tuple(self.along(path) for path in share.stretches(self.path))

    def mirrored(self, image: MirrorImage) -> Applied:
        """Return the place of the piece's image."""
        return Applied(image.name(self.name), image.path(self.path))

    def joined(self, other: Feature, joint: Joint) -> Applied | None:
        """Return two stretches of one place that run on in each other as one."""
        if not isinstance(other, Applied) or other.name != self.name:
            return None
        path = joint(self.path, other.path)
        return None if path is None else self.along(path)


def find_faces(garment: Garment) -> Mapping[str, tuple[str, ...]]:
    """Return, by the name of each applied piece, the pieces on whose faces it lies."""
    return garment.find_once(_find_faces)


def _find_faces(garment: Garment) -> Mapping[str, tuple[str, ...]]:
    faces: dict[str, tuple[str, ...]] = {}
    for piece in garment.pieces:
        for each in piece.of_kind(Applied):
            faces[each.name] = tuple(dict.fromkeys((*faces.get(each.name, ()), piece.name)))
    return faces


def find_piece_laid(garment: Garment, seam: Seam) -> str:
    """Return the applied piece that a seam sews down, of one ply as it is; an empty text if it sews none down."""
    faces = find_faces(garment)
    if not faces or seam.kind.closes:
        return ""
    pieces = {use.piece for use in seam.uses()}
    one_ply = all(len(section.plies) == 1 for section in seam.sections)
    return next(iter(pieces)) if one_ply and len(pieces) == 1 and pieces <= faces.keys() else ""
