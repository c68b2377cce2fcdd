"""What changes are made of: part, spread, swing, true, heights, hemlines, halves. A library, never a plug-in."""

__all__ = []
