"""The upload piece by piece, by a client of another project (tuspy), over a line that breaks three times.

`python -m tests.api.uploads.poster 500` does the same with a poster of 500 MB.
"""

from __future__ import annotations

import hashlib
import io
from collections.abc import Iterator

import pytest
import requests

from tests.api.uploads.breaking_line import line_that_breaks
from tests.build import page
from tests.patience import PATIENCE_SECONDS
from tests.running import Running, running

tus = pytest.importorskip("tusclient.client")
CARD = "business-card-85x55"


@pytest.fixture(scope="module")
def service(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    with running(tmp_path_factory.mktemp("service") / "data", MAXIMUM_UPLOAD="40 MB") as started:
        yield started


@pytest.fixture(scope="module")
def large(tmp_path_factory: pytest.TempPathFactory) -> bytes:
    """A right card, and 20 MB after its end, which readers pass over."""
    path = tmp_path_factory.mktemp("pdf") / "card.pdf"
    page(85, 55, bleed=3).fill(cyan=1).save(path)
    return path.read_bytes() + b"\n" + bytes(20_000_000)


def test_a_file_arrives_over_a_line_that_breaks_three_times(service: Running, large: bytes) -> None:
    with line_that_breaks(service.address, 7_000_000, 6_000_000, 5_500_000) as line:
        client = tus.TusClient(f"{line.address}/v1/uploads")
        uploader = client.uploader(
            file_stream=io.BytesIO(large), retries=5, retry_delay=0, metadata={"filename": "Visitenkarte für Halyard.pdf"}
        )
        uploader.upload()
        assert line.broken == 3
    upload = uploader.url.rsplit("/", 1)[1]
    told = requests.get(f"{service.address}/v1/uploads/{upload}", timeout=PATIENCE_SECONDS).json()
    assert (told["received_bytes"], told["size_bytes"], told["check"]) == (len(large), len(large), None)
    form = {"upload": upload, "spec": CARD}
    check = requests.post(f"{service.address}/v1/checks", data=form, timeout=PATIENCE_SECONDS).json()
    assert check["file"] == {
        "name": "Visitenkarte für Halyard.pdf", "size_bytes": len(large), "sha256": hashlib.sha256(large).hexdigest(),
    }  # fmt: skip
    assert check["state"] == "finished"
    told = requests.get(f"{service.address}/v1/uploads/{upload}", timeout=PATIENCE_SECONDS).json()
    assert told["check"] == check["id"]
