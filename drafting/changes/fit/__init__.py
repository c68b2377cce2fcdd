"""Changes of fit: what a fitting shows, answered on the pattern."""
