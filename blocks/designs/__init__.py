"""The catalogue: designs, each a ticket without a wearer, one a file."""
