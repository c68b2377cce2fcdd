"""Lets ``python -m drafting`` do what the command ``blockwright`` does."""

from drafting.cli import main

if __name__ == "__main__":
    raise SystemExit(main())
