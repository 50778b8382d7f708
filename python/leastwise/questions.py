"""Questions: scenarios, trials, and what is asked about them."""

from __future__ import annotations

import json
import os
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from itertools import islice
from typing import Any

from . import _core
from .answers import Listed, Report, WhatIfs, answer_of
from .errors import InputError, diagnostics_of, expected, told

Progress = Callable[[str, int, int], None]
_NUMBER = (int, float)


def _watch(time_limit: float | None, progress: Progress | None) -> _core.Watch:
    if time_limit is not None:
        expected("time_limit", time_limit, _NUMBER, "a number of seconds")
        if time_limit <= 0:
            raise ValueError(f"time_limit: expected more than 0 seconds, found {time_limit!r}")
    if progress is not None and not callable(progress):
        raise TypeError(f"progress: expected a function, found {progress!r}")
    return _core.Watch(time_limit, progress)


def _range(name: str, value: Any) -> tuple[float, float] | None:
    if value is None:
        return None
    if not isinstance(value, (tuple, list)) or len(value) != 2:
        raise TypeError(f"{name}: expected (from, to) or None, found {value!r}")
    for one in value:
        expected(name, one, _NUMBER, "two numbers")
    return float(value[0]), float(value[1])


def _names(name: str, value: Iterable[str]) -> list[str]:
    if isinstance(value, str):
        raise TypeError(f"{name}: expected names, found the text {value!r}")
    names = list(value)
    for one in names:
        expected(name, one, str, "names")
    return names


