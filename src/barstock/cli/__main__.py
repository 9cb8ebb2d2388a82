"""Running `python -m barstock.cli` is the command line."""

from barstock.cli.commands import run

run()
