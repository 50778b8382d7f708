"""The questions whose pages and pictures are looked at; paths are relative to the examples."""

BLENDS = ("01-first-grade", "02-coated-zinc-boron", "03-kept-apart", "05-impossible-order",
          "13-robust-label")

# name, arguments, whether there is a picture
QUESTIONS = [(f"blend {name}", ["blend", f"{name}/scenario.yaml"], True) for name in BLENDS] + [
    ("stopped", ["blend", "--time-limit", "1e-9", "02-coated-zinc-boron/scenario.yaml"], True),
    ("steps", ["blend", "--step-kg", "0.5", "11-next-best/scenario.yaml"], True),
    ("variants", ["compare", "09-source-of-zinc/scenario.yaml"], True),
    ("sources", ["compare", "--source", "Zn", "09-source-of-zinc/scenario.yaml"], True),
    ("price", ["prices", "--vary", "ammonium-sulfate=150:700", "10-price-map/scenario.yaml"], True),
    ("two prices", ["prices", "--vary", "ammonium-sulfate=150:700", "--vary", "sop=400:900",
                    "10-price-map/scenario.yaml"], True),
    ("limit", ["prices", "--limit", "rate S min=0:40", "10-price-map/scenario.yaml"], True),
    ("sampled limit", ["prices", "--limit", "grade Cl max=0:8", "--samples", "9",
                       "10-price-map/scenario.yaml"], True),
    ("risk", ["risk", "--draws", "400", "12-price-risk/scenario.yaml"], True),
    ("one draw", ["risk", "--draws", "1", "12-price-risk/scenario.yaml"], True),
    ("next best", ["alternatives", "--count", "6", "11-next-best/scenario.yaml"], True),
    ("fewest", ["alternatives", "--within", "8", "--fewest", "11-next-best/scenario.yaml"], True),
    ("no map", ["prices", "--vary", "urea", "05-impossible-order/scenario.yaml"], True),
    ("check", ["check", "02-coated-zinc-boron/scenario.yaml"], False),
    ("materials", ["materials"], False),
    ("plan", ["plan", "07-two-site-trial/trial.yaml"], False),
]

# Words that try to be markup, and words that do not fit.
HOSTILE = """\
leastwise: 1
title: "</title><script>alert(\\"x\\")</script> & 'more' ]]> -->"
currency: "<b>$"
materials:
  "urea \\"><svg onload=alert(1)>": {form: granule, contains_percent: {N: 46, N-urea: 46}, price_per_t: 410}
  "onewordwithoutanyplacetobreakitthatgoesonandonandonuntilnoscreeniswideenoughforitanymore":
    {form: granule, contains_percent: {N: 27, N-urea: 27}, price_per_t: 260}
  "a material with a name that is far too long for one line of a picture and goes on & on":
    {form: granule, contains_percent: {N: 20, N-urea: 20, K2O: 10}, price_per_t: 300}
rates_kg_per_ha:
  N:   {min: 60, max: 80}
  K2O: {min: 5}
"""


def hostile_questions(scenario):
    """Questions about HOSTILE, which stands in the file `scenario`."""
    return [[*words, str(scenario)] for words in (
        ["blend"], ["blend", "--step-kg", "1"], ["compare", "--source", "N"], ["alternatives"],
        ["alternatives", "--within", "20", "--fewest"], ["check"],
        ["prices", "--vary", 'urea "><svg onload=alert(1)>=300:500'])]
