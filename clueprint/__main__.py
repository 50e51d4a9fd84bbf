"""`python -m clueprint`, the same as the command `clueprint`."""

from clueprint.cli import main

if __name__ == "__main__":
    main()
