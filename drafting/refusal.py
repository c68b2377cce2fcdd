"""What it means where a system refuses to read or to write, and what to do about it."""

from __future__ import annotations

import errno
import os

from drafting.text import printable


def refusal_of(error: OSError) -> tuple[str, str]:
    """Return what a system's refusal means, and what to do about it, for files that were to be read or written."""
    if error.errno == errno.ENOENT and _working_folder_is_gone():
        return "the folder you are in is gone", "go into another folder, and run it again"
    taken = "name a folder elsewhere, or move away what stands there"
    full, another = "free some room there, or name a folder on another disk", "name a folder on another disk"
    viewer = "name a folder that you may write to, or close the files if a viewer holds them open"
    reason = printable(error.strerror or str(error))
    told = {
        errno.EACCES: (reason, viewer),
        errno.EPERM: (reason, viewer),
        errno.EBUSY: (reason, viewer),
        errno.ENOTDIR: ("a file stands where a folder is meant", taken),
        errno.EEXIST: ("a file stands where a folder is meant", taken),
        errno.EISDIR: ("a folder stands where a file is meant", taken),
        errno.ENOSPC: ("the disk is full", full),
        errno.EDQUOT: ("your share of the disk is full", full),
        errno.EFBIG: ("the disk takes no file as large as this", full),
        **dict.fromkeys((errno.ENOSYS, errno.EOPNOTSUPP, errno.EXDEV), ("this disk can't rename files", another)),
        errno.EROFS: ("the disk can only be read", "name a folder that you may write to"),
        errno.ENAMETOOLONG: ("the name is too long", "choose a shorter one"),
        errno.EIO: (
            "the disk, or the way to it, fails",
            "see that it is still there, or name a folder on another disk",
        ),
        errno.ENOENT: ("no such file or folder is there, and none can be made", "name another place"),
        errno.EMFILE: ("too many files are open", "close other programs, and run it again"),
        errno.ENFILE: ("too many files are open", "close other programs, and run it again"),
    }
    return told.get(error.errno or 0, (reason, "name another place, or see that this one can be used"))


def _working_folder_is_gone() -> bool:
    try:
        os.getcwd()
    except OSError:
        return True
    return False
