"""The race: this program's planner against published ways of choosing cards, and an oracle."""
