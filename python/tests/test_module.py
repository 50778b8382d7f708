"""The Python module against the tool, which is another way into the same library, and against
itself: typed values, exceptions, threads."""

import json
import math
import os
import pathlib
import subprocess
import threading

import leastwise
import pytest

ROOT = pathlib.Path(os.environ["LEASTWISE_ROOT"])
TOOL = os.environ["LEASTWISE_TOOL"]
EXAMPLES = ROOT / "examples"
SCENARIOS = sorted(EXAMPLES.glob("*/scenario.yaml"))
ORDER = """
leastwise: 1
title: Ridge field
currency: USD
materials:
  urea: {price_per_t: 455}
  ammonium-sulfate: {price_per_t: 265}
  map: {price_per_t: 665}
  mop: {price_per_t: 395}
  clay-filler: {price_per_t: 45}
grade_percent: {N: {min: 12}, P2O5: {min: 24}, K2O: {min: 12}}
variants:
  dearer urea: {prices: {urea: 600}}
risk: {draws: 50, prices: {urea: {lognormal_percent: 20}}}
"""


def printed(*arguments):
    return subprocess.run([TOOL, *map(str, arguments)], capture_output=True, text=True).stdout


@pytest.fixture
def order():
    return leastwise.Scenario.parse(ORDER)


@pytest.mark.parametrize("file", SCENARIOS, ids=lambda file: file.parent.name)
def test_a_blend_is_that_of_the_tool_byte_for_byte(file):
    answer = leastwise.Scenario.load(file).formulate()
    assert answer.to_json() == printed("blend", "--format", "json", file)
    assert answer.to_text() == printed("blend", file)
    assert isinstance(answer, (leastwise.Blend, leastwise.Conflict))


def test_every_question_is_that_of_the_json_door_byte_for_byte(order):
    def door(command, **options):
        return leastwise.run(command, ORDER, options)

    pairs = [
        (order.formulate(), door("blend")),
        (order.formulate(intervals=False), door("blend", intervals=False)),
        (order.with_price("urea", 520).formulate(), door("blend", price={"urea": 520})),
        (order.without("ammonium-sulfate").formulate(),
         door("blend", change={"without": ["ammonium-sulfate"]})),
        (order.round_to_step(5), door("blend", step_kg=5)),
        (order.price_map({"urea": (300, 700)}), door("prices", vary={"urea": {"from": 300, "to": 700}})),
        (order.price_map({"urea": None, "mop": (300, 700)}),
         door("prices", vary={"urea": None, "mop": {"from": 300, "to": 700}})),
        (order.limit_map("grade N min", 8, 15),
         door("prices", limit={"rule": "grade N min", "from": 8, "to": 15})),
        (order.risk(draws=40, seed=3), door("risk", draws=40, seed=3)),
        (order.alternatives(3), door("alternatives", count=3)),
        (order.near_optimum(5, "fewest"), door("alternatives", within=5, fewest=True)),
        (order.compare_sources("N"), door("compare", source="N")),
        (leastwise.compare(order.variants()), door("compare")),
        (order.materials(), door("materials")),
        (leastwise.materials(), leastwise.run("materials", "")),
    ]
    for answer, report in pairs:
        if report["report"] == "comparison" and report["nutrient"] is None:
            report["scenarios"][0]["name"] = "as written"
        assert answer.to_dict() == report


def test_typed_values(order):
    blend = order.formulate()
    assert isinstance(blend, leastwise.Blend)
    assert math.isclose(sum(one.kg_per_t for one in blend.portions), 1000)
    assert blend.kg("map") == blend.portions[0].kg_per_t
    assert blend.kg("nothing") == 0
    rule = blend.binding[0]
    assert (rule.kind, rule.subject, rule.side) == ("grade", "N", "min")
    assert rule.price_below is not leastwise.NOT_COMPUTED
    assert order.formulate(intervals=False).binding[0].holds_from is leastwise.NOT_COMPUTED
    assert blend.cost_per_ha is None
    with pytest.raises(AttributeError, match="has no 'costs'"):
        blend.costs
    assert "cost_per_t" in dir(blend)
    assert blend._repr_html_().startswith("<iframe") and "svg" in blend._repr_html_()


def test_a_conflict_is_an_answer():
    conflict = leastwise.Scenario.load(EXAMPLES / "05-impossible-order" / "scenario.yaml").formulate()
    assert isinstance(conflict, leastwise.Conflict)
    assert [one.rule for one in conflict.rules][0] == "rate N min"
    assert conflict.nearest[0].to > conflict.nearest[0].from_


def test_frames(order):
    pandas = pytest.importorskip("pandas")
    blend = order.formulate()
    frame = blend.to_frame()
    assert isinstance(frame, pandas.DataFrame)
    assert list(frame["material"]) == [one.material for one in blend.portions]
    assert set(blend.to_frame("binding")["kind"]) == {"grade"}
    with pytest.raises(KeyError, match="table: expected one of"):
        blend.to_frame("nonsense")
    found = order.what_if([{"prices": {"urea": 400}}, {"limits": {"grade N min": 99}}]).to_frame()
    assert list(found["status"]) == ["optimal", "infeasible"]


