"""What goes wrong with a database that is copied or put back."""


class Trouble(Exception):
    """Says what is wrong and what to do."""
