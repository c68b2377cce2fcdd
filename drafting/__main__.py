"""Lets ``python -m drafting`` do what the command ``blockwright`` does."""

from drafting.cli import command_line

if __name__ == "__main__":
    command_line()
