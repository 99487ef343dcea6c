"""`spares schema`: JSON Schemas, so that an editor completes and checks while one types."""

import argparse
import json
from pathlib import Path

from generator.edge.commands.terminal import Terminal
from generator.edge.disk import done
from generator.edge.disk.atomic import written_whole
from generator.edge.disk.unbroken import unbroken
from generator.edge.refusals import Ending, disk_refusal
from generator.records.schemas import FILES, KINDS, schema

DESCRIPTION = """\
Prints the JSON Schema (draft 2020-12) of one kind of file, or of all of them, or writes them to a folder.

To have an editor complete and check while you type, write them to a folder and either put this line first
in a file (the path is relative to it), for editors with the YAML language server:
    # yaml-language-server: $schema=../../../schemas/part.schema.json
or name the folder in the editor's settings, as `spares schema --to schemas` prints it.
"""
EXAMPLE = """\
  spares schema part
  spares schema --to schemas
"""


def add_arguments(parser: argparse.ArgumentParser) -> None:
    parser.add_argument("kind", nargs="?", choices=tuple(KINDS), help="one kind of file (default: all)")
    parser.add_argument("--to", type=Path, metavar="DIR", help="write <kind>.schema.json files there")


def run(options: argparse.Namespace) -> int:
    kinds = [options.kind] if options.kind else list(KINDS)
    schemas = {kind: schema(kind) for kind in kinds}
    if options.to is None:
        print(_text(schemas[options.kind] if options.kind else schemas), end="")
        return Ending.CLEAN
    terminal = Terminal()
    try:
        options.to.mkdir(parents=True, exist_ok=True)
        for kind, made in schemas.items():
            with unbroken():
                written_whole(options.to / f"{kind}.schema.json", _text(made).encode("utf-8"))
                done.wrote(f"{options.to / kind}.schema.json is written")
    except OSError as error:
        raise disk_refusal(error, "writing", options.to) from error
    terminal.say(f"{len(schemas)} schemas are in {options.to}. For an editor's setting 'yaml.schemas':")
    wiring = {f"{options.to.as_posix()}/{kind}.schema.json": f"{'catalogue' if kind in FILES else '**'}/{KINDS[kind][1]}" for kind in kinds}
    terminal.say(json.dumps({"yaml.schemas": wiring}, indent=2))
    return Ending.CLEAN


def _text(content: object) -> str:
    return json.dumps(content, indent=2, ensure_ascii=False) + "\n"
