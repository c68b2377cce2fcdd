"""Changes of darts: moved, split, joined, turned into seams, gathers or ease."""
