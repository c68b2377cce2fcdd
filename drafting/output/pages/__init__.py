"""Pages that a maker holds: the pattern with its start page and strip, the cutting plan, the fitting sheet."""
