"""Pieces: one sentence on what this step will do."""

from floorpan.layout import Step
from floorpan_app.cards import words
from floorpan_app.cards.blocks import told
from floorpan_app.cards.card import Card


class PiecesCard(Card):
    """Says what this step will do."""

    step: Step = "pieces"

    def build(self) -> None:
        self.add(told(words.PIECES_LATER))

    def lacks(self) -> str:
        return words.PIECES_LACK
