"""The output of a batch: only complete rows count, and two runs never share one."""

from __future__ import annotations

from pathlib import Path

import pytest

from service.cli.batch_output import Output, OutputError, Settings, file_sha256

SETTINGS = Settings("0" * 64, "dose", "1.0.0", None, None, "1.0.0")


def begun(target: Path) -> None:
    """Leave an interrupted output of two rows behind."""
    with Output(target, restart=False) as output:
        output.begin(SETTINGS)
        output.add([b"head\n"], rows=0, refused=0)
        output.add([b"1\n", b"2\n"], rows=2, refused=1)


def test_hash_is_that_of_the_bytes(tmp_path: Path) -> None:
    # The hash of "abc" as FIPS 180-2 prints it.
    (tmp_path / "a").write_bytes(b"abc")
    assert file_sha256(tmp_path / "a") == "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"


def test_counts_are_recalled(tmp_path: Path) -> None:
    begun(tmp_path / "out")
    with Output(tmp_path / "out", restart=False) as output:
        assert (output.rows, output.refused, output.begun_with) == (2, 1, SETTINGS)
        output.begin(SETTINGS)
        output.add([b"3\n"], rows=1, refused=0)
        output.finish()
    assert (tmp_path / "out").read_bytes() == b"head\n1\n2\n3\n"
    assert [file.name for file in tmp_path.iterdir()] == ["out"]


def test_other_settings_are_named(tmp_path: Path) -> None:
    begun(tmp_path / "out")
    other = Settings("0" * 64, "dose", "1.1.0", None, "ids", "2.0.0")
    with (
        pytest.raises(OutputError, match=r"\(dataset, detail, the version of fabella changed\)"),
        Output(tmp_path / "out", restart=False) as output,
    ):
        output.begin(other)
    assert (tmp_path / "out.part").read_bytes() == b"head\n1\n2\n"


def test_a_restart_begins_anew(tmp_path: Path) -> None:
    begun(tmp_path / "out")
    with Output(tmp_path / "out", restart=True) as output:
        assert (output.rows, output.begun) == (0, False)
        output.begin(SETTINGS)
        output.add([b"new\n"], rows=1, refused=0)
        output.finish()
    assert (tmp_path / "out").read_bytes() == b"new\n"


def test_a_restart_that_fails_before_it_begins_keeps_what_there_was(tmp_path: Path) -> None:
    begun(tmp_path / "out")
    with Output(tmp_path / "out", restart=True):
        assert (tmp_path / "out.part").exists()
    assert (tmp_path / "out.part").read_bytes() == b"head\n1\n2\n"


def test_two_runs_at_once(tmp_path: Path) -> None:
    with (
        Output(tmp_path / "out", restart=False),
        pytest.raises(OutputError, match="being written by another run"),
        Output(tmp_path / "out", restart=False),
    ):
        pytest.fail("a second run was let in")


@pytest.mark.parametrize("state", ["", "{}", '{"settings": {}}', "[]"])
def test_a_state_that_cannot_be_read(tmp_path: Path, state: str) -> None:
    begun(tmp_path / "out")
    (tmp_path / "out.part.json").write_text(state, "utf-8")
    with pytest.raises(OutputError, match="cannot be read; use --restart"), Output(tmp_path / "out", restart=False):
        pytest.fail("an unreadable state was taken")


def test_an_output_that_became_shorter(tmp_path: Path) -> None:
    begun(tmp_path / "out")
    (tmp_path / "out.part").write_bytes(b"he")
    with pytest.raises(OutputError, match="is shorter than it was"), Output(tmp_path / "out", restart=False):
        pytest.fail("a shortened output was gone on with")


def test_nothing_is_written_before_it_is_begun(tmp_path: Path) -> None:
    with (
        pytest.raises(RuntimeError, match="before it is known what with"),
        Output(tmp_path / "out", restart=False) as output,
    ):
        output.add([b"1\n"], rows=1, refused=0)
    assert list(tmp_path.iterdir()) == []
