"""The calendar of a course in calendar programs as people have them: khal and calcurse (Debian's packages)."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest
from flask.testing import FlaskClient

from service import create_app
from tests.web.test_plan import plan_body

BODY = plan_body(start_date="2027-03-01", horizon_years=1)
_KHAL = """
[calendars]
[[invented]]
path = {folder}/calendar
[locale]
timeformat = %H:%M
dateformat = %Y-%m-%d
longdateformat = %Y-%m-%d
datetimeformat = %Y-%m-%d %H:%M
longdatetimeformat = %Y-%m-%d %H:%M
[sqlite]
path = {folder}/khal.db
"""


@pytest.fixture(scope="module")
def client() -> FlaskClient:
    """Give a client of the application."""
    return create_app().test_client()


@pytest.fixture
def calendar_file(client: FlaskClient, tmp_path: Path) -> Path:
    """Write the calendar of an invented course."""
    path = tmp_path / "course.ics"
    path.write_bytes(client.post("/v1/plan.ics", json=BODY).get_data())
    return path


def _run(*command: str | Path) -> str:
    done = subprocess.run([str(part) for part in command], capture_output=True, text=True, check=True, timeout=60)
    return done.stdout


def _first_days(client: FlaskClient) -> list[str]:
    answer = client.post("/v1/plan", json=BODY).get_json()
    return [purchase["date"] for purchase in answer["purchases"]]


@pytest.mark.skipif(shutil.which("khal") is None, reason="khal is not installed")
def test_khal_shows_every_refill_and_imports_twice_without_doubling(
    client: FlaskClient, calendar_file: Path, tmp_path: Path
) -> None:
    (tmp_path / "calendar").mkdir()
    config = tmp_path / "khal.conf"
    config.write_text(_KHAL.format(folder=tmp_path))
    for _ in range(2):
        _run("khal", "-c", config, "import", "--batch", "-a", "invented", calendar_file)
    listed = _run("khal", "-c", config, "list", "--format", "{start-date} {title}", "2027-03-01", "400d")
    refills = [line.split()[0] for line in listed.splitlines() if "Refill" in line]
    assert refills == _first_days(client)


@pytest.mark.skipif(shutil.which("calcurse") is None, reason="calcurse is not installed")
def test_calcurse_imports_every_event(client: FlaskClient, calendar_file: Path, tmp_path: Path) -> None:
    folder = tmp_path / "calcurse"
    folder.mkdir()
    report = _run("calcurse", "-D", folder, "-i", calendar_file)
    count = calendar_file.read_text().count("BEGIN:VEVENT")
    assert f"0 apps / {count} events / 0 todos / 0 skipped" in report
    formats = ("--input-datefmt", "4", "--output-datefmt", "%Y-%m-%d")
    listed = _run("calcurse", "-D", folder, "-Q", *formats, "--from", "2027-03-01", "--days", "400")
    days = listed.split("\n\n")
    refills = [day.split(":")[0].strip() for day in days if "Refill" in day]
    assert refills == _first_days(client)
