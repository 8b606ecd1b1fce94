"""Print the lowest version of each dependency that a user can have, as a pip constraint."""

import tomllib
from pathlib import Path

project = tomllib.loads(Path("pyproject.toml").read_text(encoding="utf-8"))["project"]
extras = project["optional-dependencies"]
asked = [
    *project["dependencies"],
    *(line for name, lines in extras.items() if name not in {"test", "dev"} for line in lines),
]
print("\n".join(line.replace(">=", "==") for line in asked))  # noqa: T201
