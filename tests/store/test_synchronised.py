"""Folders that look carried to other machines; names and markers of the services from memory."""

from pathlib import Path

import pytest

from tracker.store.synchronised import looks_synchronised


@pytest.mark.parametrize(
    "name",
    [
        "OneDrive", "OneDrive - Tide Works", "Dropbox", "dropbox", "Dropbox (Tide Works)", "Google Drive",
        "GoogleDrive", "My Drive", "iCloud Drive", "iCloudDrive", "Mobile Documents", "Nextcloud", "Nextcloud2",
        "ownCloud", "Seafile", "Syncthing", "Sync", "pCloud Drive", "pCloudDrive", "MEGA",
    ],
)  # fmt: skip
def test_a_services_folder_anywhere_above_the_file_is_named(tmp_path, name):
    folder = tmp_path / name
    inner = folder / "works" / "dial"
    inner.mkdir(parents=True)
    assert looks_synchronised(inner / "tracker.sqlite") == str(folder)
    assert looks_synchronised(folder / "tracker.sqlite") == str(folder)


@pytest.mark.parametrize(
    "name",
    [
        "works", "boxes", "Box", "drop box", "Dropboxes", "Dropbox notes", "not Dropbox", "synchronised", "synced",
        "async", "mega-run", "drive", "my driver", "cloud", "sea file", "onedriven",
    ],
)  # fmt: skip
def test_a_plain_folder_is_not_suspected(tmp_path, name):
    (tmp_path / name).mkdir()
    assert looks_synchronised(tmp_path / name / "tracker.sqlite") == ""


def test_the_file_itself_may_have_any_name(tmp_path):
    assert looks_synchronised(tmp_path / "dropbox") == ""


def test_a_folder_inside_the_systems_cloud_storage_is_named(tmp_path):
    folder = tmp_path / "Library" / "CloudStorage" / "SomeDrive-me@tide.example"
    folder.mkdir(parents=True)
    assert looks_synchronised(folder / "dial" / "tracker.sqlite") == str(folder)


@pytest.mark.parametrize(
    ("marker", "is_folder"),
    [
        (".stfolder", True), (".stfolder", False), (".dropbox", False), (".dropbox.cache", True), (".sync", True),
        (".csync_journal.db", False), (".sync_5f3a.db", False), ("._sync_5f3a.db", False),
        (".owncloudsync.log", False),
    ],
)  # fmt: skip
def test_a_folder_with_a_services_marker_is_named(tmp_path, marker, is_folder):
    folder = tmp_path / "works"
    (folder / "dial").mkdir(parents=True)
    (folder / marker).mkdir() if is_folder else (folder / marker).touch()
    assert looks_synchronised(folder / "dial" / "tracker.sqlite") == str(folder)
    assert looks_synchronised(tmp_path / "tracker.sqlite") == ""


@pytest.mark.parametrize(
    "name", [".stfolders", "stfolder", ".sync_.db", ".dropboxes", ".synctex", "sync_1.db"]
)
def test_a_hidden_file_of_another_name_marks_nothing(tmp_path, name):
    (tmp_path / name).touch()
    assert looks_synchronised(tmp_path / "tracker.sqlite") == ""


@pytest.mark.parametrize("settings", [".dropbox", ".sync"])
def test_settings_in_the_persons_own_folder_do_not_mark_all_of_it(tmp_path, monkeypatch, settings):
    monkeypatch.setenv("HOME", str(tmp_path))
    (tmp_path / settings).mkdir()
    (tmp_path / "works").mkdir()
    assert looks_synchronised(tmp_path / "works" / "tracker.sqlite") == ""
    (tmp_path / "works" / settings).mkdir()
    assert looks_synchronised(tmp_path / "works" / "tracker.sqlite") == str(tmp_path / "works")


def test_a_link_is_followed_to_where_the_file_really_lies(tmp_path):
    real = tmp_path / "Dropbox" / "tracker.sqlite"
    real.parent.mkdir()
    real.touch()
    link = tmp_path / "tracker.sqlite"
    link.symlink_to(real)
    assert looks_synchronised(link) == str(real.parent)


def test_a_path_from_here_is_looked_at_whole(tmp_path, monkeypatch):
    (tmp_path / "Dropbox").mkdir()
    monkeypatch.chdir(tmp_path / "Dropbox")
    assert looks_synchronised(Path("tracker.sqlite")) == str(tmp_path / "Dropbox")
