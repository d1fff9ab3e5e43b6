"""Run the tracker as ``python -m tracker``."""

from tracker.cli.app import main

if __name__ == "__main__":
    main()
