"""Formulas of the lessons as MathML, which every browser draws by itself: no script, no font, nothing fetched.

The lessons write most sums as plain text; the few set formulas need a small part of TeX only. What is not in that
part is refused with one sentence, so that no formula is shown wrong.
"""

from __future__ import annotations

import html
import re
import unicodedata

TOKENS = re.compile(r"\\text\{[^{}]*\}|\\[A-Za-z]+|\\.|\d+(?:\.\d+)?|[^\s]")
SIGNS = {
    r"\times": "×", r"\cdot": "·", r"\approx": "≈", r"\le": "≤", r"\leq": "≤", r"\ge": "≥", r"\geq": "≥", r"\pm": "±",
    r"\to": "→", r"\infty": "∞", r"\%": "%", r"\,": " ", "-": "−", "*": "·",
}  # fmt: skip


def mathml(tex: str, *, block: bool) -> str:
    """A formula as a ``math`` element. Raises ``ValueError`` with one sentence for what is not in the part of TeX.

    >>> mathml("P = I^2 R", block=False)
    '<math><mi>P</mi><mo>=</mo><msup><mi>I</mi><mn>2</mn></msup><mi>R</mi></math>'
    """
    left = TOKENS.findall(tex)
    try:
        found = _row(left)
    except (IndexError, KeyError) as problem:
        what = f"{problem.args[0]} is not known in this place" if isinstance(problem, KeyError) else "it ends too early"
        raise ValueError(f"The formula {tex.strip()!r} cannot be shown: {what}.") from None
    if left:
        raise ValueError(f"The formula {tex.strip()!r} cannot be shown: it closes more than it opens.")
    start = '<math display="block">' if block else "<math>"
    return f"{start}{found}</math>"


def _row(left: list[str]) -> str:
    """Pieces up to the brace that closes them, or to the end."""
    pieces = []
    while left and left[0] != "}":
        piece = _piece(left)
        raised = {}
        while left and left[0] in ("^", "_") and left[0] not in raised:
            mark = left.pop(0)
            raised[mark] = _piece(left)
        tag = {"": "", "_": "msub", "^": "msup", "_^": "msubsup"}["".join(sorted(raised, reverse=True))]
        scripts = raised.get("_", "") + raised.get("^", "")
        pieces.append(f"<{tag}>{piece}{scripts}</{tag}>" if tag else piece)
    return "".join(pieces)


def _piece(left: list[str]) -> str:
    """One letter, number, sign, group or command."""
    token = left.pop(0)
    if token == "{":
        row = _row(left)
        left.pop(0)
        return f"<mrow>{row}</mrow>"
    if token.startswith(r"\text{"):
        return f"<mtext>{html.escape(token[6:-1])}</mtext>"
    if token == r"\frac":
        return f"<mfrac>{_piece(left)}{_piece(left)}</mfrac>"
    if token == r"\sqrt":
        return f"<msqrt>{_piece(left)}</msqrt>"
    if token in ("^", "_"):
        raise KeyError(token)
    if token in SIGNS:
        return f"<mo>{SIGNS[token]}</mo>"
    if token.startswith("\\"):
        return f"<mi>{_greek(token)}</mi>"
    if token[0].isdigit():
        return f"<mn>{token}</mn>"
    return f"<mi>{token}</mi>" if token.isalpha() else f"<mo>{html.escape(token)}</mo>"


def _greek(token: str) -> str:
    case = "CAPITAL" if token[1].isupper() else "SMALL"
    try:
        return unicodedata.lookup(f"GREEK {case} LETTER {token[1:].upper()}")
    except KeyError:
        raise KeyError(token) from None
