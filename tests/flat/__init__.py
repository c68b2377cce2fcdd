"""The flat: what the finished garment looks like."""
