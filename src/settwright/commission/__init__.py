"""The commission: everything that the person decides, in one document."""

from settwright.commission.hashing import canonical_hash
from settwright.commission.migrating import FORMAT, migrate
from settwright.commission.model import (
    Axis,
    Choices,
    Commission,
    CutAlready,
    Fitting,
    Found,
    Hand,
    Importance,
    Pin,
    Placed,
    Stage,
)
from settwright.commission.reading import read_commission
from settwright.commission.writing import AddFound, AddPin, RemoveValue, SetValue, bring_up_to_date, write_back

__all__ = [
    "FORMAT",
    "AddFound",
    "AddPin",
    "Axis",
    "Choices",
    "Commission",
    "CutAlready",
    "Fitting",
    "Found",
    "Hand",
    "Importance",
    "Pin",
    "Placed",
    "RemoveValue",
    "SetValue",
    "Stage",
    "bring_up_to_date",
    "canonical_hash",
    "migrate",
    "read_commission",
    "write_back",
]
