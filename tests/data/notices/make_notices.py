#!/usr/bin/env python3
"""Writes assets/third-party-notices.txt: name, version, licence and licence texts of every crate that is linked into the program.

    python3 tests/data/notices/make_notices.py

It asks `cargo metadata` for the crates of every platform that are linked in (neither build tools nor macros nor what only tests use)
and reads the licence files that lie in their packages. Equal texts are printed once. tests/notices.rs finds a crate that is missing.
"""
import collections, json, os, re, subprocess

HERE = os.path.dirname(os.path.abspath(__file__))
ROOT = os.path.normpath(os.path.join(HERE, "..", "..", ".."))
OUT = os.path.join(ROOT, "assets", "third-party-notices.txt")
RULE = "=" * 100

HEAD = """Third-party notices

Tapcross is under the MIT licence (see LICENSE). Its binary holds the crates listed here, each under its own licence,
on the platforms that need them. The typeface Inter, also inside the binary, is under the SIL Open Font License 1.1
(assets/fonts/OFL.txt). The source of every crate is public under its name and version; that of the crates under the
Mozilla Public License 2.0 is used unchanged and can be had from the repository named beside each.

Written by tests/data/notices/make_notices.py.
"""


def linked(meta):
    """Ids of the packages that are linked in, on any platform."""
    packages = {package["id"]: package for package in meta["packages"]}
    nodes = {node["id"]: node for node in meta["resolve"]["nodes"]}
    root = meta["resolve"]["root"]
    found, open_ids = set(), [root]
    while open_ids:
        here = open_ids.pop()
        for dep in nodes[here]["deps"]:
            is_normal = any(kind["kind"] is None for kind in dep["dep_kinds"])
            is_macro = any("proc-macro" in target["kind"] for target in packages[dep["pkg"]]["targets"])
            if is_normal and not is_macro and dep["pkg"] not in found:
                found.add(dep["pkg"])
                open_ids.append(dep["pkg"])
    return sorted((packages[one] for one in found), key=lambda package: (package["name"], package["version"]))


def texts(package):
    """The licence files of a package; of a choice that has MIT, the MIT one is taken."""
    folder = os.path.dirname(package["manifest_path"])
    is_text = re.compile(r"^(licen[cs]e|copying|notice|unlicense|copyright)", re.I)
    names = sorted(name for name in os.listdir(folder) if is_text.match(name) and os.path.isfile(os.path.join(folder, name)))
    if "MIT" in re.split(r"\W*(?:OR|/)\W*", package["license"] or "") and any("mit" in name.lower() for name in names):
        names = [name for name in names if "mit" in name.lower() or name.lower().startswith("notice")]
    for name in names:
        with open(os.path.join(folder, name), encoding="utf-8", errors="replace") as file:
            yield "\n".join(line.rstrip() for line in file.read().strip().splitlines())


def main():
    command = ["cargo", "metadata", "--locked", "--format-version", "1"]
    meta = json.loads(subprocess.run(command, cwd=ROOT, check=True, capture_output=True, text=True).stdout)
    packages = linked(meta)
    lines, holders = [HEAD, RULE, "Crates", RULE], collections.OrderedDict()
    for package in packages:
        name = f"{package['name']} {package['version']}"
        licence = package["license"] or f"see its {package['license_file']}"
        source = f"  {package['repository']}" if "MPL" in licence else ""
        lines.append(f"{name}  {licence}{source}")
        found = list(texts(package))
        if not found:
            by = ", ".join(re.sub(r"\s*<[^>]*>", "", author) for author in package["authors"]) or "its authors"
            found = [f"No licence text lies in the package; it says {licence}. Copyright: {by}."]
        for text in found:
            holders.setdefault(text, []).append(name)
    for text, names in holders.items():
        lines += ["", RULE, ", ".join(names), RULE, text]
    with open(OUT, "w", encoding="utf-8") as file:
        file.write("\n".join(lines) + "\n")
    print(f"{len(packages)} crates, {len(holders)} texts")


main()
