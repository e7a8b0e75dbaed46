"""What manage.py and the lock promise to a machine with nothing on it."""

import os
import re
import shutil
import sys
import tomllib

import pytest

import manage
from tests.house.tree import PROJECT

PIN = re.compile(r"^([a-z0-9.-]+)(\[[a-z,]+\])?==", re.MULTILINE)


def parts_of_the_lock() -> tuple[str, str]:
    to_run, marker, to_check = manage.LOCK.read_text().partition(manage.ONLY_TO_CHECK)
    assert marker
    return to_run, to_check


def names(pins: str) -> set[str]:
    return {found[1] for found in PIN.finditer(pins)}


def asked_for(wishes: list[str]) -> set[str]:
    return {re.split(r"[\[<>=]", wish)[0].lower() for wish in wishes}


def test_the_lock_holds_what_the_project_asks_for_in_the_right_part():
    project = tomllib.loads((PROJECT / "pyproject.toml").read_text())
    to_run, to_check = parts_of_the_lock()
    base = asked_for(project["project"]["dependencies"])
    assert base - names(to_run) == set()
    assert (
        asked_for(project["dependency-groups"]["test"]) - names(to_check + to_run)
        == set()
    )
    assert names(to_run) & names(to_check) == set()


def test_the_lock_pins_by_hash_and_names_no_address():
    lock = manage.LOCK.read_text()
    pins = re.split(r"^(?=[a-z0-9])", lock, flags=re.MULTILINE)[1:]
    assert len(pins) == len(PIN.findall(lock))
    assert [pin.split()[0] for pin in pins if "--hash=sha256:" not in pin] == []
    assert "://" not in lock


def test_the_checks_make_another_stamp_than_the_run():
    to_run, to_check = parts_of_the_lock()
    whole = to_run + manage.ONLY_TO_CHECK + to_check
    assert manage.stamp_for(to_run).startswith("run python3.")
    assert manage.stamp_for(whole).startswith("all python3.")
    assert manage.stamp_for(to_run) != manage.stamp_for(to_run + "\n")


def test_an_old_python_gets_a_sentence(monkeypatch):
    monkeypatch.setattr(sys, "version_info", (3, 9, 2))
    with pytest.raises(SystemExit, match=r"needs Python 3\.11 or newer"):
        manage.main()


def on_debian_as(monkeypatch, *, user: int) -> None:
    monkeypatch.setattr(shutil, "which", lambda name: f"/usr/bin/{name}")
    monkeypatch.setattr(os, "geteuid", lambda: user)


def test_somebody_who_may_not_install_is_told_the_line(monkeypatch):
    on_debian_as(monkeypatch, user=1000)
    with pytest.raises(SystemExit, match=r"sudo apt-get install .* libpango-1\.0-0"):
        manage.bring(["libpango-1.0-0"], needed=True)


def test_what_only_the_checks_need_stops_nobody(monkeypatch, capsys):
    on_debian_as(monkeypatch, user=1000)
    manage.bring(["chromium"], needed=False)
    assert "apt-get install --yes --no-install-recommends chromium" in (
        capsys.readouterr().err
    )


def test_elsewhere_the_missing_parts_are_named(monkeypatch):
    monkeypatch.setattr(shutil, "which", lambda name: None)
    with pytest.raises(SystemExit, match=r"missing libpango-1\.0-0"):
        manage.bring(["libpango-1.0-0"], needed=True)
