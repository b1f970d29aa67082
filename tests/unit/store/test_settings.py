"""Where things are, from arguments and the environment."""

from __future__ import annotations

from pathlib import Path

import pytest

from trainer import settings

APP = Path(settings.__file__).parent.parent


@pytest.fixture(autouse=True)
def _bare(monkeypatch: pytest.MonkeyPatch) -> None:
    for variable in ("TRAINER_DATA", "TRAINER_DATABASE_URL", "TRAINER_ROOT"):
        monkeypatch.delenv(variable, raising=False)


def test_without_anything_said_the_data_is_the_users_and_the_content_the_apps(monkeypatch: pytest.MonkeyPatch) -> None:
    read = settings.read()
    assert read.data.name == "slips-trainer"
    assert (read.database_url, read.root, read.app_root) == (None, APP, APP)
    assert (read.root / "content").is_dir()


def test_the_environment_is_read(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("TRAINER_DATA", str(tmp_path / "data"))
    monkeypatch.setenv("TRAINER_ROOT", str(tmp_path / "root"))
    monkeypatch.setenv("TRAINER_DATABASE_URL", "postgresql://h/db")
    assert settings.read() == settings.Settings(tmp_path / "data", "postgresql://h/db", tmp_path / "root", APP)


def test_an_argument_goes_before_the_environment(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv("TRAINER_DATA", str(tmp_path / "data"))
    assert settings.read(tmp_path / "other").data == tmp_path / "other"


def test_an_empty_variable_says_nothing(monkeypatch: pytest.MonkeyPatch) -> None:
    for variable in ("TRAINER_DATA", "TRAINER_DATABASE_URL", "TRAINER_ROOT"):
        monkeypatch.setenv(variable, "")
    assert settings.read().root == APP
    assert settings.read().database_url is None


def test_a_relative_folder_stays_where_it_was(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.chdir(tmp_path)
    assert settings.read(Path("data")).data == tmp_path / "data"
