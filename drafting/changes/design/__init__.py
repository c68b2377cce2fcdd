"""Changes of the design: lines, lengths, seams and openings."""
