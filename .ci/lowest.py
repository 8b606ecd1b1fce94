"""Print the lowest version of each dependency that a user can have, as a pip constraint."""

import tomllib
from pathlib import Path

project = tomllib.loads(Path("pyproject.toml").read_text(encoding="utf-8"))["project"]
extras = project["optional-dependencies"]
asked = [
    *project["dependencies"],
    *(line for name, lines in extras.items() if name not in {"test", "dev"} for line in lines),
]
others = [line for line in asked if not line.startswith(f"{project['name']}[")]
print("\n".join(line.replace(">=", "==") for line in others))  # noqa: T201
