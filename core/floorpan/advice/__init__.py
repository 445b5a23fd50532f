"""What searches over layouts. Judges never propose; this does, and has its proposals judged."""

from floorpan.advice.cures import with_cures

__all__ = ["with_cures"]
