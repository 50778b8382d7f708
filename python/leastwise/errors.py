"""What goes wrong, as exceptions that carry data."""

from __future__ import annotations

import contextlib
import json
from collections.abc import Iterator
from dataclasses import dataclass, fields
from typing import Any

from . import _core


@dataclass(frozen=True)
class Diagnostic:
    """One finding about an input."""

    severity: str  #: `error`, `warning` or `note`
    code: str  #: stable: `unknown-key`
    message: str  #: what was expected, what was found, and the fix when it is certain
    path: str  #: dotted path of the field: `materials.urea.price_per_t`
    source: str | None  #: the file or name the text came from
    line: int | None  #: from 1; None without a text
    column: int | None  #: from 1, in characters
    width: int | None  #: in characters
    line_text: str  #: the line itself

    def __str__(self) -> str:
        where = f"{self.source}:{self.line}:{self.column}: " if self.line else (
            f"{self.path}: " if self.path else "")
        code = f" [{self.code}]" if self.code else ""
        return f"{where}{self.severity}: {self.message}{code}"


class InputError(ValueError):
    """The input was rejected. `diagnostics` has every finding."""

    def __init__(self, diagnostics: tuple[Diagnostic, ...]) -> None:
        super().__init__("\n".join(map(str, diagnostics)))
        self.diagnostics = diagnostics


class QuestionError(ValueError):
    """A question does not fit the scenario. `option` says which part of it."""

    def __init__(self, option: str, message: str) -> None:
        super().__init__(f"{option} {message}")
        self.option = option


def diagnostics_of(report: dict[str, Any]) -> tuple[Diagnostic, ...]:
    """The findings of a report with the status `rejected`."""
    known = [field.name for field in fields(Diagnostic)]
    return tuple(Diagnostic(**{name: found.get(name) for name in known})
                 for found in report["diagnostics"])


@contextlib.contextmanager
def told() -> Iterator[None]:
    """Turns what the library reports into these exceptions."""
    try:
        yield
    except _core.Rejected as rejected:
        raise InputError(diagnostics_of(json.loads(str(rejected)))) from None
    except _core.Misfit as misfit:
        option, _, message = str(misfit).partition("\n")
        raise QuestionError(option, message) from None


def expected(name: str, value: object, kinds: type | tuple[type, ...], words: str) -> None:
    """Raises: TypeError that names parameter, expected and found."""
    known = kinds if isinstance(kinds, tuple) else (kinds,)
    if not isinstance(value, kinds) or (isinstance(value, bool) and bool not in known):
        raise TypeError(f"{name}: expected {words}, found {value!r} ({type(value).__name__})")
