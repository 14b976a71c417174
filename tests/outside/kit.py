"""Shared by the outside judges: kits on disk, quantities, and a list of what was found wrong."""
import json
import re
import sys
from pathlib import Path

MILLIMETRES = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4, '"': 25.4}


class Kit:
    """A written kit: its folder, `record.json` and `report.json`."""

    def __init__(self, folder):
        self.folder = Path(folder)
        self.name = self.folder.name
        self.record = json.loads((self.folder / "record.json").read_text())
        report = self.folder / "report.json"
        self.report = json.loads(report.read_text()) if report.exists() else None

    def value(self, path):
        """A parameter as written, or the default that was assumed for it; None where neither is there."""
        node = self.record["parameters"]
        for key in path.split("."):
            node = node.get(key) if isinstance(node, dict) else None
        return self.record["assumed"].get(path) if node is None else node

    def bed(self):
        """Size of the printer's bed, mm."""
        value = self.value("printing.bed")
        parts = value if isinstance(value, list) else re.findall(r"[\d.]+ *(?:mm|cm|in|\")", value)
        return [millimetres(p) for p in parts]


def millimetres(text):
    """A length such as `220 mm` or `8 in`, mm."""
    number, unit = re.fullmatch(r"\s*([\d.]+)\s*(mm|cm|m|in|\")\s*", text).groups()
    return float(number) * MILLIMETRES[unit]


class Findings:
    """Counts what was looked at and keeps what was wrong."""

    def __init__(self):
        self.passed, self.wrong = 0, []

    def expect(self, good, what):
        """Notes one judgement; `what` says what is wrong when it is not good."""
        if good:
            self.passed += 1
        else:
            self.wrong.append(what)
            print("  WRONG:", what)
        return bool(good)

    def finish(self):
        """Prints the count and ends the program: 0 when something was judged and nothing was wrong."""
        print(f"{self.passed} passed, {len(self.wrong)} failed")
        sys.exit(0 if self.passed and not self.wrong else 1)


def kits():
    """The kits named on the command line."""
    folders = [a for a in sys.argv[1:] if not a.startswith("--")]
    if not folders:
        sys.exit("name at least one kit folder")
    return [Kit(f) for f in folders]
