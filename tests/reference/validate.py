"""Checks parameter files against a JSON Schema with Python's jsonschema, which had no part in writing it.

validate.py SCHEMA [--merged] FILE...   prints "ok FILE" or "bad FILE: PLACE: MESSAGE" for each; --merged lays each
file over those that it includes first, as the reader does.
"""

import datetime
import json
import os
import sys
import tomllib

import jsonschema


def plain(value):
    if isinstance(value, dict):
        return {key: plain(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [plain(inner) for inner in value]
    return value.isoformat() if isinstance(value, datetime.date) else value


def read(path):
    with open(path, "rb") as file:
        return plain(tomllib.load(file))


def lay_over(base, over):
    merged = {key: value for key, value in base.items() if key not in over.get("remove", [])}
    for key, value in over.items():
        if key == "remove":
            continue
        both = isinstance(value, dict) and isinstance(merged.get(key), dict)
        merged[key] = lay_over(merged[key], value) if both else value
    return merged


def read_merged(path):
    over = read(path)
    base = {}
    for included in over.pop("include", []):
        base = lay_over(base, read_merged(os.path.join(os.path.dirname(path), included)))
    return lay_over(base, over)


def main():
    arguments = sys.argv[1:]
    merged = "--merged" in arguments
    schema_path, *files = [word for word in arguments if word != "--merged"]
    with open(schema_path, encoding="utf-8") as file:
        schema = json.load(file)
    jsonschema.Draft202012Validator.check_schema(schema)
    validator = jsonschema.Draft202012Validator(schema)
    for path in files:
        document = read_merged(path) if merged else read(path)
        errors = list(validator.iter_errors(document))
        if errors:
            worst = jsonschema.exceptions.best_match(errors)
            print(f"bad {path}: {worst.json_path}: {worst.message[:200]}")
        else:
            print(f"ok {path}")


main()
