"""How many small mistakes in the rules their tests notice: `python -m tests.mutations [MODULE…] [--workers 2]`.

Prints the mistakes that no test notices, and the score; ends with 1 where it is under 90 %. Whoever adds a rule runs it on the
rule's module: a test that never fails is not there.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence

from tests.mutations.equivalent import EQUIVALENT
from tests.mutations.mutants import Mutant, mutants_of, mutated
from tests.mutations.running import ROOT, each, warm_up
from tests.mutations.twins import MODULES, answering

LEAST_PERCENT = 90


def main(arguments: Sequence[str]) -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.mutations", description=__doc__)
    parser.add_argument("modules", nargs="*", metavar="MODULE", help="such as service/rules/edges/trim.py, or a part of it")
    parser.add_argument("--workers", type=int, default=2)
    parsed = parser.parse_args(arguments)
    chosen = [one for one in MODULES if not parsed.modules or any(part in one for part in parsed.modules)]
    warm_up()
    made = noticed = 0
    for module in chosen:
        survivors, count = _survivors(module, parsed.workers)
        made, noticed = made + count, noticed + count - len(survivors)
        print(f"{module}: {count - len(survivors)} of {count}", flush=True)
        for one in survivors:
            print(f"    {one.line}: {one.key}", flush=True)
    percent = 100 * noticed / made if made else 100
    print(f"{noticed} of {made} mistakes noticed: {percent:.1f} %")
    return 0 if percent >= LEAST_PERCENT else 1


def _survivors(module: str, workers: int) -> tuple[list[Mutant], int]:
    """Mutants that no test notices, and how many were tried."""
    source = (ROOT / module).read_text(encoding="utf-8")
    same = EQUIVALENT.get(module, {})
    mutants = [one for one in mutants_of(source) if one.key not in same]
    if not mutants:
        return [], 0
    trees = [None, *(mutated(source, one.number) for one in mutants)]
    broken, *results = each(named(module), trees, answering(module), [named(one) for one in MODULES], workers)
    if broken:
        raise SystemExit(f"{module}: its tests fail as it is")
    return [one for one, seen in zip(mutants, results, strict=True) if not seen], len(mutants)


def named(module: str) -> str:
    return module.removesuffix(".py").replace("/", ".")


if __name__ == "__main__":
    os.chdir(ROOT)
    raise SystemExit(main(sys.argv[1:]))
