"""Reading and writing the descriptor."""

from __future__ import annotations

import pytest

from service.reference.descriptor import FILE, dump_descriptor, fingerprint, load_descriptor, resource_of
from tests.reference.small_dataset import SmallDataset


def test_it_is_always_laid_out_the_same_way(dataset: SmallDataset) -> None:
    descriptor = load_descriptor(dataset.directory)
    (dataset.directory / FILE).write_bytes(dump_descriptor(descriptor))
    assert load_descriptor(dataset.directory) == descriptor
    assert dump_descriptor({"a": "\u00e9"}) == '{\n  "a": "\u00e9"\n}\n'.encode()


def test_a_list_is_no_descriptor(dataset: SmallDataset) -> None:
    (dataset.directory / FILE).write_text("[]", "utf-8")
    with pytest.raises(ValueError, match="is not a JSON object"):
        load_descriptor(dataset.directory)


def test_the_entry_of_a_table(dataset: SmallDataset) -> None:
    descriptor = load_descriptor(dataset.directory)
    assert (resource_of(descriptor, "drug_classes") or {})["name"] == "drug-classes"
    assert resource_of({}, "limits") is None


def test_the_fingerprint_of_known_bytes() -> None:
    # The empty input of the standard that defines the hash.
    empty = "sha256:e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855"
    assert fingerprint(b"") == {"bytes": 0, "hash": empty}
