"""What one part of the soak found: its figures to print, and each fault in a line."""

from dataclasses import dataclass, field

MOST_SHOWN = 20


@dataclass
class Found:
    """Figures as (what, how much) and faults; a part without faults has passed."""

    figures: list = field(default_factory=list)
    faults: list = field(default_factory=list)
    skipped: str = ""

    def told(self):
        """The lines that are printed."""
        if self.skipped:
            return [f"  skipped: {self.skipped}"]
        lines = [f"  {what:34} {much}" for what, much in self.figures]
        lines += [f"  FAULT {fault}" for fault in self.faults[:MOST_SHOWN]]
        if len(self.faults) > MOST_SHOWN:
            lines.append(f"  and {len(self.faults) - MOST_SHOWN} more")
        return lines
