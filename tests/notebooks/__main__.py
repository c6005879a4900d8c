"""``python -m tests.notebooks refresh``: run every lesson again and write it in its normal form."""

import sys

from tests.notebooks.normal import notebooks, refresh


def main() -> int:
    """Refresh all notebooks; 2 for any other wish."""
    if sys.argv[1:] != ["refresh"]:
        print(__doc__)
        return 2
    for file in notebooks():
        print(f"{file.name}: {'changed' if refresh(file) else 'as it was'}")
    return 0


sys.exit(main())
