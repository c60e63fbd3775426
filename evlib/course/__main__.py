"""The course's commands: ``python3 -m evlib.course COMMAND``. Each stands in a module of its own, beside this one.

Such a module has ``arguments(parser)``, which names what the command takes, and ``run(asked)``, which gives the exit
status: 0 done; 1 done, and something is to be looked at; 2 a word of the command or a file is bad.
"""

from __future__ import annotations

import argparse
import importlib
import sys
from typing import NoReturn

COMMANDS = {  # name: (module, what it does)
    "assignment": ("evlib.course.assignment", "write lessons as assignments for nbgrader, a tool that marks notebooks"),
    "editions": ("evlib.course.editions", "write the lessons for learners, and with solutions and teacher's notes"),
    "site": ("evlib.course.site", "write every lesson as a page to read, for phones and rooms without a network"),
    "pack": ("evlib.course.pack", "make the teacher's pack: plan, worksheets, key, slides"),
    "class": ("evlib.course.class_table", "read a folder of answer files into a class table"),
    "progress": ("evlib.course.progress", "write a page that shows what you have done"),
}


class OneSentence(argparse.ArgumentParser):
    """What is wrong with a word of the command, in one sentence, without a page of usage."""

    def error(self, message: str) -> NoReturn:
        """End with status 2."""
        self.exit(2, f"{message}; `{self.prog} --help` says what there is\n")


def main(words: list[str] | None = None) -> int:
    """Run one command and give its exit status."""
    parser = OneSentence(prog="python -m evlib.course", description="The course around the lessons.")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for name, (module, what) in COMMANDS.items():
        importlib.import_module(module).arguments(commands.add_parser(name, help=what, description=what))
    asked = parser.parse_args(words)
    try:
        return int(importlib.import_module(COMMANDS[asked.command][0]).run(asked))
    except OSError as error:
        print(f"{error.filename or 'a file'}: {error.strerror or error}", file=sys.stderr)
    return 2


if __name__ == "__main__":
    sys.exit(main())
