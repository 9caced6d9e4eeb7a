"""What is raised for a pairing sheet that cannot describe a watch."""


class SheetError(ValueError):
    """Impossible input; names the key, the value found there and the limit that it breaks, all on one line."""

    def __init__(self, key: str, value: object, limit: str, reason: str) -> None:
        self.key, self.value, self.limit, self.reason = key, value, limit, reason
        told = key if key.isprintable() else ascii(key)
        super().__init__(f"{told} is {value!r}: {reason}; it must be {limit}.")
