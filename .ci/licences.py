#!/usr/bin/env python3
"""List the licences of everything that is inside the program, with their texts.

    licences.py [--features pdf] > THIRD-PARTY.txt

What is inside is what cargo resolves for this platform, without what only builds or tests. A package without a licence, or
without a text of it in its folder, is named at the end; the first makes the exit status 1.
"""

import argparse
import json
import subprocess
import sys
from pathlib import Path

TEXTS = ("licen", "copying", "unlicense", "notice")


def resolved(features: str) -> list[dict]:
    """The packages that are linked into the program."""
    host = subprocess.run(["rustc", "--print", "host-tuple"], check=True, capture_output=True, text=True).stdout.strip()
    command = ["cargo", "metadata", "--format-version", "1", "--locked", "--filter-platform", host, "--features", features]
    metadata = json.loads(subprocess.run(command, check=True, capture_output=True, text=True).stdout)
    nodes = {node["id"]: node for node in metadata["resolve"]["nodes"]}
    seen, left = set(), [metadata["resolve"]["root"]]
    while left:
        package = left.pop()
        if package not in seen:
            seen.add(package)
            is_inside = lambda dep: any(kind["kind"] is None for kind in dep["dep_kinds"])
            left += [dep["pkg"] for dep in nodes[package]["deps"] if is_inside(dep)]
    inside = [package for package in metadata["packages"] if package["id"] in seen]
    return sorted(inside, key=lambda package: (package["name"], package["version"]))


def texts(package: dict) -> dict[str, str]:
    """The texts of its licences by their files' names."""
    folder = Path(package["manifest_path"]).parent
    files = [path for path in sorted(folder.iterdir()) if path.is_file() and path.name.lower().startswith(TEXTS)]
    return {path.name: path.read_text(errors="replace").strip() for path in files}


def main() -> int:
    parser = argparse.ArgumentParser()
    parser.add_argument("--features", default="")
    packages = resolved(parser.parse_args().features)
    print("The program contains these packages.\n")
    for package in packages:
        print(f"{package['name']} {package['version']}: {package['license'] or 'no licence'}")
    # Many packages have the very same text: it is printed once, with those that have it.
    by_text: dict[str, list[str]] = {}
    without = []
    for package in packages:
        name = f"{package['name']} {package['version']}"
        found = texts(package)
        without += [] if found else [name]
        for text in found.values():
            by_text.setdefault(text, []).append(name)
    for text, names in by_text.items():
        print(f"\n{'=' * 80}\n{', '.join(names)}\n{'=' * 80}\n\n{text}")
    if without:
        print(f"\n{'=' * 80}\nNo text of their own: {', '.join(without)}. Their licences are named above.")
    unlicensed = [package["name"] for package in packages if not (package["license"] or package["license_file"])]
    print(f"{len(packages)} packages, {len(by_text)} texts, {len(without)} without one", file=sys.stderr)
    return 1 if unlicensed else 0


if __name__ == "__main__":
    sys.exit(main())
