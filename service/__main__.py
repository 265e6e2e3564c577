"""The command `print-spec`."""

from __future__ import annotations

import atexit
import gc
import sys
from collections.abc import Sequence

from service.cli.command_line import in_its_language
from service.cli.commands import parser_for
from service.cli.refused import NOT_DONE, Refused, told

atexit.register(gc.freeze)  # an interpreter that ends looks for garbage in all that is loaded: a tenth of a short command


def main(arguments: Sequence[str] | None = None) -> int:
    """2 is also the exit code of a command line that was not understood."""
    arguments = sys.argv[1:] if arguments is None else arguments
    try:
        with in_its_language(arguments):
            given = parser_for(arguments).parse_args(arguments)
        from service.language.spoken import speaking  # not for `--help`, which loads nothing

        with speaking(getattr(given, "lang", "en")):
            return int(given.run(given))
    except Refused as refused:
        return told(refused)
    except KeyboardInterrupt:
        print("Stopped.", file=sys.stderr)
        return NOT_DONE
    except BrokenPipeError:  # the reader of our output went away: `print-spec rules | head`
        sys.stderr.close()
        return NOT_DONE


if __name__ == "__main__":
    sys.exit(main())
