"""python -m tests.audit: what the installation is made of, and whether a fault of any of it is known.

The bill of materials (CycloneDX) is written to the file named, and held against the pins: every package of the
installation stands in it with its version. Known faults are asked of the registry that the packages come from; where it
does not answer that, the run says so and goes on.
"""

import json
import subprocess
import sys
from pathlib import Path

TOOLS = Path(sys.executable).parents[1] / "tools" / "bin"
PINS = Path("constraints.txt")
WITH_PYTHON = {"pip", "setuptools"}
"""What every environment has from the start."""


def main(file: str) -> int:
    """Write the bill of materials and ask for known faults; returns how the process ends."""
    Path(file).parent.mkdir(parents=True, exist_ok=True)
    bill = _bill(Path(file))
    names = _pins()
    wrong = {name: version for name, version in bill.items() if names.get(name) != version and name not in WITH_PYTHON}
    print(f"{file} lists {len(bill)} packages.")
    if wrong:
        print(f"Not the pinned versions: {wrong}. Set up again: rm -r .venv; make run")
        return 1
    return _ask(names)


def _pins() -> dict[str, str]:
    text = PINS.read_text() + Path("workshop/installer.txt").read_text()
    lines = (line.split()[0] for line in text.splitlines() if "==" in line)
    return dict(line.split("==") for line in lines)


def _bill(file: Path) -> dict[str, str]:
    call = [TOOLS / "cyclonedx-py", "environment", "--output-reproducible", "--pyproject", "pyproject.toml"]
    subprocess.run([*call, "--output-file", file, sys.executable], check=True, capture_output=True)
    components = json.loads(file.read_text())["components"]
    return {component["name"].lower().replace("_", "-"): component["version"] for component in components}


def _ask(names: dict[str, str]) -> int:
    call = [TOOLS / "pip-audit", "--requirement", PINS, "--disable-pip", "--require-hashes", "--format", "json"]
    asked = subprocess.run(call, capture_output=True, text=True)
    try:
        answers = json.loads(asked.stdout)["dependencies"]
    except ValueError:
        answers = []
    judged = [answer for answer in answers if "vulns" in answer]
    if not judged:
        print(f"Known faults: none of {len(names)} packages could be asked about from this machine.")
        return 0
    faulty = [answer for answer in judged if answer["vulns"]]
    for answer in faulty:
        for fault in answer["vulns"]:
            mended = ", ".join(fault["fix_versions"]) or "no version yet"
            print(f"{answer['name']} {answer['version']}: {fault['id']}, mended in {mended}")
    print(f"Known faults: {len(faulty)} of {len(judged)} packages asked about ({len(names)} pinned).")
    return 1 if faulty else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1]))
