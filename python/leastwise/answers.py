"""Answers as typed values, made from the JSON reports."""

from __future__ import annotations

import html
import json
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields
from typing import Any, TypeVar

from . import _core

T = TypeVar("T")


class _NotComputed:
    """Stands for a figure that was not looked for; None stands for one that does not exist."""

    def __repr__(self) -> str:
        return "NOT_COMPUTED"

    def __bool__(self) -> bool:
        return False

    def __reduce__(self) -> str:
        return "NOT_COMPUTED"


NOT_COMPUTED = _NotComputed()


def _line(kind: type[T], found: dict[str, Any]) -> T:
    """A line of a report; names that this version does not know are passed over."""
    return kind(**{field.name: found.get(field.name, NOT_COMPUTED)
                   for field in fields(kind)})  # type: ignore[arg-type]


def _lines(kind: type[T], found: Sequence[dict[str, Any]]) -> tuple[T, ...]:
    return tuple(_line(kind, one) for one in found)


@dataclass(frozen=True)
class Portion:
    """One material of a blend."""

    material: str
    form: str  #: `granule`, `powder`, `crystal`, `fines`
    kg_per_ha: float | None  #: None in the per-tonne form
    kg_per_t: float  #: per tonne of product
    cost_per_t: float  #: price and freight, money per tonne of product
    cost_per_ha: float | None  #: the same per hectare


@dataclass(frozen=True)
class Supply:
    """What the blend brings of one nutrient or property."""

    nutrient: str
    kg_per_ha: float | None
    effective_kg_per_ha: float | None  #: what a minimum rate counts
    percent: float  #: of the product, by mass


@dataclass(frozen=True)
class BindingRule:
    """A rule that sets the price. NOT_COMPUTED: not looked for."""

    rule: str  #: `rate N min`
    kind: str  #: `rate`, `grade`, `ratio` ...
    subject: str | None  #: the nutrient or material
    side: str | None  #: `min`, `max`, `exactly`
    limit: float
    shadow_price: float  #: what one unit more of the limit adds to the cost, in `unit`
    unit: str  #: `USD/ha per kg/ha`
    holds_from: Any  #: number; None: no end
    holds_to: Any  #: number; None: no end
    price_below: Any  #: what one unit less saves; None: no blend below
    price_above: Any  #: what one unit more costs; None: no blend above
    known_sides: str  #: `none`, `below`, `above`, `both`
    unique: Any  #: False: the limit sits on a kink


@dataclass(frozen=True)
class UnusedMaterial:
    """A material that the blend leaves out."""

    material: str
    price_per_t: float  #: money per tonne
    enters_below_price_per_t: Any  #: None: at no price; NOT_COMPUTED: not looked for
    why: str


@dataclass(frozen=True)
class Note:
    """A remark or caution."""

    level: str  #: `info`, `caution`, `warning`
    code: str  #: stable: act on this
    subjects: list[str]
    text: str


@dataclass(frozen=True)
class ConflictingRule:
    """One rule of a conflict."""

    rule: str
    kind: str
    subject: str | None
    side: str | None
    limit: float | None
    shortfall: Any  #: how far it alone must change; None: it cannot end the conflict
    unit: str
    ends_below: Any
    ends_above: Any


@dataclass(frozen=True)
class Change:
    """A limit to change."""

    rule: str
    from_: float
    to: float
    unit: str


class Report:
    """A report of any kind: its fields by name, as `run` gives them."""

    _tables: tuple[str, ...] = ()

    def __init__(self, text: str, answer: _core.Answer | None = None) -> None:
        self._text = text
        self._data: dict[str, Any] = json.loads(text)
        self._answer = answer

    def __getattr__(self, name: str) -> Any:
        if name.startswith("_"):
            raise AttributeError(name)
        if name in self._data:
            return self._data[name]
        raise AttributeError(f"a report of the kind '{self._data.get('report')}' has no '{name}'")

    def __dir__(self) -> list[str]:
        return sorted({*super().__dir__(), *self._data})

    def __repr__(self) -> str:
        return f"<{type(self).__name__} {self._data.get('report')}: {self._data.get('status', '')}>"

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Report) and self._text == other._text

    def __hash__(self) -> int:
        return hash(self._text)

    def to_dict(self) -> dict[str, Any]:
        """The JSON report as a dictionary of your own."""
        return json.loads(self._text)

    def to_json(self) -> str:
        """The JSON report, byte for byte that of `run` and of the tool."""
        return self._text

    def to_text(self) -> str:
        """The report as a page of plain text."""
        return self._written("text")

    def to_csv(self, table: str = "") -> str:
        """The report as CSV. With `table`, of a blend or a comparison, one list as a table of its
        own: `portions`, `supply`, `binding`, `unused`, `conflict` or `notes`. Raises: ValueError."""
        if self._answer is None:
            raise TypeError("this report has JSON alone")
        return self._answer.csv(table)

    def to_html(self) -> str:
        """The report as a page of its own, with pictures."""
        return self._written("html")

    def to_svg(self) -> str:
        """The pictures alone."""
        return self._written("svg")

    def to_frame(self, table: str | None = None) -> Any:
        """A list of the report, such as `portions`, as a pandas DataFrame; by default its main one.

        Raises: ImportError without pandas, KeyError for a list that the report does not have."""
        import pandas

        lists = [name for name, value in self._data.items()
                 if isinstance(value, list) and all(isinstance(one, dict) for one in value)]
        main = next((name for name in self._tables if name in lists), lists[0] if lists else "")
        wanted = main if table is None else table
        if wanted not in lists:
            raise KeyError(f"table: expected one of {', '.join(lists)}, found {wanted!r}")
        return pandas.json_normalize(self._data[wanted])

    def _written(self, form: str) -> str:
        if self._answer is None:
            raise TypeError("this report has JSON alone")
        return str(getattr(self._answer, form)())

    def _repr_html_(self) -> str:
        if self._answer is None:
            return f"<pre>{html.escape(self._text)}</pre>"
        page = html.escape(self.to_html(), quote=True)
        return f'<iframe style="width:100%;height:40em;border:0" srcdoc="{page}"></iframe>'


