"""What the proof says, in words: lines for a terminal, the printed proof, the fitting sheet."""
