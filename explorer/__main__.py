"""`python3 -m explorer …` from a checkout is the same as `stillbar …`."""

import sys

# Told before anything else is imported: older Pythons cannot even read the rest.
if sys.version_info < (3, 11):
    sys.exit("Stillbar needs Python 3.11 or newer; this is Python %d.%d" % sys.version_info[:2])

from explorer.bootstrap import RUNTIME, enter

if __name__ == "__main__":
    enter(RUNTIME, "explorer", sys.argv[1:])
    from explorer.command import main

    sys.exit(main(sys.argv[1:]))
