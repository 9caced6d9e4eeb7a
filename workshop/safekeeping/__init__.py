"""Keeping what the workshop holds: backups, exports, files, moves, and looking it all over."""