class Blend(Report):
    """A proved least-cost blend."""

    _tables = ("portions",)
    cost_per_ha: float | None  #: money per hectare; None in the per-tonne form
    cost_per_t: float  #: money per tonne of product
    total_kg_per_ha: float | None  #: product

    @property
    def portions(self) -> tuple[Portion, ...]:
        """The materials, largest first."""
        return _lines(Portion, self._data["portions"])

    @property
    def supply(self) -> tuple[Supply, ...]:
        """What it brings."""
        return _lines(Supply, self._data["supply"])

    @property
    def binding(self) -> tuple[BindingRule, ...]:
        """The rules that set the price."""
        return _lines(BindingRule, self._data["binding"])

    @property
    def unused(self) -> tuple[UnusedMaterial, ...]:
        """The materials left out."""
        return _lines(UnusedMaterial, self._data["unused"])

    @property
    def notes(self) -> tuple[Note, ...]:
        """Remarks and cautions."""
        return _lines(Note, self._data["notes"])

    def kg(self, material: str) -> float:
        """kg per hectare, or per tonne in the per-tonne form; 0 for what is left out."""
        for portion in self.portions:
            if portion.material == material:
                return portion.kg_per_t if portion.kg_per_ha is None else portion.kg_per_ha
        return 0.0


class Conflict(Report):
    """No blend obeys every rule."""

    _tables = ("conflict",)

    @property
    def rules(self) -> tuple[ConflictingRule, ...]:
        """The rules that cannot hold together."""
        return _lines(ConflictingRule, self._data["conflict"])

    @property
    def nearest(self) -> tuple[Change, ...]:
        """A small relative change of limits that makes a blend possible."""
        return tuple(Change(one["rule"], one["from"], one["to"], one["unit"])
                     for one in self._data["nearest"])

    @property
    def notes(self) -> tuple[Note, ...]:
        """Remarks and cautions."""
        return _lines(Note, self._data["notes"])


class Stopped(Report):
    """The search ended before a proof."""

    _tables = ("best_portions",)
    cause: str  #: `time_limit`, `cancelled`, `numerical`
    best_cost: float | None  #: of the best blend so far, money per `cost_basis`
    lower_bound: float | None  #: no blend is cheaper


class Listed(Report):
    """A map, a list, a comparison or a plan."""

    _tables = ("bands", "regions", "points", "alternatives", "recipes", "scenarios", "treatments",
               "portions", "batches", "materials")


@dataclass(frozen=True)
class WhatIf:
    """The answer to one of many questions."""

    status: str  #: `optimal`, `infeasible`, `stopped`
    cost: float  #: money per ha or per t, by `WhatIfs.basis`; NaN without a blend
    kg: dict[str, float]  #: of each material used, per ha or per t


class WhatIfs(Sequence[WhatIf]):
    """Answers to many questions, in their order."""

    def __init__(self, basis: str, found: tuple[list[str], list[float], list[dict[str, float]]]) -> None:
        self.basis = basis  #: `ha` or `t`
        self.status, self.cost, self._kg = found

    def __len__(self) -> int:
        return len(self.cost)

    def __getitem__(self, index: Any) -> Any:
        if isinstance(index, slice):
            return [self[k] for k in range(*index.indices(len(self)))]
        return WhatIf(self.status[index], self.cost[index], dict(self._kg[index]))

    def __iter__(self) -> Iterator[WhatIf]:
        return (self[k] for k in range(len(self)))

    def __repr__(self) -> str:
        blends = sum(not math.isnan(cost) for cost in self.cost)
        return f"<WhatIfs: {len(self)} answers, {blends} with a blend, per {self.basis}>"

    def to_frame(self) -> Any:
        """status, cost and kg of each material, a line for each question, as a pandas DataFrame."""
        import pandas

        return pandas.DataFrame([{"status": one.status, "cost": one.cost, **one.kg} for one in self])


def answer_of(answer: _core.Answer) -> Report:
    """The typed value for an answer of the library."""
    text = answer.json()
    report = json.loads(text)
    if report.get("report") != "blend":
        return Listed(text, answer)
    kinds: dict[str, type[Report]] = {"optimal": Blend, "infeasible": Conflict, "stopped": Stopped}
    return kinds[report["status"]](text, answer)