class Scenario:
    """A valid question: which blend of these materials obeys these rules at the least cost?

    A value: nothing changes it, and `with_price`, `with_limit` and `without` make another one."""

    def __init__(self, core: _core.Scenario) -> None:
        self._core = core

    @staticmethod
    def load(file: str | os.PathLike[str], *, allow_outside: bool = False) -> Scenario:
        """Reads a scenario file (YAML or JSON) and the files it names, which must lie in its folder
        unless `allow_outside`. Raises: InputError."""
        expected("file", file, (str, os.PathLike), "a path")
        with told():
            return Scenario(_core.Scenario.load(os.fspath(file), bool(allow_outside)))

    @staticmethod
    def parse(text: str, *, name: str = "scenario",
              folder: str | os.PathLike[str] | None = None,
              allow_outside: bool = False) -> Scenario:
        """Reads a scenario from YAML or JSON text. `name` stands for it in messages; without a
        `folder` it may name no files. Raises: InputError."""
        expected("text", text, str, "text")
        with told():
            return Scenario(_core.Scenario.parse(text, name, "" if folder is None else
                                                 os.fspath(folder), bool(allow_outside)))

    @staticmethod
    def from_dict(scenario: Mapping[str, Any], *, name: str = "scenario",
                  folder: str | os.PathLike[str] | None = None) -> Scenario:
        """Makes a scenario of a dictionary with the keys of a scenario file; `leastwise: 1` may be
        left out. Raises: InputError."""
        expected("scenario", scenario, Mapping, "a dictionary")
        whole = {"leastwise": 1, **scenario}
        return Scenario.parse(json.dumps(whole, allow_nan=False), name=name, folder=folder)

    @property
    def title(self) -> str:
        """What reports are headed with."""
        return self._core.title

    @property
    def currency(self) -> str:
        """A label; nothing is converted."""
        return self._core.currency

    @property
    def basis(self) -> str:
        """`ha`: amounts and costs are per hectare; `t`: per tonne of product."""
        return self._core.basis

    @property
    def prices(self) -> dict[str, float]:
        """Price of each material in play, money per tonne, without freight."""
        return dict(self._core.prices)

    @property
    def rules(self) -> list[str]:
        """Names of the rules that have a limit: `rate N min`."""
        return self._core.rules

    def __repr__(self) -> str:
        return f"<Scenario {self.title!r}: {len(self._core.prices)} materials, per {self.basis}>"

    def with_price(self, material: str, price_per_t: float) -> Scenario:
        """The same scenario at another price, money per tonne. Raises: QuestionError."""
        expected("material", material, str, "the name of a material")
        expected("price_per_t", price_per_t, _NUMBER, "a number per tonne")
        with told():
            return Scenario(self._core.with_price(material, float(price_per_t)))

    def with_limit(self, rule: str, limit: float) -> Scenario:
        """The same scenario with another limit of a rule, by its name in reports: `rate N min`.
        Raises: QuestionError, InputError."""
        expected("rule", rule, str, "the name of a rule")
        expected("limit", limit, _NUMBER, "a number")
        with told():
            return Scenario(self._core.with_limit(rule, float(limit)))

    def without(self, *materials: str) -> Scenario:
        """The same scenario without these materials. Raises: QuestionError."""
        with told():
            return Scenario(self._core.without(_names("materials", materials)))

    def variants(self) -> dict[str, Scenario]:
        """The scenario `as written` and each of its variants. Raises: InputError."""
        with told():
            return {name: Scenario(one) for name, one in self._core.variants()}

    def check(self) -> Report:
        """What the scenario holds, with notes; nothing is solved."""
        return Report(self._core.check("scenario"))

    def materials(self) -> Report:
        """The materials in play with their contents."""
        return Listed(self._core.materials())

    def formulate(self, *, intervals: bool = True, time_limit: float | None = None,
                  progress: Progress | None = None) -> Report:
        """The cheapest blend that obeys every rule: a Blend, a Conflict or Stopped.

        `intervals=False` is faster and leaves out what needs solving again. `time_limit` is in
        seconds. `progress(of, done, all)` is told how far it is."""
        with told():
            return answer_of(_core.blend(self._core, None, None, None, bool(intervals),
                                         _watch(time_limit, progress)))

    def round_to_step(self, step_kg: float, *, batch_kg: float | None = None,
                      batch_hectares: float | None = None, time_limit: float | None = None,
                      progress: Progress | None = None) -> Report:
        """The cheapest blend whose portions are whole steps of a scale. Raises: QuestionError."""
        expected("step_kg", step_kg, _NUMBER, "a number of kg")
        with told():
            return answer_of(_core.blend(self._core, step_kg, batch_kg, batch_hectares, True,
                                         _watch(time_limit, progress)))

    def prove(self, *, time_limit: float | None = None) -> Report:
        """The answer with a proof in exact fractions under `proof`, or `why_no_proof`."""
        with told():
            return Report(_core.proven(self._core, True, _watch(time_limit, None)))

    def price_map(self, vary: Mapping[str, tuple[float, float] | None] | str, *,
                  time_limit: float | None = None, progress: Progress | None = None) -> Report:
        """The least cost over one price, or two: `{"urea": (300, 700)}`, money per tonne. None, or a
        name alone: from a quarter of the price to three times it. Raises: QuestionError."""
        varied = {vary: None} if isinstance(vary, str) else vary
        expected("vary", varied, Mapping, "a dictionary of ranges")
        ranges = [(name, _range("vary", value)) for name, value in varied.items()]
        with told():
            return answer_of(_core.prices(self._core, ranges, None, None,
                                          _watch(time_limit, progress)))

    def limit_map(self, rule: str, from_: float, to: float, *, samples: int | None = None,
                  time_limit: float | None = None, progress: Progress | None = None) -> Report:
        """The least cost while the limit of a rule runs from one value to another, in the unit of
        the rule. Raises: QuestionError."""
        expected("rule", rule, str, "the name of a rule")
        ends = _range("from_, to", (from_, to))
        assert ends is not None
        with told():
            return answer_of(_core.prices(self._core, [], (rule, *ends), samples,
                                          _watch(time_limit, progress)))

    def risk(self, *, draws: int | None = None, seed: int | None = None, threads: int = 0,
             time_limit: float | None = None, progress: Progress | None = None) -> Report:
        """What uncertain prices do to the cost, as `risk:` of the scenario says. `threads` changes
        nothing but the time (0: all). Raises: QuestionError."""
        for name, value in (("draws", draws), ("seed", seed), ("threads", threads)):
            if value is not None:
                expected(name, value, int, "a whole number")
        with told():
            return answer_of(_core.risk(self._core, draws, seed, threads,
                                        _watch(time_limit, progress)))

    def alternatives(self, count: int = 5, *, time_limit: float | None = None,
                     progress: Progress | None = None) -> Report:
        """The cheapest blends with distinct sets of materials. Raises: QuestionError."""
        expected("count", count, int, "a whole number")
        with told():
            return answer_of(_core.alternatives(self._core, count, None, "", "",
                                                _watch(time_limit, progress)))

    def near_optimum(self, within_percent: float, wish: str, of: str = "", *,
                     time_limit: float | None = None, progress: Progress | None = None) -> Report:
        """Among blends that cost at most `within_percent` more, the one with the `fewest` materials,
        the `least_mass`, or the `least_of` a nutrient. Raises: QuestionError, ValueError."""
        expected("within_percent", within_percent, _NUMBER, "a number of percent")
        wishes = ("fewest", "least_mass", "least_of")
        if wish not in wishes:
            raise ValueError(f"wish: expected {', '.join(wishes)}, found {wish!r}")
        with told():
            return answer_of(_core.alternatives(self._core, None, within_percent, wish, of,
                                                _watch(time_limit, progress)))

    def compare_sources(self, nutrient: str, *, time_limit: float | None = None) -> Report:
        """Each source of a nutrient forced in turn, ranked by cost. Raises: QuestionError."""
        expected("nutrient", nutrient, str, "the name of a nutrient")
        with told():
            return answer_of(_core.sources(self._core, nutrient, _watch(time_limit, None)))

    def what_if(self, questions: Iterable[Mapping[str, Any]], *, threads: int = 0,
                time_limit: float | None = None, progress: Progress | None = None) -> WhatIfs:
        """Answers many questions at once, without the interpreter's lock and on all processors.

        Each question is a dictionary with what differs: `prices` (money per tonne by material),
        `limits` (by the name of a rule), `without` (names of materials). The figures are those of
        `formulate(intervals=False)`, to the last digit, for any number of `threads` (0: all).
        Raises: QuestionError, InputError, TypeError."""
        expected("threads", threads, int, "a whole number")
        differences = [_difference(k, question) for k, question in enumerate(questions)]
        with told():
            found = _core.what_if(self._core, differences, threads, _watch(time_limit, progress))
        return WhatIfs(self.basis, found)


