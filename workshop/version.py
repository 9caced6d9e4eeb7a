"""The version of Dialside."""

VERSION = "2026.11"
