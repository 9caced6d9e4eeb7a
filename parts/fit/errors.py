"""What is raised for a pairing sheet that cannot describe a watch."""


class SheetError(ValueError):
    """Impossible input; names the key, the value there and the limit that it breaks, all on one line.

    `other` is the key of the number that it contradicts, where it is another one that sets the limit.
    """

    def __init__(self, key: str, value: object, limit: str, reason: str, other: str = "") -> None:
        self.key, self.value, self.limit, self.reason, self.other = key, value, limit, reason, other
        name = key if key.isprintable() else ascii(key)
        behind = f" ({other})" if other else ""
        super().__init__(f"{name} is {value!r}: {reason}; it must be {limit}{behind}.")