_PARTS = frozenset(("prices", "limits", "without"))


def _difference(number: int, question: Mapping[str, Any]) -> tuple[Any, Any, Any]:
    if type(question) is not dict:
        expected(f"questions[{number}]", question, Mapping, "a dictionary")
    if not _PARTS.issuperset(question):
        raise TypeError(f"questions[{number}]: expected prices, limits or without, found "
                        f"{min(set(question) - _PARTS)!r}")
    without = question.get("without")
    return (_amounts(number, "prices", question), _amounts(number, "limits", question),
            _names(f"questions[{number}]['without']", without) if without else [])


def _amounts(number: int, part: str, question: Mapping[str, Any]) -> list[tuple[str, float]]:
    """Numbers by name. A label is made only for a message: there may be millions of questions."""
    values = question.get(part)
    if values is None:
        return []
    if type(values) is not dict:
        expected(f"questions[{number}][{part!r}]", values, Mapping, "a dictionary of numbers")
    for name, value in values.items():
        if type(value) is not float:
            expected(f"questions[{number}][{part!r}][{name!r}]", value, _NUMBER, "a number")
    return [(name, float(value)) for name, value in values.items()]


class TrialPlan(Listed):
    """The plan of a trial: what to weigh, mix, pack, label and buy."""

    def __init__(self, plan: _core.Plan) -> None:
        super().__init__(plan.json(True))
        self._plan = plan

    def to_text(self) -> str:
        """Every sheet as plain text."""
        return self._plan.text()

    def to_html(self) -> str:
        """Every sheet, for a browser or a printer."""
        return self._plan.html()

    def to_csv(self, table: str = "batches") -> str:
        """A list: `batches`, `plots`, `nutrients`, `purchases` or `recipes`. Raises: ValueError."""
        lists = ("batches", "plots", "nutrients", "purchases", "recipes")
        if table not in lists:
            raise ValueError(f"table: expected {', '.join(lists)}, found {table!r}")
        return self._plan.csv(table)

    def check(self, weighed_csv: str) -> Report:
        """Holds what was weighed (columns batch, material, actual_g) against the plan.
        Raises: InputError."""
        expected("weighed_csv", weighed_csv, str, "CSV text")
        with told():
            return Listed(self._plan.check(weighed_csv))


class Trial:
    """Treatments, sites and equipment, to be planned."""

    def __init__(self, core: _core.Trial) -> None:
        self._core = core

    @staticmethod
    def load(file: str | os.PathLike[str], *, allow_outside: bool = False) -> Trial:
        """Reads a trial file and the files it names. Raises: InputError."""
        expected("file", file, (str, os.PathLike), "a path")
        with told():
            return Trial(_core.Trial.load(os.fspath(file), bool(allow_outside)))

    @staticmethod
    def parse(text: str, *, name: str = "trial", folder: str | os.PathLike[str] | None = None,
              allow_outside: bool = False) -> Trial:
        """Reads a trial from YAML or JSON text. Raises: InputError."""
        expected("text", text, str, "text")
        with told():
            return Trial(_core.Trial.parse(text, name, "" if folder is None else os.fspath(folder),
                                           bool(allow_outside)))

    def plan(self, *, time_limit: float | None = None,
             progress: Progress | None = None) -> TrialPlan:
        """Plans the trial; a treatment without a blend says so in its `state`."""
        with told():
            return TrialPlan(_core.plan(self._core, _watch(time_limit, progress)))


