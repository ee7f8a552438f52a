"""Entries from the floor, and the fold that turns them into progress.  Pure."""
