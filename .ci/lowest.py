"""Print the lowest version of each core dependency as a pip constraint."""

import tomllib
from pathlib import Path

project = tomllib.loads(Path("pyproject.toml").read_text(encoding="utf-8"))["project"]
print("\n".join(line.replace(">=", "==") for line in project["dependencies"]))  # noqa: T201
