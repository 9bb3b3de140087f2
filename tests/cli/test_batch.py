"""``fabella batch``: the same answers as the service, and no row lost or done twice by an interruption."""

from __future__ import annotations

import gzip
import json
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from service import create_app
from service.cli import main
from service.cli.batch import ROWS_AT_ONCE
from service.cli.batch_output import Output
from service.cli.child import own_environment

ROWS = 3 * ROWS_AT_ONCE + 17


def dose_rows(count: int) -> str:
    """Write invented dose rows, every tenth of which is refused."""
    lines = (f"invented-{row},{row % 40 if row % 10 else 400} kg,dog,glucosamine" for row in range(1, count + 1))
    return "\n".join(("name,weight,species,ingredient", *lines, ""))


@pytest.fixture
def animals(tmp_path: Path) -> Path:
    """Give a file with a few pieces of rows."""
    file = tmp_path / "animals.csv"
    file.write_text(dose_rows(ROWS), "utf-8")
    return file


def run(*arguments: str | Path) -> int:
    """Run ``fabella batch`` for doses."""
    return main(["batch", "--operation", "dose", *map(str, arguments)])


def interrupt(
    monkeypatch: pytest.MonkeyPatch, after: int, harm: Callable[[Output], None] = lambda output: None
) -> None:
    """Let the next run be interrupted after so many pieces."""
    whole = Output.add
    left = [after]

    def add(self: Output, *arguments: object, **more: object) -> None:
        if not left[0]:
            monkeypatch.setattr(Output, "add", whole)
            harm(self)
            raise KeyboardInterrupt
        left[0] -= 1
        whole(self, *arguments, **more)  # type: ignore[arg-type]

    monkeypatch.setattr(Output, "add", add)


