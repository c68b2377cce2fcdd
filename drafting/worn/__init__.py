"""The garment worn: draped on a body of the wearer's measurements, before cloth is cut.

An extra: it needs numba and scipy, which nothing else does, so that nothing here is imported at the top of another
package. Lengths are mm; a body stands on the floor with y up, x to its left and z to its front.
"""

from drafting.worn.dressing import Worn, dress_body
from drafting.worn.mesh import CannotWear

__all__ = ["CannotWear", "Worn", "dress_body"]
