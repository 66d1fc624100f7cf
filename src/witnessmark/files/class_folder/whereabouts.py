"""Whether a class folder lies where others write as well: a folder that is synchronised, or a drive on the network.

SQLite warns of both: a synchronised folder can take away half of a change, and network drives keep no promise about
locks (sqlite.org, "How To Corrupt An SQLite Database File", sections 2 and 1.5).
"""

from collections.abc import Iterable, Iterator
from pathlib import Path, PurePosixPath

from witnessmark.words.problems import Place, Problem

SYNCED_NAMES = (
    "dropbox", "onedrive", "google drive", "googledrive", "my drive", "icloud", "mobile documents", "cloudstorage",
    "nextcloud", "owncloud", "syncthing", "seafile", "pcloud",
)  # fmt: skip
MARKERS = (".dropbox", ".stfolder", ".stignore", ".owncloudsync.log", ".nextcloudsync.log", ".sync", ".seafile-data")
NETWORK_TYPES = frozenset({
    "nfs", "nfs4", "cifs", "smb3", "smbfs", "afs", "ncpfs", "9p", "davfs", "fuse.sshfs", "fuse.rclone", "fuse.davfs2",
    "fuse.gvfsd-fuse", "ceph", "glusterfs", "fuse.glusterfs",
})  # fmt: skip
MOUNTS = Path("/proc/mounts")


def whereabouts(folder: Path, mounts: Path = MOUNTS) -> tuple[Problem, ...]:
    """What is to be known about the place of a class folder; none where it lies on the machine alone."""
    path = folder.resolve()
    keep = "keep the class on this machine alone, and copy it elsewhere when no command runs"
    expected = "a class folder on this machine alone"
    synced = next(_synced(path), "")
    found = [Problem("synced-folder", Place(str(folder)), expected, f"one that is synchronised ({synced})", keep)]
    found = found if synced else []
    network = _network_type(path, mounts)
    if network:
        found.append(Problem("network-drive", Place(str(folder)), expected, f"one on the network ({network})", keep))
    return tuple(found)


def _synced(path: Path) -> Iterator[str]:
    for part in path.parts:
        name = part.casefold()
        if any(name == known or name.startswith((f"{known} ", f"{known}-", f"{known}_")) for known in SYNCED_NAMES):
            yield f"by the name of {part}"
    for above in (path, *path.parents):
        for marker in MARKERS:
            if (above / marker).exists():
                yield f"{above / marker} is there"


def _network_type(path: Path, mounts: Path) -> str:
    """The kind of network drive that a path lies on, or nothing; by the table of mounts where the system has one."""
    if str(path).startswith(("\\\\", "//")):
        return "a shared folder"
    try:
        lines = mounts.read_text(encoding="utf-8", errors="replace").splitlines()
    except OSError:
        return ""
    kind = _kind_at(PurePosixPath(path.as_posix()), (line.split() for line in lines))
    return kind if kind in NETWORK_TYPES else ""


def _kind_at(path: PurePosixPath, rows: Iterable[list[str]]) -> str:
    """The type of the innermost mount that holds a path; a space in a mount point is written there as its number."""
    best, kind = -1, ""
    for row in rows:
        if len(row) < 3:
            continue
        at = PurePosixPath(row[1].replace("\\040", " "))
        if path.is_relative_to(at) and len(at.parts) >= best:
            best, kind = len(at.parts), row[2]
    return kind
