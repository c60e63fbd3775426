"""Saving notebooks: the same content gives the same bytes; what must not be committed is refused."""

import base64
import importlib.util
import json
from pathlib import Path

import pytest

spec = importlib.util.spec_from_file_location("normalise", Path(__file__).with_name("normalise.py"))
normalise = importlib.util.module_from_spec(spec)
spec.loader.exec_module(normalise)


def notebook(*cells, **more):
    made = [
        {"cell_type": "code", "source": source, "metadata": {}, "outputs": [], "execution_count": 7, **more}
        for source in cells
    ]
    return {"cells": made, "metadata": {"kernelspec": {"name": "other"}}, "nbformat": 4, "nbformat_minor": 5}


def saved(tmp_path, book):
    path = tmp_path / "01_a.ipynb"
    path.write_text(json.dumps(book), encoding="utf-8")
    return path


def test_running_twice_gives_the_same_bytes_and_says_so(tmp_path, capfd):
    show = """
import secrets, sys
from IPython.display import display
print("one"); sys.stdout.flush(); print("two")
display({"text/html": f'<div class="evlib-run-{secrets.token_hex(4)}">85 N m</div>'}, raw=True)
"""
    path = saved(tmp_path, notebook(show, "1 + 1", metadata={"tags": ["x"], "execution": {"shell": "now"}}))
    assert normalise.main([], tmp_path) == 0
    first = path.read_bytes()
    assert normalise.main(["01_a"], tmp_path) == 0
    assert path.read_bytes() == first
    assert first.endswith(b"}\n") and not first.endswith(b"\n\n")
    said = capfd.readouterr().out
    assert "saved anew" in said and "as it was" in said
    book = json.loads(first)
    assert [cell["execution_count"] for cell in book["cells"]] == [1, 2]
    assert book["cells"][0]["metadata"] == {"tags": ["x"]}
    stream, page = book["cells"][0]["outputs"]
    assert "".join(stream["text"]) == "one\ntwo\n"
    assert "".join(page["data"]["text/html"]) == '<div class="evlib-run-saved">85 N m</div>'
    assert book["metadata"] == normalise.METADATA


@pytest.mark.parametrize(
    ("source", "seconds", "why"),
    [
        ("1 / 0", 60, "a cell fails: ZeroDivisionError"),
        ("import time; time.sleep(60)", 4, "longer than 4 s"),
        ("import sys; print('old', file=sys.stderr)", 60, "code cell 1 writes a warning: old"),
    ],
)
def test_a_notebook_that_fails_is_not_saved(tmp_path, source, seconds, why):
    path = saved(tmp_path, notebook(source))
    before = path.read_bytes()
    with pytest.raises(normalise.Trouble, match=why):
        normalise.renew(path, seconds)
    assert path.read_bytes() == before


@pytest.mark.parametrize("bad", ["", "{", "[]", "{}", '{"cells": [{"source": "x"}]}'])
def test_what_is_not_a_notebook_is_one_sentence(tmp_path, bad, capfd):
    (tmp_path / "01_a.ipynb").write_text(bad)
    assert normalise.main([], tmp_path) == 1
    assert "it is not a notebook" in capfd.readouterr().out


def with_output(data):
    book = normalise.prepared(notebook("x"))
    book["cells"][0]["outputs"] = [{"output_type": "display_data", "data": data, "metadata": {}}]
    return book


@pytest.mark.parametrize("kind", ["image/png", "text/html", "image/svg+xml"])
@pytest.mark.parametrize(("size", "fits"), [(60_000, True), (60_001, False)])
def test_a_picture_has_at_most_60_kB(kind, size, fits):
    coded = base64.b64encode(bytes(size)).decode()
    content = {
        "image/png": coded,
        "text/html": f'<p>picture</p><img src="data:image/png;base64,{coded}">',
        "image/svg+xml": "x" * size,
    }[kind]
    if fits:
        normalise.normalised(with_output({kind: content}))
    else:
        with pytest.raises(normalise.Trouble, match="code cell 1 shows a picture of 60 kB; 60 kB at most"):
            normalise.normalised(with_output({kind: content}))


def test_ids_are_kept_where_good_and_made_from_the_text_where_not():
    book = notebook("a", "b", "c", "d")
    for cell, identity in zip(book["cells"], ["good", "good", "not good", None], strict=True):
        if identity:
            cell["id"] = identity
    ids = [cell["id"] for cell in normalise.prepared(book)["cells"]]
    assert ids[0] == "good" and len(set(ids)) == 4 and "not good" not in ids
    assert ids == [cell["id"] for cell in normalise.prepared(book)["cells"]]
