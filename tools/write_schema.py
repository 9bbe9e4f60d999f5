"""Writes the JSON Schema of plan.json where the verifier finds it; a test holds it up to date."""

import json
from pathlib import Path

from settwright.plan.document import schema

TARGET = Path(__file__).parents[1] / "src" / "settwright" / "verify" / "plan.schema.json"

if __name__ == "__main__":
    TARGET.write_text(json.dumps(schema(), indent=1, sort_keys=True) + "\n")
    print(TARGET.relative_to(Path.cwd()) if TARGET.is_relative_to(Path.cwd()) else TARGET)
