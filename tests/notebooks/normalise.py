"""Runs every notebook anew and saves it normalised: the same content gives the same bytes. ``start.py lessons``.

With names of notebooks as arguments, only those. Nothing is saved of a notebook that fails; the exit status is then 1.
"""

from __future__ import annotations

import asyncio
import base64
import copy
import hashlib
import json
import re
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

NOTEBOOKS = Path(__file__).resolve().parents[2] / "notebooks"
SECONDS = 120.0  # for one notebook; a lesson is asked to take under 20 on a small laptop
PICTURE = 60_000  # bytes of one saved picture, at most
KEPT = ("tags", "jupyter", "slideshow", "editable", "deletable", "collapsed")  # of a cell's metadata
METADATA = {
    "kernelspec": {"display_name": "Python 3 (ipykernel)", "language": "python", "name": "python3"},
    "language_info": {"name": "python"},
}


class Trouble(Exception):
    """Why a notebook was not saved, in one sentence."""


def main(names: list[str], folder: Path = NOTEBOOKS) -> int:
    """Run and save; print one line for each notebook."""
    paths = [folder / Path(name).with_suffix(".ipynb").name for name in names] or sorted(folder.glob("*.ipynb"))
    bad = 0
    for path in paths:
        began = time.monotonic()
        try:
            said = "saved anew" if renew(path) else "as it was"
        except (Trouble, OSError) as problem:
            said, bad = f"NOT SAVED: {problem}", bad + 1
        print(f"{path.name}: {said} ({time.monotonic() - began:.1f} s)", flush=True)
    print(f"{len(paths) - bad} passed, {bad} failed")
    return 1 if bad else 0


def renew(path: Path, seconds: float = SECONDS) -> bool:
    """Run one notebook and save it if anything differs; True if it did."""
    from evlib.ground.folder import write_atomically

    before = path.read_text(encoding="utf-8")
    try:
        book = prepared(json.loads(before))
    except (ValueError, KeyError, TypeError) as problem:
        raise Trouble(f"it is not a notebook ({problem})") from None
    text = written(normalised(executed(book, path.parent, seconds)))
    if text != before:
        write_atomically(path, text)
    return text != before


def prepared(book: dict[str, Any]) -> dict[str, Any]:
    """Without outputs and passing metadata; a cell without a good id gets one from its place and its text."""
    book = copy.deepcopy(book)
    seen: set[str] = set()
    for number, cell in enumerate(book["cells"]):
        source = "".join(cell["source"])
        if not re.fullmatch(r"[A-Za-z0-9_-]{1,64}", str(cell.get("id", ""))) or cell["id"] in seen:
            cell["id"] = hashlib.sha256(f"{number}\n{source}".encode()).hexdigest()[:8]
        seen.add(cell["id"])
        cell["source"] = source
        cell["metadata"] = {key: value for key, value in cell.get("metadata", {}).items() if key in KEPT}
        if cell["cell_type"] == "code":
            cell["outputs"], cell["execution_count"] = [], None
    return {"cells": book["cells"], "metadata": METADATA, "nbformat": 4, "nbformat_minor": 5}


def executed(book: dict[str, Any], folder: Path, seconds: float) -> dict[str, Any]:
    """Run all cells in order in a new kernel, within the time limit."""
    import nbformat
    from nbclient import NotebookClient
    from nbclient.exceptions import CellExecutionError, DeadKernelError

    node = nbformat.from_dict(book)
    resources = {"metadata": {"path": str(folder)}}
    client = NotebookClient(node, timeout=None, kernel_name="python3", resources=resources, store_widget_state=False)
    client.extra_arguments = ["--log-level=ERROR"]  # else each kernel warns of a connection that stays on this machine
    began = time.monotonic()
    try:
        asyncio.run(asyncio.wait_for(client.async_execute(), seconds))
    except (TimeoutError, DeadKernelError):  # ended at the limit, a kernel may be seen as dead first
        late = time.monotonic() - began >= seconds
        raise Trouble(f"it took longer than {seconds:g} s" if late else "its kernel died") from None
    except CellExecutionError as problem:
        raise Trouble(f"a cell fails: {problem.ename}: {problem.evalue}") from None
    node.metadata = nbformat.from_dict(METADATA)  # the kernel adds its Python's version
    ran: dict[str, Any] = json.loads(json.dumps(node))
    return ran


def normalised(book: dict[str, Any]) -> dict[str, Any]:
    """Outputs without what differs between runs; too large a picture, an error or a warning is refused."""
    for number, cell in enumerate((cell for cell in book["cells"] if cell["cell_type"] == "code"), 1):
        cell["metadata"].pop("execution", None)
        cell["outputs"] = list(joined(cell["outputs"]))
        for output in cell["outputs"]:
            output.pop("transient", None)
            if output.get("name") == "stderr":
                raise Trouble(f"code cell {number} writes a warning: {''.join(output['text']).strip()[:200]}")
            if output["output_type"] == "error" and "raises-exception" not in cell["metadata"].get("tags", []):
                raise Trouble(f"code cell {number} shows an error: {output.get('evalue', '')}")
            for kind, content in output.get("data", {}).items():
                if isinstance(content, str):
                    output["data"][kind] = re.sub(r"evlib-run-[0-9a-f]{8}\b", "evlib-run-saved", content)
                    for size in picture_sizes(kind, content):
                        if size > PICTURE:
                            raise Trouble(f"code cell {number} shows a picture of {size / 1000:.0f} kB; 60 kB at most")
    return book


def joined(outputs: list[dict[str, Any]]) -> Iterator[dict[str, Any]]:
    """Pieces of one stream that follow each other as one: how it was cut is chance."""
    last: dict[str, Any] | None = None
    for output in outputs:
        if last and output["output_type"] == last["output_type"] == "stream" and output["name"] == last["name"]:
            last["text"] = "".join(last["text"]) + "".join(output["text"])
            continue
        if last:
            yield last
        last = output
    if last:
        yield last


def picture_sizes(kind: str, content: str) -> Iterator[int]:
    """Bytes of every picture in an output of one kind."""
    if kind == "image/svg+xml":
        yield len(content.encode())
    elif kind.startswith("image/"):
        yield len(base64.b64decode(content))
    elif kind == "text/html":
        for data in re.findall(r"data:image/[\w.+-]+;base64,([A-Za-z0-9+/=]+)", content):
            yield len(base64.b64decode(data))


def written(book: dict[str, Any]) -> str:
    """As Jupyter writes it, ending with a newline."""
    import nbformat

    node = nbformat.from_dict(book)
    nbformat.validate(node)
    return str(nbformat.writes(node, version=4)).rstrip("\n") + "\n"


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