def test_a_file_is_answered_as_the_service_answers_it(animals: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(animals) == 0
    answered = animals.with_name("animals.answered.csv")
    client = create_app().test_client()
    response = client.post("/v1/batch/dose", data=animals.read_bytes(), content_type="text/csv")
    assert answered.read_bytes() == response.data
    assert sorted(file.name for file in animals.parent.iterdir()) == ["animals.answered.csv", "animals.csv"]
    refused = (ROWS // 10) + sum(1 for row in range(1, ROWS + 1) if row % 40 == 0 and row % 10)
    assert capsys.readouterr().err == f"fabella: {answered}: {ROWS:,} rows, {refused} of them refused\n"


@pytest.mark.parametrize("ending", [".ndjson", ".jsonl"])
def test_ndjson_and_its_detail(tmp_path: Path, ending: str) -> None:
    file = tmp_path / f"animals{ending}"
    file.write_text('{"species": "dog", "weight_kg": 34, "ingredient": "glucosamine"}\n', "utf-8")
    assert run(file, "--detail", "ids", "--dataset", "1.0.0") == 0
    row = json.loads((tmp_path / f"animals.answered{ending}").read_text("utf-8"))
    assert (row["status"], row["result"]["dataset_version"]) == ("ok", "1.0.0")


def test_packed_in_and_packed_out(animals: Path) -> None:
    packed = animals.with_name("animals.csv.gz")
    packed.write_bytes(gzip.compress(animals.read_bytes()))
    assert run(animals) == run(packed) == 0
    answered = animals.with_name("animals.answered.csv.gz")
    assert gzip.decompress(answered.read_bytes()) == animals.with_name("animals.answered.csv").read_bytes()


def test_another_separator(animals: Path) -> None:
    animals.write_text(animals.read_text("utf-8").replace(",", ";"), "utf-8")
    assert run(animals, "--separator", "semicolon") == 0
    assert animals.with_name("animals.answered.csv").read_text("utf-8").startswith("name;weight;")


@pytest.mark.parametrize("pieces", [0, 1, 3])
@pytest.mark.parametrize("name", ["out.csv", "out.csv.gz"])
def test_an_interrupted_run_is_gone_on_with(
    animals: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str], pieces: int, name: str
) -> None:
    whole, output = animals.with_name(f"whole-{name}"), animals.with_name(name)
    assert run(animals, "--output", whole) == 0
    interrupt(monkeypatch, pieces)
    assert run(animals, "--output", output) == 130
    told = capsys.readouterr().err
    kept = max(pieces - 1, 0) * ROWS_AT_ONCE
    assert f"{kept:,} of {ROWS:,} rows are kept" in told
    assert f"fabella batch {animals} --operation dose --output {output}" in told
    assert not output.exists()
    assert run(animals, "--output", output) == 0
    assert (f"going on after row {kept:,}" in capsys.readouterr().err) == (kept > 0)
    assert output.read_bytes() == whole.read_bytes()
    assert not list(animals.parent.glob("*.part*"))


def test_a_half_written_row_is_dropped(animals: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    whole, output = animals.with_name("whole.csv"), animals.with_name("out.csv")
    assert run(animals, "--output", whole) == 0

    def write_half_a_row(written: Output) -> None:
        with written.part.open("ab") as file:
            file.write(b"invented-501,1 k")

    interrupt(monkeypatch, 2, write_half_a_row)
    assert run(animals, "--output", output) == 130
    assert output.with_name("out.csv.part").read_bytes().endswith(b"1 k")
    assert run(animals, "--output", output) == 0
    assert output.read_bytes() == whole.read_bytes()


def test_a_killed_run_is_gone_on_with(tmp_path: Path) -> None:
    file, whole, output = (tmp_path / name for name in ("animals.csv", "whole.csv", "out.csv"))
    file.write_text(dose_rows(12_000), "utf-8")
    command = [sys.executable, "-P", "-m", "service.cli", "batch", str(file), "--operation", "dose"]
    with subprocess.Popen([*command, "--output", str(output)], env=own_environment()) as process:
        state = output.with_name("out.csv.part.json")
        deadline = time.monotonic() + 60
        while not (state.exists() and json.loads(state.read_text("utf-8"))["rows"]) and time.monotonic() < deadline:
            time.sleep(0.005)
        process.kill()
    assert process.returncode == -signal.SIGKILL
    assert 0 < json.loads(state.read_text("utf-8"))["rows"] < 12_000
    assert run(file, "--output", output) == 0
    assert run(file, "--output", whole) == 0
    assert output.read_bytes() == whole.read_bytes()


def test_a_changed_input_is_not_mixed_with_the_old_one(
    animals: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    interrupt(monkeypatch, 2)
    assert run(animals) == 130
    animals.write_text(dose_rows(20), "utf-8")
    assert run(animals) == 1
    assert "begun with other settings (the input file changed)" in capsys.readouterr().err
    assert run(animals, "--restart") == 0
    assert len(animals.with_name("animals.answered.csv").read_text("utf-8").splitlines()) == 21


def test_an_input_that_changes_meanwhile_is_noticed(
    animals: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    whole = Output.add

    def add(self: Output, *arguments: object, **more: object) -> None:
        whole(self, *arguments, **more)  # type: ignore[arg-type]
        animals.touch()
        with animals.open("a") as file:
            file.write("invented-late,3 kg,dog,glucosamine\n")
        monkeypatch.setattr(Output, "add", whole)

    monkeypatch.setattr(Output, "add", add)
    assert run(animals) == 1
    assert "was changed while it was answered" in capsys.readouterr().err
    assert not animals.with_name("animals.answered.csv").exists()


@pytest.mark.parametrize(
    ("arguments", "told"),
    [(["--separator", "tab"], "separator=comma"), (["--dataset", "9.9.9"], "9.9.9"), (["--detail", "ids"], "NDJSON")],
)
def test_what_cannot_be_answered_leaves_nothing_behind(
    animals: Path, capsys: pytest.CaptureFixture[str], arguments: list[str], told: str
) -> None:
    assert run(animals, *arguments) == 1
    assert told in capsys.readouterr().err
    assert [file.name for file in animals.parent.iterdir()] == ["animals.csv"]


@pytest.mark.parametrize(
    ("name", "content", "told"),
    [
        ("animals.txt", b"", "the name must end in .csv, .ndjson, .jsonl"),
        ("animals.csv", b"name\n", "species"),
        ("animals.csv", b"", "empty"),
        ("animals.csv.gz", b"name\n", "animals.csv.gz: Not a gzipped file"),
        ("animals.csv.gz", gzip.compress(b"a" * 99)[:-9], "animals.csv.gz: Compressed file ended"),
    ],
)
def test_files_that_cannot_be_read(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], name: str, content: bytes, told: str
) -> None:
    (tmp_path / name).write_bytes(content)
    assert run(tmp_path / name) == 1
    assert told in capsys.readouterr().err


def test_a_file_that_is_not_there(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(tmp_path / "none.csv") == 1
    assert "No such file" in capsys.readouterr().err
    assert list(tmp_path.iterdir()) == []


def test_a_finished_output_is_never_written_over(animals: Path, capsys: pytest.CaptureFixture[str]) -> None:
    output = animals.with_name("out.csv")
    output.write_text("mine", "utf-8")
    assert run(animals, "--output", output) == 1
    assert "is there already" in capsys.readouterr().err
    assert output.read_text("utf-8") == "mine"


def test_an_interruption_before_the_first_row(
    animals: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def interrupted() -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("service.cli.batch.load_all", interrupted)
    assert run(animals) == 130
    assert "nothing is lost" in capsys.readouterr().err
