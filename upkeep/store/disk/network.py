"""Whether a folder is on another computer's disk, where a book is not safe.

A book keeps a write-ahead log beside it, for which "all processes using a database must be on the same host computer;
WAL does not work over a network filesystem" (SQLite documentation, "Write-Ahead Logging", from memory).
"""

from __future__ import annotations

import sys
from contextlib import suppress
from pathlib import Path

_MOUNTS = Path("/proc/self/mounts")

_NETWORK = frozenset(
    {
        "nfs", "nfs4", "cifs", "smb3", "smbfs", "afs", "ncpfs", "ceph", "glusterfs", "9p", "davfs", "fuse.sshfs",
        "fuse.davfs2", "fuse.glusterfs", "fuse.rclone", "fuse.ceph", "beegfs", "lustre", "gfs2", "ocfs2",
    }
)  # fmt: skip
"""Kinds of file system that several computers share, by the words of Linux."""

_REMOTE_DRIVE = 4
"""What Windows answers for a drive on the network (``GetDriveTypeW``, DRIVE_REMOTE)."""


def network_kind(path: Path) -> str | None:
    """The kind of shared file system a path lies on; None: a disk of this computer, or the system does not say."""
    absolute = path.absolute()
    if sys.platform == "win32":
        return _windows_kind(absolute)
    with suppress(OSError):
        return kind_in(_MOUNTS.read_text(encoding="utf-8", errors="replace"), absolute.resolve())
    return None


def kind_in(mounts: str, path: Path) -> str | None:
    """The same by a list of mounts as Linux keeps it: device, folder and kind, a mount a line; the innermost counts,
    and of two on one folder the later."""
    innermost, kind = -1, ""
    for line in mounts.splitlines():
        parts = line.split(" ")
        if len(parts) < 3:
            continue
        folder = Path(_unescaped(parts[1]))
        if len(folder.parts) >= innermost and path.is_relative_to(folder):
            innermost, kind = len(folder.parts), parts[2]
    return kind if kind in _NETWORK else None


def _unescaped(folder: str) -> str:
    for code, char in ((r"\040", " "), (r"\011", "\t"), (r"\012", "\n"), (r"\134", "\\")):
        folder = folder.replace(code, char)
    return folder


def _windows_kind(path: Path) -> str | None:
    if str(path).startswith("\\\\"):
        return "UNC"
    if sys.platform == "win32":
        import ctypes

        remote = ctypes.windll.kernel32.GetDriveTypeW(path.anchor) == _REMOTE_DRIVE
        return "network drive" if remote else None
    return None
