"""Checks the scenario schema with an independent validator (Debian: python3-jsonschema,
python3-yaml): it accepts every scenario under examples/, and the full one below, and refuses the
broken inputs under tests/golden/messages whose mistake is one of structure.

Usage: schema_test.py SCHEMA_PRINTER SOURCE_FOLDER
"""

import copy
import json
import pathlib
import subprocess
import sys

import yaml
from jsonschema import Draft202012Validator

FULL = """
leastwise: 1
title: Ridge sunflower
currency: USD
catalogue: [catalogue.yaml]
use: [urea, map, zinc-oxide]
prices: prices.csv
materials:
  urea:
    form: granule
    family: urea
    contains_percent: {N: 46, N-urea: 46}
    price_per_t: 410
    freight_per_t: 12
    share_percent: {min: 0, max: 60}
    min_if_used_percent: 2.5
    stock_kg: 1500
    sgn: 300
    ui: 50
    bulk_density_kg_per_m3: 750
  zinc-oxide: {form: powder, formula: ZnO, purity_percent: 97, price_per_t: 3100}
  zinc-granule:
    {form: granule, micronutrient_granule: true, contains_percent: {Zn: 20}, price_per_t: 1500}
  dap: {price_per_t: -4}
rates_kg_per_ha: {N: {min: 60, max: 66}, K2O: {exactly: 30}, N + K2O: {max: 90}}
grade_percent: {Cl: {max: 4}, salt-index: {max: 110}}
ratios: [{of: N-ammonium, to: N, min: 0.30}]
blend:
  total_kg_per_ha: {min: 120, max: 400}
  bins: 5
  coating_percent: {max: 2.0}
  binder: {material: canola-oil, percent_of_powder: 37.5, price_per_t: 1400, organic: true}
  granular_micronutrient_factor: {default: 3, B: 2}
  confirm_high_rate: [B]
  blending_fee_per_t: 18
  limited_compatibility: allow
  sgn: {min: 250, max: 330}
  dry_up_to_humidity_percent: 55
  indices: true
compatibility:
  incompatible: [[urea, triple-superphosphate]]
  limited: []
  compatible: [[urea, ammonium-sulfate]]
make: {hectares: 12}
"""

# Broken inputs that are well-formed for the schema: what is wrong needs knowledge of YAML itself
# (duplicate keys, anchors), of other files, of chemistry, or of several values together.
NOT_STRUCTURAL = {
    "bad-formula", "compatibility", "contents", "dangerous-pair", "duplicate-key", "high-rate",
    "files", "min-over-max", "missing-contents", "missing-price", "needs-rates", "no-figure",
    "plus-in-content", "sums", "no-materials", "nothing-asked-but-maxima", "organic-binder-denied",
    "oxidizer-with-fuel", "oxidizer-with-organic-binder", "oxidizer-with-unknown-binder",
    "oxidizer-with-unnamed-binder", "prices-broken", "prices-empty", "prices-header",
    "prices-missing", "prices-no-column", "prices-semicolon", "ratio-of-itself", "unbounded-cost",
    "unknown-material", "unknown-nutrient", "version-late", "yaml-anchor", "yaml-merge",
    "catalogues-broken", "notes", "notes-oxidizer", "risk-history", "risk-impossible",
    "risk-correlations", "risk-history-twice", "risk-history-unknown",
    "binder-stated-inorganic", "compatibility-names", "family-contradicts", "hazards-of-one-family",
    "organic-binder-by-name", "organic-binder-unnamed", "refused-material",
    "unknown-beside-oxidizer",
    "notes-lot", "notes-plausible", "notes-stated-family", "prices-day-missing", "prices-days",
    "prices-expired", "price-tiers-no-make", "price-tiers-other-make", "price-tiers-us",
    "prices-plants", "prices-plants-none", "prices-plants-other", "prices-tiers", "synonyms",
    "us-units-mixed", "us-units-limits", "us-units-prices", "us-units-prices-mixed", "variants-same-name",
}


class Loader(yaml.SafeLoader):
    """Dates stay text, as the scenario reader takes them."""


Loader.add_constructor("tag:yaml.org,2002:timestamp", Loader.construct_yaml_str)


def loaded(text):
    return yaml.load(text, Loader)  # a safe loader


def paths(value, path=()):
    """Every path to a value inside `value`."""
    yield path
    if isinstance(value, dict):
        for key, item in value.items():
            yield from paths(item, (*path, key))
    elif isinstance(value, list):
        for position, item in enumerate(value):
            yield from paths(item, (*path, position))


def replaced(document, path, value):
    changed = copy.deepcopy(document)
    at = changed
    for key in path[:-1]:
        at = at[key]
    at[path[-1]] = value
    return changed


def main():
    printer, source = sys.argv[1], pathlib.Path(sys.argv[2])
    schema = json.loads(subprocess.run([printer], check=True, capture_output=True).stdout)
    assert schema == json.loads((source / "lib/data/scenario.schema.json").read_text())
    Draft202012Validator.check_schema(schema)
    validator = Draft202012Validator(schema)
    catalogue = Draft202012Validator({**schema["$defs"]["catalogue"], "$defs": schema["$defs"]})
    failures = []

    full = loaded(FULL)
    failures += [f"full scenario: {e.message}" for e in validator.iter_errors(full)]
    refused = 0
    for path in paths(full):
        if not path or path in [("title",), ("currency",)]:
            continue
        if validator.is_valid(replaced(full, path, {"no-such-key": []})):
            failures.append(f"accepts nonsense at {'.'.join(map(str, path))}")
        refused += 1
    assert refused > 60, refused

    examples = 0
    for file in sorted((source / "examples").rglob("*.yaml")):
        document = loaded(file.read_text())
        if "trial" in document or "blends" in document:
            continue  # a trial or a season has a schema of its own
        is_scenario = any(k in document for k in ("rates_kg_per_ha", "rates_lb_per_acre",
                                              "grade_percent"))
        check = validator if is_scenario else catalogue
        failures += [f"{file}: {e.message}" for e in check.iter_errors(document)]
        examples += 1

    assert examples > 0

    broken = 0
    for file in sorted((source / "tests/golden/messages").glob("*.yaml")):
        name = file.stem
        if name.startswith("catalogue-"):
            continue
        try:
            document = loaded(file.read_text())
        except (yaml.YAMLError, UnicodeDecodeError, TypeError):
            continue  # not YAML at all: nothing a schema could say
        accepted = validator.is_valid(document)
        if accepted and name not in NOT_STRUCTURAL:
            failures.append(f"{name}: accepted though its structure is wrong")
        broken += 1
    assert broken > 40, broken

    for failure in failures:
        print(failure)
    print(f"{examples} examples, {broken} broken inputs, {refused} places, {len(failures)} failures")
    return 1 if failures else 0


sys.exit(main())
