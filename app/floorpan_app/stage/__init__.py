"""The stage: turns layout, findings, shown state and selection into the picture, and the hand in it into edits."""
