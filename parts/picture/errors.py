"""What is raised for a picture that cannot be trusted: a sentence, and the way on."""


class PictureError(ValueError):
    """Why a picture cannot be measured; `way_on` says what to do about it."""

    def __init__(self, reason: str, way_on: str) -> None:
        self.reason, self.way_on = reason, way_on
        super().__init__(f"{reason} {way_on}")