def compare(scenarios: Mapping[str, Scenario] | Sequence[Scenario], *,
            time_limit: float | None = None, progress: Progress | None = None) -> Report:
    """Scenarios side by side, by name; `scenario.variants()` gives a scenario with its variants."""
    named = scenarios if isinstance(scenarios, Mapping) else {
        one.title or f"scenario {k + 1}": one for k, one in enumerate(scenarios)}
    for name, one in named.items():
        expected(f"scenarios[{name!r}]", one, Scenario, "a Scenario")
    with told():
        return answer_of(_core.compare([(name, one._core) for name, one in named.items()],
                                       _watch(time_limit, progress)))


def verify(proof: str, scenario: Scenario, *, time_limit: float | None = None) -> Report:
    """Checks a proof, as JSON text, against a scenario in exact fractions. Raises: InputError."""
    expected("proof", proof, str, "JSON text")
    expected("scenario", scenario, Scenario, "a Scenario")
    with told():
        return Report(_core.verify(proof, scenario._core, _watch(time_limit, None)))


def materials() -> Report:
    """The built-in materials with their typical contents."""
    return Listed(_core.materials())


def run(command: str, scenario: str, options: Mapping[str, Any] | None = None, *,
        folder: str | os.PathLike[str] | None = None, allow_outside: bool = False,
        name: str = "scenario", time_limit: float | None = None,
        progress: Progress | None = None) -> dict[str, Any]:
    """One question as text, one answer as a dictionary: any command of the tool.

    Raises: InputError when the report says `rejected`."""
    expected("command", command, str, "the name of a command")
    expected("scenario", scenario, str, "text")
    text = "" if options is None else json.dumps(dict(options), allow_nan=False)
    report = json.loads(_core.run(command, scenario, text,
                                  "" if folder is None else os.fspath(folder), allow_outside, name,
                                  _watch(time_limit, progress)))
    if report.get("status") == "rejected":
        raise InputError(diagnostics_of(report))
    return report


def schema(name: str = "scenario") -> dict[str, Any]:
    """The JSON Schema of `scenario`, `trial`, `season`, `reports` or one kind of report. Raises: ValueError."""
    expected("name", name, str, "the name of a schema")
    try:
        return json.loads(_core.schema(name))
    except IndexError:
        raise ValueError(f"name: expected scenario, trial, season, reports or a kind of report, found "
                         f"{name!r}") from None


def answer_lines(lines: Iterable[str], *, base: Scenario | Mapping[str, Scenario] | None = None,
                 folder: str | os.PathLike[str] | None = None, allow_outside: bool = False,
                 full: bool = False, first_line: int = 1, threads: int = 0,
                 time_limit_each: float | None = None,
                 progress: Progress | None = None) -> Iterator[str]:
    """Answers questions, one JSON text each, with one JSON text each, in order: the lines of
    `leastwise stream`, without their ends.

    `base` is a scenario, or several by name, of which questions without `base` mean the first. Works
    in blocks of lines, without the interpreter's lock and on all processors (`threads=0`), so that
    any number may pass. A question that is wrong has an answer that says so. Raises: TypeError."""
    bases = {"base": base} if isinstance(base, Scenario) else dict(base or {})
    for name, scenario in bases.items():
        expected("base", name, str, "scenarios by name")
        expected("base", scenario, Scenario, "a scenario")
    expected("first_line", first_line, int, "a whole number")
    expected("threads", threads, int, "a whole number")
    if time_limit_each is not None:
        expected("time_limit_each", time_limit_each, _NUMBER, "a number of seconds")
    kept = [(name, scenario._core) for name, scenario in bases.items()]
    rest = iter(lines)
    while block := list(islice(rest, 4096)):
        for one in block:
            expected("lines", one, str, "texts")
        with told():
            answers, whole = _core.answer_lines([one.rstrip("\r\n") for one in block], kept,
                                                "" if folder is None else os.fspath(folder),
                                                bool(allow_outside), bool(full), time_limit_each,
                                                threads, first_line, _watch(None, progress))
        for answer in answers:
            yield answer[:-1]
        if not whole:
            return
        first_line += len(block)
