"""leastwise: least-cost granular fertilizer blends that obey every rule, proved.

    import leastwise

    scenario = leastwise.Scenario.load("field.yaml")
    answer = scenario.formulate()
    if isinstance(answer, leastwise.Blend):
        for portion in answer.portions:
            print(portion.material, portion.kg_per_t, "kg/t")

Masses are kg, percentages are by mass, money is in the scenario's currency. The unit ends each name:
`cost_per_t` is money per tonne of product, `kg_per_ha` kg per hectare. Values are never changed; a
changed scenario is a new one. Figures are planning aids: check local rules and ask a licensed
adviser.
"""

from ._core import version as _version
from .answers import (
    NOT_COMPUTED,
    BindingRule,
    Blend,
    Change,
    Conflict,
    ConflictingRule,
    Note,
    Portion,
    Report,
    Stopped,
    Supply,
    UnusedMaterial,
    WhatIf,
    WhatIfs,
)
from .errors import Diagnostic, InputError, QuestionError
from .questions import (
    Scenario,
    Trial,
    TrialPlan,
    answer_lines,
    compare,
    materials,
    run,
    schema,
    verify,
)

__version__ = _version()

__all__ = [
    "NOT_COMPUTED", "BindingRule", "Blend", "Change", "Conflict", "ConflictingRule", "Diagnostic",
    "InputError", "Note", "Portion", "QuestionError", "Report", "Scenario", "Stopped", "Supply",
    "Trial", "TrialPlan", "UnusedMaterial", "WhatIf", "WhatIfs", "answer_lines", "compare", "materials", "run",
    "schema", "verify",
]
