"""The checks, one a file: they collect findings, never raise, never repair."""
