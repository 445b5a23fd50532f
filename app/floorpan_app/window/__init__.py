"""The window: start screen, bench, right column, drawer, status line, and every question it asks."""
