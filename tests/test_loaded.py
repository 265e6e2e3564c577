"""What is forked from a loaded process ends with whoever asked for it."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from pathlib import Path

from tests.patience import until
from tests.running import child

_RUN = """
import sys, time
from pathlib import Path
from tests.running import running
with running(Path(sys.argv[1])) as service:
    print(service.process.pid, flush=True)
    time.sleep(600)
"""


def test_a_test_run_that_is_killed_leaves_no_service(tmp_path: Path) -> None:
    data = tmp_path / "data"
    data.mkdir()
    with child([sys.executable, "-c", _RUN, str(data)], stdout=subprocess.PIPE, text=True) as run:
        assert run.stdout is not None
        pid = int(run.stdout.readline())
        assert _is_there(pid)
        os.kill(run.pid, signal.SIGKILL)
        run.wait(10)
        until(lambda: not _is_there(pid), "the service to end")


def _is_there(pid: int) -> bool:
    return Path(f"/proc/{pid}").exists()
