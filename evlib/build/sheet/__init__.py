"""The build sheet: every page of it, from the one-page summary to what is not reviewed."""

from evlib.build.sheet.listed import card_rows, inspector_rows
from evlib.build.sheet.page import CAUTIONS, PAPERS, sheet
from evlib.build.sheet.words import both, margin_text, side_text

__all__ = ["CAUTIONS", "PAPERS", "both", "card_rows", "inspector_rows", "margin_text", "sheet", "side_text"]
