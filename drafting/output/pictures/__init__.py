"""Pictures of pieces: lines, marks and words, placed; strangers to paper and file."""
