"""Tests of the garment worn: its body, its mesh, its cloth, what voids it, its picture."""
