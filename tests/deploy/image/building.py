"""Stages built as folders: Debian's smallest system by debootstrap, with this Python in /usr/local as python's images have it.

What docker does apart from the steps is done here too: a network and a resolver for RUN, which finds packages as this machine
does.
"""

from __future__ import annotations

import fnmatch
import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterable, Mapping
from pathlib import Path

from tests.deploy.image.dockerfile import Stage, Step

ROOT = Path(__file__).parents[3]
STEP_SECONDS = 1800
USUAL = {"PATH": "/usr/local/bin:/usr/local/sbin:/usr/sbin:/usr/bin:/sbin:/bin", "LANG": "C.UTF-8"}
_PASSED_ON = re.compile(r"PIP_(?!FIND_LINKS)\w+|\w+_proxy|SSL_CERT_FILE|REQUESTS_CA_BUNDLE", re.IGNORECASE)
"""How this machine reaches packages: no part of the image."""
_OF_THIS_MACHINE = ("/etc/resolv.conf", "/etc/hosts", "/etc/pip.conf", "/etc/ssl/certs/ca-certificates.crt")


def run(command: list[str], **options: object) -> None:
    subprocess.run(command, check=True, timeout=STEP_SECONDS, **options)  # type: ignore[call-overload]


def base_system(folder: Path, image: str) -> None:
    """`image`: 'python:3.12-slim-bookworm', with a digest or without. Raises LookupError where this machine cannot make it."""
    suite = image.partition("@")[0].rpartition("-")[2]
    here = _release()
    if here != suite:
        raise LookupError(f"this machine's Python is for {here}, the image is {suite}")
    include = ",".join(sorted(_packages_of(_libraries_of_python())))
    run(["debootstrap", "--variant=minbase", f"--include={include}", suite, str(folder), _mirror(suite)])
    _put_python(folder / "usr/local")
    for path in _OF_THIS_MACHINE:
        if Path(path).is_file():
            (folder / path[1:]).parent.mkdir(parents=True, exist_ok=True)
            shutil.copyfile(path, folder / path[1:])
    in_root(folder, ["ldconfig"], {})
    in_root(folder, ["python", "-m", "ensurepip", "--default-pip"], {})


def in_root(folder: Path, command: list[str], environment: Mapping[str, str], workdir: str = "/", user: str = "") -> None:
    """As a step runs."""
    passed_on = {name: value for name, value in os.environ.items() if _PASSED_ON.fullmatch(name)}
    own = [f"--userspec={user}"] if user else []
    go = ["/bin/sh", "-c", 'cd "$0" && exec "$@"', workdir]
    run(["chroot", *own, str(folder), *go, *command], env={**USUAL, **passed_on, **environment})


class Building:
    """One stage after the other, each in a folder of its own."""

    def __init__(self, folder: Path) -> None:
        self._folder = folder
        self._built: dict[str, Path] = {}

    def build(self, stage: Stage, base: Path) -> tuple[Path, dict[str, str], str]:
        """(its folder, its environment, its user)"""
        root = self._folder / (stage.name or "image")
        run(["cp", "-a", "--reflink=auto", str(base), str(root)])
        self._built[stage.name] = root
        environment: dict[str, str] = {}
        arguments: dict[str, str] = {}
        workdir, user = "/", ""
        for step in stage.steps:
            print(f"{stage.name or 'image'}: {step.name} {step.text[:100]}", flush=True)
            match step.name:
                case "WORKDIR":
                    workdir = step.rest
                    (root / workdir[1:]).mkdir(parents=True, exist_ok=True)
                case "ARG":
                    arguments |= step.values
                case "ENV":
                    environment |= step.values
                case "USER":
                    user = step.rest
                case "COPY":
                    self._copy(step, root, workdir)
                case "RUN":
                    in_root(root, step.command, {**arguments, **environment}, workdir, user)
                case "VOLUME":
                    (root / step.rest[1:]).mkdir(parents=True, exist_ok=True)
        return root, environment, user

    def _copy(self, step: Step, root: Path, workdir: str) -> None:
        *sources, target = step.words
        into = root / target[1:] if target.startswith("/") else root / workdir[1:] / target
        stage = step.flags.get("from")
        for source in sources:
            path = self._built[stage] / source[1:] if stage else ROOT / source
            if path.is_dir():
                ignored = None if stage else _ignored
                shutil.copytree(path, into, symlinks=True, dirs_exist_ok=True, ignore=ignored)
            else:
                into.mkdir(parents=True, exist_ok=True) if target.endswith("/") else None
                shutil.copy2(path, into)


def _ignored(_: str, names: list[str]) -> set[str]:
    """What `.dockerignore` keeps out at any depth; what it lets in at the top, the steps name themselves."""
    patterns = [line[3:] for line in (ROOT / ".dockerignore").read_text().splitlines() if line.startswith("**/")]
    return {name for name in names for pattern in patterns if fnmatch.fnmatch(name, pattern)}


# --- Python and Debian ------------------------------------------------------------------------------------------------


def _release() -> str:
    found = re.search(r"^VERSION_CODENAME=(\w+)", Path("/etc/os-release").read_text(), re.MULTILINE)
    return found[1] if found else "no Debian"


def _mirror(suite: str) -> str:
    """From which apt has this machine's packages."""
    wish = ["apt-get", "indextargets", "--format", "$(CODENAME) $(COMPONENT) $(REPO_URI)", "Created-By: Packages"]
    lines = subprocess.run(wish, check=True, capture_output=True, text=True, timeout=STEP_SECONDS).stdout.splitlines()
    found = [address for name, component, address in map(str.split, lines) if (name, component) == (suite, "main")]
    if not found:
        raise LookupError(f"apt has no packages of {suite}")
    return found[0]


def _prefix() -> tuple[Path, str]:
    return Path(sys.base_prefix), f"python{sys.version_info.major}.{sys.version_info.minor}"


def _put_python(local: Path) -> None:
    """Without what was installed into it."""
    prefix, name = _prefix()
    left_out = shutil.ignore_patterns("site-packages", "__pycache__", "test", "config-*")
    shutil.copytree(prefix / "lib" / name, local / "lib" / name, symlinks=True, ignore=left_out, dirs_exist_ok=True)
    (local / "lib" / name / "site-packages").mkdir()
    for library in (prefix / "lib").glob("libpython*.so*"):
        shutil.copy2(library, local / "lib", follow_symlinks=False)
    shutil.copy2(prefix / "bin" / name, local / "bin" / name)
    for link in ("python", "python3"):
        (local / "bin" / link).symlink_to(name)


def _libraries_of_python() -> set[str]:
    prefix, name = _prefix()
    programs = [prefix / "bin" / name, *(prefix / "lib" / name / "lib-dynload").glob("*.so")]
    told = subprocess.run(["ldd", *map(str, programs)], capture_output=True, text=True, timeout=STEP_SECONDS, check=False)
    return {path for path in re.findall(r"=> (/\S+)", told.stdout) if not path.startswith(str(prefix))}


def _packages_of(libraries: Iterable[str]) -> set[str]:
    found = set()
    for path in libraries:
        for one in (path, f"/usr{path}"):  # /lib is a link to /usr/lib
            told = subprocess.run(["dpkg", "-S", one], capture_output=True, text=True, timeout=STEP_SECONDS, check=False)
            found |= {line.partition(":")[0] for line in told.stdout.splitlines()}
    return found
