"""What a command says when it cannot go on."""


class Refusal(Exception):  # noqa: N818
    """One sentence for the person at the keyboard: what, where, and what to do."""