@pytest.mark.parametrize("table, column", [
    ("portions", "kg_per_t"), ("supply", "value"), ("binding", "shadow_price"),
    ("unused", "price_per_t"), ("conflict", "limit")])
def test_tidy_tables_are_read_back(table, column):
    pandas = pytest.importorskip("pandas")
    import io

    for file in SCENARIOS:
        text = printed("blend", "--format", "csv", "--table", table, file)
        frame = pandas.read_csv(io.StringIO(text))
        answer = leastwise.Scenario.load(file).formulate()
        assert answer.to_csv(table) == text
        lines = {"portions": "portions", "binding": "binding", "unused": "unused",
                 "conflict": "conflict"}.get(table)
        if lines and lines in answer.to_dict():
            assert len(frame) == len(answer.to_dict()[lines])
        if len(frame):
            named = column
            if column not in frame:  # the scenario counts in US units
                named = {"kg_per_t": "lb_per_short_ton",
                         "price_per_t": "price_per_short_ton"}[column]
            assert pandas.api.types.is_numeric_dtype(frame[named]), frame[named]
            assert set(frame["status"]) == {answer.status}
    many = leastwise.compare(leastwise.Scenario.load(EXAMPLES / "09-source-of-zinc" /
                                                     "scenario.yaml").variants())
    frame = pandas.read_csv(io.StringIO(many.to_csv(table)))
    assert list(frame.columns[:3]) == ["scenario", "status", "currency"]
    with pytest.raises(ValueError, match="no table"):
        many.to_csv("nonsense")


def test_a_dictionary_is_a_scenario():
    scenario = leastwise.Scenario.from_dict({
        "title": "\u00fcber \N{EAR OF MAIZE}",
        "materials": {"urea": {"price_per_t": 455}, "clay-filler": {"price_per_t": 45}},
        "grade_percent": {"N": {"min": 20}},
    })
    assert scenario.title.endswith("\N{EAR OF MAIZE}")
    assert scenario.basis == "t" and scenario.prices == {"urea": 455, "clay-filler": 45}
    assert scenario.rules == ["grade N min"]


def test_rejected_input_is_data():
    with pytest.raises(leastwise.InputError) as caught:
        leastwise.Scenario.parse("leastwise: 1\nmaterials: {urea: {price_per_t: a}}\nrats: {}\n",
                                 name="field.yaml")
    whole, first, second = caught.value.diagnostics
    assert (whole.code, whole.line) == ("nothing-asked", None)
    assert (first.code, first.line, first.column) == ("bad-number", 2, 33)
    assert second.code == "unknown-key"
    assert str(first).startswith("field.yaml:2:33: error: expected a number")
    with pytest.raises(leastwise.InputError) as caught:
        leastwise.run("blnd", ORDER)
    assert caught.value.diagnostics[0].code == "unknown-command"
    with pytest.raises(leastwise.InputError):
        leastwise.Scenario.load("/no/such/file.yaml")


def test_questions_that_do_not_fit_name_what_is_wrong(order):
    with pytest.raises(leastwise.QuestionError, match="did you mean 'urea'") as caught:
        order.with_price("ureaa", 3)
    assert caught.value.option == "price"
    with pytest.raises(leastwise.QuestionError, match="did you mean 'grade N min'"):
        order.with_limit("grade N mim", 3)
    with pytest.raises(leastwise.InputError):
        order.with_limit("grade N min", -1)
    with pytest.raises(leastwise.QuestionError, match="without the scenario has no material 'x'"):
        order.without("x")
    with pytest.raises(leastwise.QuestionError, match="samples"):
        order.limit_map("grade N min", 8, 15, samples=1)


@pytest.mark.parametrize("call, words", [
    (lambda s: s.with_price("urea", "dear"), r"price_per_t: expected a number per tonne, found 'dear' \(str\)"),
    (lambda s: s.with_price(3, 4), r"material: expected the name of a material, found 3 \(int\)"),
    (lambda s: s.price_map({"urea": 3}), r"vary: expected \(from, to\) or None, found 3"),
    (lambda s: s.risk(draws=2.5), r"draws: expected a whole number, found 2.5 \(float\)"),
    (lambda s: s.risk(draws=True), r"draws: expected a whole number, found True \(bool\)"),
    (lambda s: s.formulate(time_limit="soon"), r"time_limit: expected a number of seconds"),
    (lambda s: s.without("urea", 3), r"materials: expected names, found 3 \(int\)"),
    (lambda s: s.what_if([{"price": {}}]), r"questions\[0\]: expected prices, limits or without"),
    (lambda s: s.what_if([{"prices": {"urea": "x"}}]), r"questions\[0\]\['prices'\]\['urea'\]: expected a number"),
    (lambda s: s.formulate(progress=3), r"progress: expected a function"),
    (lambda s: leastwise.Scenario.parse(3), r"text: expected text, found 3 \(int\)"),
])
def test_a_wrong_type_says_parameter_expected_and_found(order, call, words):
    with pytest.raises(TypeError, match=words):
        call(order)


