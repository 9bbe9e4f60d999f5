"""The JSON Schema that ships is the one that the plan's values have, and it is itself a valid schema."""

from __future__ import annotations

import json
from importlib.resources import files

from jsonschema import Draft202012Validator

from settwright.plan.document import schema
from tests.verify.small_plan import small_plan


def test_the_shipped_schema_is_up_to_date():
    shipped = json.loads((files("settwright.verify") / "plan.schema.json").read_text())
    assert shipped == schema(), "run: python tools/write_schema.py"


def test_the_schema_is_valid_and_takes_a_plan_written_by_hand():
    Draft202012Validator.check_schema(schema())
    Draft202012Validator(schema()).validate(small_plan())
