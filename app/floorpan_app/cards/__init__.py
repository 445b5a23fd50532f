"""One card a step: its question, what is set for it, and its acceptance."""