def questions(count):
    return [{"prices": {"urea": 300 + k, "mop": 600 - k / 2},
             "limits": {"grade N min": 10 + k % 7 / 2},
             "without": ["ammonium-sulfate"] if k % 3 == 0 else []} for k in range(count)]


def one_by_one(order, question):
    scenario = order.without(*question["without"]) if question["without"] else order
    for rule, limit in question["limits"].items():
        scenario = scenario.with_limit(rule, limit)
    for material, price in question["prices"].items():
        scenario = scenario.with_price(material, price)
    return scenario.formulate(intervals=False)


def test_many_questions_at_once_are_the_same_questions_one_by_one(order):
    asked = questions(60)
    found = order.what_if(asked)
    assert len(found) == 60 and found.basis == "t"
    for what_if, question in zip(found, asked):
        alone = one_by_one(order, question)
        assert what_if.status == alone.status
        assert float(f"{what_if.cost:.12g}") == alone.cost_per_t
        assert {name: float(f"{kg:.12g}") for name, kg in what_if.kg.items()} == {
            one.material: one.kg_per_t for one in alone.portions}


def test_a_thousand_questions_from_python_threads_equal_one_thread(order):
    asked = questions(1000)
    alone = order.what_if(asked, threads=1)
    parts = [None] * 8

    def ask(k):
        parts[k] = order.what_if(asked[k * 125:(k + 1) * 125], threads=2)

    threads = [threading.Thread(target=ask, args=(k,)) for k in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert [cost for part in parts for cost in part.cost] == alone.cost
    assert [one for part in parts for one in part] == list(alone)


def test_a_misfit_among_many_is_an_exception(order):
    with pytest.raises(leastwise.QuestionError, match="nosuch"):
        order.what_if([{"prices": {"urea": 3}}, {"prices": {"nosuch": 3}}])


def test_progress_is_told_and_its_exceptions_come_out(order):
    def fails(of, done, all_):
        raise KeyError("told")

    with pytest.raises(KeyError, match="told"):
        order.risk(draws=3_000_000, progress=fails)
    told = []
    order.risk(draws=300_000, progress=lambda *how_far: told.append(how_far))
    assert not told or told[0][2] == 300_000


def test_a_time_limit_ends_a_call(order):
    answer = order.formulate(time_limit=1e-9)
    assert isinstance(answer, leastwise.Stopped)
    assert answer.cause == "time_limit"


def test_a_proof_is_verified(order):
    report = order.prove()
    assert report.why_no_proof is None
    proof = json.dumps(report.proof)
    assert leastwise.verify(proof, order).verdict == "proved optimal"
    with pytest.raises(leastwise.InputError, match="not JSON"):
        leastwise.verify("{", order)


def test_a_trial_is_planned():
    folder = EXAMPLES / "07-two-site-trial"
    plan = leastwise.Trial.load(folder / "trial.yaml").plan()
    assert plan.to_json() == printed("batch", "--format", "json", folder / "trial.yaml")
    assert plan.to_csv("plots") == printed("plan", "--format", "csv", folder / "trial.yaml")
    check = plan.check((folder / "weighed.csv").read_text())
    assert check.report == "weighed_check"
    with pytest.raises(ValueError, match="table: expected batches"):
        plan.to_csv("sheets")


def test_schemas_and_docstrings():
    assert leastwise.schema("blend")["title"].startswith("leastwise report blend")
    with pytest.raises(ValueError, match="name: expected"):
        leastwise.schema("nonsense")
    for name in leastwise.__all__:
        value = getattr(leastwise, name)
        if isinstance(value, type) or callable(value):
            assert value.__doc__, name
    for name, value in vars(leastwise.Scenario).items():
        if not name.startswith("_"):
            assert (value.__func__ if isinstance(value, staticmethod) else value).__doc__, name


def test_lines_are_answered_as_by_the_tool_byte_for_byte():
    folder = EXAMPLES / "24-stream"
    base = leastwise.Scenario.load(folder / "scenario.yaml")
    lines = (folder / "questions.jsonl").read_text().splitlines()
    wanted = printed("stream", "--base", folder / "scenario.yaml", folder / "questions.jsonl")
    assert list(leastwise.answer_lines(lines, base=base)) == wanted.splitlines()
    last = list(leastwise.answer_lines(lines[4:], base={"base": base}, first_line=5, threads=1))
    assert last == wanted.splitlines()[4:]
    many = list(leastwise.answer_lines(lines[:2] * 5000, base=base))
    assert [json.loads(many[k])["line"] for k in (0, 4096, 9999)] == [1, 4097, 10000]
    assert leastwise.Scenario.load(folder / "scenario.yaml").formulate().cost_per_t == json.loads(
        wanted.splitlines()[0])["cost_per_t"]
    with pytest.raises(TypeError, match="lines: expected texts, found 3"):
        list(leastwise.answer_lines([3], base=base))
