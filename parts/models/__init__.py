"""What lies in the drawers, and which parts were paired."""

from parts.models.case import Case, CaseFamily
from parts.models.csvfile import CsvFile
from parts.models.dial import Dial, DialFoot, DialFurniture
from parts.models.hands import Hand, HandSet
from parts.models.holder import HolderDesign, HolderPhoto, PrintedPiece
from parts.models.instrument import Instrument
from parts.models.movement import FootHole, Movement
from parts.models.note import PartNote
from parts.models.pairing import Pairing
from parts.models.picture import MatPrint, PartPicture, Scanner
from parts.models.rule import ShopRule
from parts.models.stem import Crown, Stem

__all__ = [
    "Case",
    "CaseFamily",
    "Crown",
    "CsvFile",
    "Dial",
    "DialFoot",
    "DialFurniture",
    "FootHole",
    "Hand",
    "HandSet",
    "HolderDesign",
    "HolderPhoto",
    "Instrument",
    "MatPrint",
    "Movement",
    "Pairing",
    "PartNote",
    "PartPicture",
    "PrintedPiece",
    "Scanner",
    "ShopRule",
    "Stem",
]
