"""What is asked: cards, lines of shapes, and how each kind of card is asked and helped."""

from drills.cards.card import Card, default_cards

__all__ = ["Card", "default_cards"]
