"""The command line: help, typical runs and refusals; exit code, both outputs, and the files that were written."""

from __future__ import annotations

import subprocess
import sys
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path

import yaml

from tests.recorded import sheets
from tests.recorded.files import Made, text_pdf
from tests.recorded.recorder import Recorder
from tests.recorded.served import environment
from tests.recorded.spec_calls import TEXTS
from tests.recorded.volatile import seconds_said

COMMANDS = ("serve", "demo", "check", "report", "picture", "plates", "single-pages", "preview", "dummy", "sheets", "rules",
            "sheets list", "sheets show", "sheets schema", "sheets match", "sheets read",
            "sheets check-file", "sheets read-template")
LINES = (
    "",
    *(Path(__file__).parent / "command_lines.txt").read_text(encoding="utf-8").splitlines(),
    *(f"{command} --help" for command in COMMANDS),
    *(f"sheets check-file wrong-{name}.yaml" for name in sheets.WRONG),
)


def play(here: Recorder, files: list[Made], work: Path) -> None:
    folder = work / "files"
    _lay_out(folder, files)

    def run(line: str) -> None:
        own = Path(work, "runs", str(LINES.index(line)))
        own.mkdir(parents=True)
        for path in folder.iterdir():
            (own / path.name).symlink_to(path)
        run_line(here.inside("command"), line, own)

    with ThreadPoolExecutor(2) as two:
        list(two.map(run, LINES))
    run_line(here.inside("command"), "serve", folder, WORKERS="none", MAXIMUM_UPLOAD="much", TOKEN_SECRET="short")


def run_line(here: Recorder, line: str, folder: Path, **settings: str) -> None:
    """As typed in that folder; words do not hold spaces."""
    command = [sys.executable, "-m", "service", *line.split()]
    ended = subprocess.run(command, cwd=folder, env=environment(**settings), capture_output=True, timeout=300, check=False)
    out, errors = ended.stdout.decode("utf-8", "replace"), ended.stderr.decode("utf-8", "replace")
    name = f"print-spec {line}"[:150]
    here.write(name, f"print-spec {line}\n\nexit code {ended.returncode}\n\n--- output\n{out}\n--- errors\n{errors}")
    for path in sorted(folder.rglob("*")):
        if path.is_file() and not path.is_symlink() and "files" not in path.parts[-2:]:
            here.write_bytes(f"{name}/{path.relative_to(folder)}".replace("/", "--"), path.read_bytes())


def demo(here: Recorder, work: Path) -> list[Path]:
    """`print-spec demo`, recorded without what is ours alone. Gives the PDFs that it drew."""
    work.mkdir()
    command = [sys.executable, "-m", "service", "demo", "--out", "demo"]
    for _ in range(3):  # on a busy machine it loses patience with the service that it starts
        ended = subprocess.run(command, cwd=work, env=environment(), capture_output=True, timeout=300, check=False)
        if ended.returncode == 0:
            break
    said = seconds_said((ended.stdout + ended.stderr).decode())
    here.inside("demo").write("print-spec demo", f"exit code {ended.returncode}\n\n{said}")
    for result in sorted(work.glob("demo/*.json")):
        text = result.read_text(encoding="utf-8")
        here.volatile.learn(yaml.safe_load(text)["id"], f"check {result.name}")
        here.inside("demo").write(result.name, text)
    here.inside("demo").write("summary.md", (work / "demo" / "summary.md").read_text(encoding="utf-8"))
    return sorted(work.glob("demo/*.pdf"))


def _lay_out(folder: Path, files: list[Made]) -> None:
    folder.mkdir()
    for made in files:
        (folder / f"{made.name}.pdf").write_bytes(made.pdf)
    text = "Business cards: 85 x 55 mm, 3 mm bleed on all sides, pictures at least 300 dpi.\n"
    texts = {
        "strict.yaml": sheets.STRICT,
        "lenient.yaml": sheets.LENIENT,
        "wrong.yaml": sheets.WRONG["misspelt"],
        "instructions.txt": text,
        "empty.txt": "",
    }
    texts |= {f"wrong-{name}.yaml": wrong for name, wrong in sheets.WRONG.items()}
    texts["page.html"] = yaml.safe_load((TEXTS / "en_html_table.yaml").read_text(encoding="utf-8"))["text"]
    for name, content in texts.items():
        (folder / name).write_text(content, encoding="utf-8")
    (folder / "instructions.pdf").write_bytes(text_pdf(text))
