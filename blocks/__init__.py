"""Parametric definitions, each to be read beside a handbook: points with their rules, then lines through them."""
