"""A class folder that lies where others write too is told of."""

from pathlib import Path

import pytest

from witnessmark.files.class_folder.whereabouts import MARKERS, whereabouts

NO_MOUNTS = Path("/nowhere/mounts")


def codes(folder: Path, mounts: Path = NO_MOUNTS) -> list[str]:
    return [problem.code for problem in whereabouts(folder, mounts)]


def test_a_folder_on_the_machine_alone_is_not_told_of(tmp_path: Path) -> None:
    assert codes(tmp_path / "shear class") == []
    assert codes(tmp_path / "Dropboxes and drains") == []


@pytest.mark.parametrize("name", ["Dropbox", "OneDrive - Low Wharf", "Nextcloud", "My Drive", "CloudStorage"])
def test_a_folder_whose_path_names_a_service_is_told_of_with_the_name(tmp_path: Path, name: str) -> None:
    folder = tmp_path / name / "class"
    (problem,) = whereabouts(folder, NO_MOUNTS)
    assert str(problem) == (
        f"{folder}: [synced-folder] expected a class folder on this machine alone, found one that is synchronised"
        f" (by the name of {name}); keep the class on this machine alone, and copy it elsewhere when no command runs"
    )


@pytest.mark.parametrize("marker", MARKERS)
def test_a_folder_below_the_mark_of_a_service_is_told_of(tmp_path: Path, marker: str) -> None:
    (tmp_path / marker).mkdir()
    assert codes(tmp_path / "boats" / "class") == ["synced-folder"]


@pytest.mark.parametrize(("kind", "told"), [("nfs4", ["network-drive"]), ("cifs", ["network-drive"]), ("ext4", [])])
def test_a_network_drive_is_told_by_the_table_of_mounts(tmp_path: Path, kind: str, told: list[str]) -> None:
    mounts = tmp_path / "mounts"
    place = str(tmp_path / "a b").replace(" ", "\\040")
    mounts.write_text(f"disk / ext4 rw 0 0\nserver:/boats {place} {kind} rw 0 0\n", encoding="utf-8")
    assert codes(tmp_path / "a b" / "class", mounts) == told
    assert codes(tmp_path / "a bc" / "class", mounts) == []
