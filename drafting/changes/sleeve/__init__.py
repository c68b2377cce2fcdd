"""Changes of sleeves."""
