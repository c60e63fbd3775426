"""Work on a build file from the command line.

Exit status: 0 every check made passed; 1 some check failed or is not known; 2 the file or a word of the command is bad.
"""

from __future__ import annotations

import argparse
import os
import sys
import textwrap
from collections.abc import Sequence
from pathlib import Path

from evlib.build.as_json import build_json
from evlib.build.compare import FEWEST, MOST, compare, listed
from evlib.build.drawings import adapter_dxf
from evlib.build.file import BadBuild, blank, find_build, read_build
from evlib.build.json_schema import schema_text
from evlib.build.repair import HEADER, cells, failed, repair
from evlib.build.review import Review, review
from evlib.build.schema import Build
from evlib.build.sheet import PAPERS, sheet, side_text
from evlib.ground.checks import FAIL, NOT_KNOWN
from evlib.ground.errors import DoesNotApply, NotKnown
from evlib.ground.folder import write_atomically

CELL = 50  # letters of a cell of a comparison; two builds then fit into a window


def main(words: list[str] | None = None) -> int:
    """Run one command and give its exit status."""
    parser = argparse.ArgumentParser(prog="python -m evlib.build", description="Review a build and write its sheet.")
    commands = parser.add_subparsers(dest="command", required=True, metavar="COMMAND")
    for name, what, output in (
        ("sheet", "write the build sheet as one HTML file", "the HTML file to write"),
        ("plate", "write the adapter plate for the cutter as DXF, full size", "the DXF file to write"),
        ("json", "write values, checks with their working, and figures as JSON", "the JSON file to write"),
        ("review", "print every check", ""),
    ):
        command = commands.add_parser(name, help=what)
        command.add_argument("build", help="a build file, or the name of a build that comes with the course")
        if output:
            command.add_argument("-o", "--output", type=Path, required=True, help=output)
        if name == "sheet":
            command.add_argument("--paper", choices=PAPERS, default="", help="fix the paper; else the printer's")
    command = commands.add_parser("compare", help="print what differs between two to four builds, and what it does")
    command.add_argument("builds", nargs="+", metavar="build", help="build files, or names of builds of the course")
    command = commands.add_parser("repair", help="print the smallest changes that mend each failed check")
    command.add_argument("build", help="a build file, or the name of a build that comes with the course")
    command.add_argument("--check", default="", help="this check alone, by its name")
    command = commands.add_parser("blank", help="write a blank build file that says how to get each value")
    command.add_argument("-o", "--output", type=Path, required=True, help="the build file to write")
    command = commands.add_parser("schema", help="write the schema of the JSON")
    command.add_argument("-o", "--output", type=Path, required=True, help="the schema file to write")
    asked = parser.parse_args(words)
    try:
        if asked.command == "schema":
            return _written(asked.output, schema_text())
        if asked.command == "compare":
            return _compare(asked.builds)
        if asked.command == "repair":
            return _repair(asked)
        return _blank(asked.output) if asked.command == "blank" else _review(asked)
    except BadBuild as error:
        print(error, file=sys.stderr)
    except BrokenPipeError:  # who reads the output has stopped reading, as ``head`` does
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 1
    except OSError as error:
        print(f"{asked.output}: cannot be written: {error.strerror}", file=sys.stderr)
    return 2


def _blank(output: Path) -> int:
    if output.exists():
        print(f"{output}: exists already, and is left as it is", file=sys.stderr)
        return 2
    write_atomically(output, blank())
    print(f"{output} is written; fill in what you know")
    return 0


def _written(output: Path, text: str) -> int:
    write_atomically(output, text)
    print(f"{output} is written")
    return 0


def _compare(names: list[str]) -> int:
    if not FEWEST <= len(names) <= MOST:
        print(f"builds: {len(names)} given; allowed: {FEWEST} to {MOST}", file=sys.stderr)
        return 2
    found = compare([read_build(find_build(name)) for name in names])
    print(found.sentence)
    for name, each in zip(names, found.reviews, strict=True):
        print(f"{name}: {each.summary}")
    for table in listed(found, names, most=1000):
        rows = [[textwrap.shorten(cell, CELL, placeholder=" ...") for cell in row] for row in table.rows]
        print(f"\n{table.title}\n{_aligned(table.header, rows)}")
    return max(_status(each) for each in found.reviews)


def _repair(asked: argparse.Namespace) -> int:
    build = read_build(find_build(asked.build))
    before = review(build, figures=False)
    if asked.check and asked.check not in [check.name for check in before.checks]:
        print(f"--check: {asked.check!r} is no check; the command review lists them", file=sys.stderr)
        return 2
    print(f"{before.summary}\n")  # first too: what follows is long
    for name in [asked.check] if asked.check else failed(before):
        check = before.check(name)
        if check.demand is None:
            print(f"{name}: {check.verdict}; there is no margin to lift")
            continue
        found = repair(build, name, before=before)
        print(found.sentence)
        if found.found:
            print(_aligned(HEADER, [cells(each) for each in found.found]))
        print()
    print(before.summary)
    return _status(before)


def _aligned(header: Sequence[str], rows: Sequence[Sequence[str]]) -> str:
    """A table as lines of text."""
    every = [header, *rows]
    widths = [max(len(row[column]) for row in every) for column in range(len(header))]
    return "\n".join("  ".join(cell.ljust(width) for cell, width in zip(row, widths, strict=True)).rstrip()
                     for row in every)  # fmt: skip


def _status(found: Review) -> int:
    counts = found.counts
    return 1 if counts[FAIL] or counts[NOT_KNOWN] else 0


def _plate(output: Path, build: Build) -> int:
    try:
        return _written(output, adapter_dxf(build))
    except (NotKnown, DoesNotApply, ValueError) as why:
        print(f"no plate is drawn: {why}", file=sys.stderr)
        return 2


def _review(asked: argparse.Namespace) -> int:
    build = read_build(find_build(asked.build))
    found = review(build)
    if asked.command == "sheet":
        _written(asked.output, sheet(build, paper=asked.paper))
    elif asked.command == "plate":
        return _plate(asked.output, build)
    elif asked.command == "json":
        _written(asked.output, build_json(build))
    else:
        print(f"{found.summary}\n")  # first too: what follows is long
        for check in found.checks:
            numbers = "" if check.demand is None else f"  {side_text(check, check.demand)} of "
            numbers += "" if check.demand is None else side_text(check, check.capacity)
            print(f"{check.verdict:15} {check.name}{numbers}{'  ' + ', '.join(check.missing) if check.missing else ''}")
    print(found.summary)
    return _status(found)


if __name__ == "__main__":
    sys.exit(main())
