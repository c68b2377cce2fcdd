"""The command line: commands, and nothing but commands."""

from drafting.cli.app import main

__all__ = ["main"]
