"""``python -m axisproof``."""

from .cli.start import main

if __name__ == "__main__":
    main()
