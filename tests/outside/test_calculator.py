"""Calculator functions (ISO 32000-2:2020, 7.10.5) against Ghostscript's PostScript interpreter, which runs the same words.

Tolerance 2 · 10⁻⁵ of the value: Ghostscript reckons reals with 32 bits. Each program is run for every pair of inputs.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np

from service.pdf.plates.colors import calculator
from tests.outside_tools import tool

PROGRAMS = [
    "add", "sub", "mul", "exch div", "neg exch abs", "2 copy gt {exch} if", "2 copy lt {pop} {exch pop} ifelse",
    "atan exch sin add", "cos exch abs sqrt", "abs 1 add ln exch pop", "abs 1 add log exch pop", "exch abs exch exp",
    "floor exch ceiling", "round exch truncate", "cvi exch cvi exch 7 idiv", "cvi exch cvi 3 mod", "cvi exch cvr",
    "cvi exch cvi and", "cvi exch cvi or", "cvi exch cvi xor", "cvi not exch cvi", "cvi 5 bitshift exch cvi -2 bitshift",
    "2 copy eq {pop 1} {0 mul} ifelse", "0.3 ge exch 0.7 le and {1} {0} ifelse", "0 ne exch 0 gt xor not {3} {4} ifelse",
    "3 1 roll 4 copy pop 2 index 5 2 roll", "dup mul exch dup 3 -1 roll add sqrt", "360 mul sin 2 div exch 360 mul sin 2 div add",
    "true {0.5 mul} {false {1} {2} ifelse} ifelse", "2147483647 1 add add", "dup cvi 1 and 0 eq {1 exch sub} {2 mul} ifelse",
]
"""Each starts with two inputs on the stack, and under them two numbers that no program takes away."""
INPUTS = [(0.25, 0.75), (0.9, 0.1), (-3.6, 2.5), (12, 5), (-7, 3), (1, 1), (100.5, 0.3), (2, -9)]


def test_programs_give_what_ghostscript_gives(tmp_path: Path) -> None:
    script = "".join(f"clear 9 8 {x} {y} {source} pstack (next) = \n" for source in PROGRAMS for x, y in INPUTS)
    (tmp_path / "programs.ps").write_text(script, encoding="ascii")
    printed = tool("gs")("-q", "-dNODISPLAY", "-dBATCH", "-dSAFER", tmp_path / "programs.ps").split("next\n")
    for at, source in enumerate(PROGRAMS):
        program = calculator.parsed(f"{{9 8 4 2 roll {source}}}".encode())
        theirs = [
            [float(line) for line in reversed(block.split())] for block in printed[at * len(INPUTS) : (at + 1) * len(INPUTS)]
        ]
        ours = calculator.run(program, np.array(INPUTS, dtype=np.float64), len(theirs[0]))
        np.testing.assert_allclose(ours, theirs, rtol=2e-5, atol=2e-5, err_msg=source)
