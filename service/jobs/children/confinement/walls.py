"""All walls around a child: which of them this kernel offers, what is said where one is missing, and putting them up.

One call where the fork server begins, one where a child does.
"""

from __future__ import annotations

import os
import sys
import sysconfig
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from pathlib import Path

from service.jobs.children.confinement import landlock, namespaces, privileges, seccomp
from service.jobs.children.tasks import Limits

_FONTS = ("/usr/share/fonts", "/usr/share/X11/fonts/Type1", "/usr/share/X11/fonts/TTF", "/usr/local/share/fonts")
"""Where PDFium looks on Linux (core/fxge/linux/fx_linux_impl.cpp)."""
_LIBRARIES = ("/lib", "/lib64", "/usr/lib", "/usr/lib64", "/usr/local/lib", "/etc/ld.so.cache", "/etc/localtime")
_DEVICES = ("/dev/urandom",)
"""For qpdf, wherever a file is encrypted (libqpdf/SecureRandomDataProvider.cc)."""
_PACKAGE = Path(__file__).parents[3]
_MOST_THREADS = 256
"""Of all children of one fork server. One draws with two at a time; a report is set by as many as there are processors. Ours."""

LANDLOCK, SECCOMP, NAMESPACES = "landlock", "seccomp", "namespaces"
WALLS = (LANDLOCK, SECCOMP)
"""That hold alone; what namespaces add is held by these two as well."""
_WITHOUT = {
    LANDLOCK: "no Landlock, so a file that takes over a measuring process can read what the service's user can read",
    SECCOMP: "no seccomp, so a file that takes over a measuring process can use the network and start programs",
}


@dataclass(frozen=True)
class Walls:
    landlock_abi: int
    """0: none."""
    seccomp: bool

    @property
    def lacks(self) -> tuple[str, ...]:
        """Those of `WALLS` that are not there."""
        return tuple(one for one, there in zip(WALLS, (self.landlock_abi, self.seccomp), strict=True) if not there)


@cache
def offered(without: frozenset[str] = frozenset()) -> Walls:
    """By this kernel, to this process. `without`: as if these were not; for tests."""
    return Walls(
        landlock_abi=0 if LANDLOCK in without else landlock.abi(),
        seccomp=SECCOMP not in without and seccomp.offered(),
    )


def told(lacks: Iterable[str]) -> str:
    """One plain line for whoever starts the service; empty where nothing is missing."""
    missing = [_WITHOUT[one] for one in lacks]
    return f"The sandbox has a gap: this kernel offers {'; and '.join(missing)}." if missing else ""


# --- In the fork server, and in the children that it hands this on to ---------------------------------------------------


@dataclass(frozen=True)
class _PutUp:
    walls: Walls
    reads: tuple[Path, ...]
    world: int | None
    """The fork server's own world of processes, where each child gets another."""
    most_threads: int | None


_put_up: _PutUp | None = None


def confine_fork_server(without: frozenset[str]) -> int | None:
    """Before anything else is loaded: worlds of its own, its memory out of sight. What `world_of_processes` wants."""
    global _put_up
    apart = NAMESPACES not in without and namespaces.enter()
    privileges.hide_memory()
    privileges.adopt_orphans()
    world = namespaces.own_world() if apart else None
    most_threads = _MOST_THREADS if apart and os.geteuid() else None  # counted apart only in a world of users
    _put_up = _PutUp(offered(without), tuple(_read_by_all()), world, most_threads)
    if _put_up.walls.seccomp:
        seccomp.work_out()
    return world


def confine_child(limits: Limits, reads: Iterable[Path]) -> None:
    """For good. `reads`: files of this task. Raises OSError where a wall that is offered cannot be put up."""
    assert _put_up is not None, "a child comes from the fork server"
    privileges.give_up(limits, _put_up.most_threads)
    if _put_up.walls.landlock_abi:
        landlock.read_only((*_put_up.reads, *reads), _put_up.walls.landlock_abi)
    if _put_up.walls.seccomp:
        seccomp.keep_to_the_table()


def _read_by_all() -> list[Path]:
    """Our own package, Python and what is installed with it, shared libraries, fonts; each once, without what is not there."""
    python = [sysconfig.get_path(name) for name in ("stdlib", "platstdlib", "purelib", "platlib")]
    python += [one for one in sys.path if Path(one).name in ("site-packages", "dist-packages")]  # a user's own, for one
    library = sysconfig.get_config_var("LIBDIR")
    named = [_PACKAGE, *python, *((library,) if library else ()), *_LIBRARIES, *_DEVICES, *_FONTS]
    real = dict.fromkeys(Path(one).resolve() for one in named)
    return [one for one in real if _is_here(one) and not any(other in one.parents for other in real)]


def _is_here(path: Path) -> bool:
    """A Python that was moved names its old folder, which may be in another user's."""
    try:
        return path.exists()
    except PermissionError:
        return False
