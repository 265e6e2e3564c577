"""Uploaded files: what is written, what is refused, and that nothing else stays behind."""

from __future__ import annotations

import hashlib
import io
from pathlib import Path

import pytest

from service.store.files.blobs import HEADER_WITHIN, Blobs, TooLarge


def test_size_digest_and_head_are_those_of_the_bytes(blobs: Blobs) -> None:
    data = b"%PDF-1.7\n" + bytes(3_000_000)
    saved = blobs.save("one", io.BytesIO(data), 4_000_000)
    assert (saved.size_bytes, saved.sha256) == (len(data), hashlib.sha256(data).hexdigest())
    assert saved.head == data[:HEADER_WITHIN]
    assert blobs.path("one").read_bytes() == data


def test_a_head_that_comes_in_pieces_is_put_together(blobs: Blobs) -> None:
    class Dripping(io.BytesIO):
        def read(self, _: int | None = -1) -> bytes:
            return super().read(3)

    assert blobs.save("one", Dripping(b"x" * 1000 + b"%PDF-1.7" + b"y" * 100), 9999).head[1000:1008] == b"%PDF-1.7"


def test_a_file_of_just_the_limit_is_taken_and_one_byte_more_leaves_nothing(blobs: Blobs, tmp_path: Path) -> None:
    blobs.save("one", io.BytesIO(bytes(100)), 100)
    with pytest.raises(TooLarge):
        blobs.save("two", io.BytesIO(bytes(101)), 100)
    assert [path.name for path in (tmp_path / "files").iterdir()] == ["one.pdf"]


def test_an_upload_that_breaks_off_leaves_nothing(blobs: Blobs) -> None:
    class Broken(io.BytesIO):
        def read(self, _: int | None = -1) -> bytes:
            raise ConnectionResetError

    with pytest.raises(ConnectionResetError):
        blobs.save("one", Broken(), 100)
    assert not blobs.path("one").exists()


@pytest.mark.parametrize("check_id", ["../one", "a/b", "", ".", "a" * 41, "a\0b"])
def test_only_an_id_names_a_file(blobs: Blobs, check_id: str) -> None:
    with pytest.raises(ValueError, match="no id"):
        blobs.path(check_id)


def test_a_shared_file_outlives_the_check_that_it_came_from(blobs: Blobs) -> None:
    blobs.save("one", io.BytesIO(b"%PDF-"), 100)
    assert blobs.share("one", "two")
    blobs.forget("one")
    assert blobs.path("two").read_bytes() == b"%PDF-"
    assert not blobs.share("one", "three")


def test_other_users_of_the_machine_cannot_read_the_files(blobs: Blobs) -> None:
    blobs.save("one", io.BytesIO(b"%PDF-"), 100)
    assert blobs.path("one").stat().st_mode & 0o077 == 0
