"""`python -m tests.api.uploads.poster 500`: so many MB over a line that breaks three times, by another project's client."""

from __future__ import annotations

import hashlib
import io
import os
import sys
import tempfile
import time
from pathlib import Path

import pikepdf
import requests
from tusclient.client import TusClient

from tests.api.uploads.breaking_line import line_that_breaks
from tests.build import page
from tests.running import running, worker_memory_bytes

_SECONDS = 600


def main(megabytes: int) -> None:
    size = megabytes * 10**6
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        page(594, 841, bleed=3).fill(cyan=1).save(folder / "poster.pdf")
        with pikepdf.open(folder / "poster.pdf", allow_overwriting_input=True) as pdf:
            # as with a layout program's own data in it
            own = pikepdf.Dictionary(Private=pdf.make_stream(os.urandom(size - 10_000)))
            pdf.pages[0].PieceInfo = pikepdf.Dictionary(Layout=own)
            pdf.save(folder / "poster.pdf", compress_streams=False)
        poster = (folder / "poster.pdf").read_bytes()
        settings = {"MAXIMUM_UPLOAD": f"{megabytes + 1} MB", "FREE_SPACE": "1 MB"}
        breaks = (size // 4, size // 3, size // 5)
        with running(folder / "data", **settings) as service, line_that_breaks(service.address, *breaks) as line:
            began = time.monotonic()
            metadata = {"filename": "poster.pdf"}
            uploader = TusClient(f"{line.address}/v1/uploads").uploader(
                file_stream=io.BytesIO(poster), retries=5, retry_delay=0, metadata=metadata
            )
            uploader.upload()
            print(f"{megabytes} MB arrived in {time.monotonic() - began:.1f} s; the line broke {line.broken} times")
            form = {"upload": uploader.url.rsplit("/", 1)[1], "spec_sheet": "trim: {width: 594 mm, height: 841 mm}\n"}
            began = time.monotonic()
            answer = requests.post(f"{service.address}/v1/checks", data=form, headers={"Prefer": "wait=60"}, timeout=_SECONDS)
            check = answer.json()
            same = check["file"]["sha256"] == hashlib.sha256(poster).hexdigest()
            print(f"checked in {time.monotonic() - began:.1f} s: {answer.status_code} {check['verdict']}; the same bytes: {same}")
            print(f"{answer.headers['Server-Timing']}; the most memory: {worker_memory_bytes(service) / 1e6:.0f} MB")


if __name__ == "__main__":
    main(int(sys.argv[1]))
