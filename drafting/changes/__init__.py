"""Changes: functions from garment to garment, one file each. The command line finds them through entry points."""

__all__ = []
