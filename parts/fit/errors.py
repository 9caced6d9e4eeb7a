"""What is raised for a pairing sheet that cannot describe a watch."""


class SheetError(ValueError):
    """Impossible input; names the key, the value found there and the limit that it breaks."""

    def __init__(self, key, value, limit, reason):
        self.key, self.value, self.limit, self.reason = key, value, limit, reason
        super().__init__(f"{key} is {value!r}: {reason}; it must be {limit}.")
