#include <doctest/doctest.h>
#include <leastwise/alternatives.hpp>
#include <leastwise/catalogue.hpp>
#include <leastwise/formulate.hpp>
#include <leastwise/load.hpp>
#include <leastwise/prepared.hpp>
#include <leastwise/prove.hpp>
#include <leastwise/question.hpp>
#include <leastwise/render.hpp>
#include <leastwise/report.hpp>
#include <leastwise/run.hpp>

#include <chrono>
#include <cmath>
#include <map>
#include <nlohmann/json.hpp>
#include <stop_token>
#include <string>
#include <vector>

using namespace leastwise;

namespace {

using Json = nlohmann::ordered_json;

const std::string order =
    "leastwise: 1\n"
    "title: Ridge field\n"
    "currency: USD\n"
    "materials:\n"
    "  urea: {price_per_t: 455}\n"
    "  ammonium-sulfate: {price_per_t: 265}\n"
    "  map: {price_per_t: 665}\n"
    "  mop: {price_per_t: 395}\n"
    "  clay-filler: {price_per_t: 45}\n"
    "grade_percent: {N: {min: 12}, P2O5: {min: 24}, K2O: {min: 12}}\n"
    "variants:\n"
    "  dearer urea: {prices: {urea: 600}}\n"
    "risk: {draws: 50, prices: {urea: {lognormal_percent: 20}}}\n";

const std::string two_rates =
    "leastwise: 1\n"
    "trial: Two rates\n"
    "base:\n"
    "  materials: {urea: {price_per_t: 455}}\n"
    "  rates_kg_per_ha: {N: {exactly: 60}}\n"
    "treatments: {low: {rates_kg_per_ha: {N: {exactly: 30}}}, high: {}}\n"
    "sites: {Home: {replicates: 2, plot_length_m: 10, plot_width_m: 3}}\n"
    "equipment: {mixers: {drum: {capacity_kg: 20}}, balances: {bench: {capacity_kg: 20, "
    "readability_g: 1}}}\n";

const std::string one_blend_season =
    "leastwise: 1\n"
    "blends:\n"
    "  only:\n"
    "    tonnes: 5\n"
    "    scenario: {materials: {urea: {price_per_t: 455}}, grade_percent: {N: {min: 40}}}\n";

Json asked(std::string_view command, std::string_view scenario, std::string_view options = {}) {
  return Json::parse(run(command, scenario, options));
}

/// The only finding about rejected input.
Json only_finding(const Json& report) {
  CHECK(report["status"] == "rejected");
  REQUIRE(report["diagnostics"].size() == 1);
  return report["diagnostics"][0];
}

Json refusal(std::string_view command, std::string_view options) {
  return only_finding(asked(command, order, options));
}

bool says(const Json& diagnostic, std::string_view words) {
  const bool found = diagnostic["message"].get<std::string>().find(words) != std::string::npos;
  if (!found) MESSAGE(diagnostic.dump(2));
  return found;
}

}  // namespace

TEST_SUITE_BEGIN("run");

TEST_CASE("a command gives the report of the function that it stands for, byte for byte") {
  const Scenario scenario = parse_scenario(order);
  CHECK(run("blend", order) == to_json(formulate(scenario)));
  CHECK(run("blend", order, R"({"intervals": false})") ==
        to_json(formulate(scenario, {.intervals = false})));
  CHECK(run("blend", order, R"({"step_kg": 5})") ==
        to_json(round_to_step(scenario, {.step_kg = 5})));
  CHECK(run("blend", order, R"({"price": {"urea": 520}})") ==
        to_json(formulate(scenario.with_price("urea", 520))));
  CHECK(run("check", order) == to_json(CheckedScenario{scenario}, {.source = "scenario"}));
  CHECK(run("compare", order) == to_json(compare(with_variants(scenario))));
  CHECK(run("compare", order, R"({"source": "N"})") == to_json(compare_sources(scenario, "N")));
  CHECK(run("prices", order, R"({"vary": {"urea": {"from": 300, "to": 700}}})") ==
        to_json(price_map(scenario, "urea", 300, 700)));
  CHECK(run("prices", order, R"({"vary": {"urea": null, "mop": {"from": 300, "to": 700}}})") ==
        to_json(price_regions(scenario, "urea", {455.0 / 4, 455.0 * 3}, "mop", {300, 700})));
  CHECK(run("prices", order, R"({"limit": {"rule": "grade N min", "from": 8, "to": 15}})") ==
        to_json(limit_map(scenario, "grade N min", 8, 15)));
  CHECK(run("risk", order) == to_json(price_risk(scenario)));
  CHECK(run("alternatives", order, R"({"count": 3})") == to_json(alternatives(scenario, 3)));
  CHECK(run("alternatives", order, R"({"within": 5, "fewest": true})") ==
        to_json(near_optimum(scenario, 5, SecondaryObjective::fewest_materials)));
  CHECK(run("materials", order) == to_json(scenario.materials()));
  CHECK(run("materials", "") == to_json(built_in_materials()));
}

TEST_CASE("every command answers, and says which kind of report it is") {
  const std::map<std::string, std::string> kinds{
      {"blend", "blend"},       {"check", "check"},         {"compare", "comparison"},
      {"risk", "risk"},         {"batch", "trial_plan"},    {"alternatives", "alternatives"},
      {"plan", "trial_plan"},   {"materials", "materials"}, {"quote", "quote"},
      {"season", "season_plan"}};
  for (const auto& [command, kind] : kinds) {
    const std::string told = command;
    CAPTURE(told);
    const bool of_trial = kind == "trial_plan";
    const auto& text = of_trial ? two_rates : command == "season" ? one_blend_season : order;
    CHECK(asked(command, text)["report"] == kind);
  }
  const auto all = run_commands();
  CHECK(all.size() == kinds.size() + 2);  // and prices and verify, which need an option
}

TEST_CASE("a proof asked for comes with the blend, and verify proves it") {
  const Json report = asked("blend", order, R"({"proof": true})");
  CHECK(report["status"] == "optimal");
  CHECK(report["why_no_proof"] == nullptr);
  REQUIRE(report["proof"].is_object());
  const Json options{{"proof", report["proof"].dump()}};
  CHECK(asked("verify", order, options.dump())["verdict"] == "proved optimal");
  CHECK(refusal("verify", "{}")["code"] == "missing-key");
}

TEST_CASE("a change is a variant of the scenario") {
  const Scenario scenario = parse_scenario(order);
  VariantDraft variant;
  variant.without = {"map"};
  variant.grade_percent = {{"P2O5", {10, 20}}};
  CHECK(
      run("blend", order,
          R"({"change": {"without": ["map"], "grade_percent": {"P2O5": {"min": 10, "max": 20}}}})") ==
      to_json(formulate(varied(scenario, variant))));
  CHECK(says(refusal("blend", R"({"change": {"wihtout": ["map"]}})"), "did you mean 'without'?"));
  CHECK(says(refusal("blend", R"({"change": {"without": ["mapp"]}})"), "mapp"));
}

TEST_CASE("a limit is changed by the name of its rule") {
  const Scenario scenario = parse_scenario(order);
  const Scenario more = with_limit(scenario, "grade N min", 13);
  CHECK(more.grades()[0].limits.min == 13);
  CHECK(more.grades()[1].limits == scenario.grades()[1].limits);
  CHECK(scenario.grades()[0].limits.min == 12);
  CHECK_THROWS_WITH_AS(static_cast<void>(with_limit(scenario, "grade N mim", 13)),
                       "names 'grade N mim', whose limit the scenario does not state; did you mean "
                       "'grade N min'?",
                       QuestionError);
  CHECK_THROWS_AS(static_cast<void>(with_limit(scenario, "grade N max", 13)), QuestionError);
  CHECK_THROWS_AS(static_cast<void>(with_limit(scenario, "grade N min", -1)), InputError);
}

TEST_CASE("many questions at once are the questions one by one, within one time limit") {
  const PreparedBlend prepared(parse_scenario(order));
  std::vector<WhatIf> questions;
  for (int k = 0; k < 300; ++k) {
    WhatIf question;
    question.prices = {{"urea", 300.0 + k}, {"mop", 600.0 - k}};
    if (k % 20 == 0) question.limits = {{rule_named(prepared.scenario(), "grade N min"), 11.0}};
    questions.push_back(question);
  }
  std::vector<long> told;
  const auto answers = ask_many(
      prepared, questions, 2, {.progress = [&](const Progress& far) { told.push_back(far.done); }});
  REQUIRE(answers.size() == questions.size());
  for (std::size_t k = 0; k < questions.size(); k += 37)
    CHECK(to_json(answers[k]) ==
          to_json(formulate(prepared.changed(questions[k]), {.intervals = false})));
  CHECK(told == std::vector<long>{256, 300});
  for (const auto& answer :
       ask_many(prepared, questions, 2, {.time_limit = std::chrono::duration<double>(0)}))
    CHECK(answer.status() == Status::stopped);
  const std::vector<WhatIf> misfit{{.without = {"x"}}};
  CHECK_THROWS_AS(static_cast<void>(ask_many(prepared, misfit)), QuestionError);
}

TEST_CASE("other scenarios are compared with the first") {
  const Json options{{"others", {{{"name", "again"}, {"scenario", order}}}}};
  const Json report = asked("compare", order, options.dump());
  REQUIRE(report["scenarios"].size() == 4);
  CHECK(report["scenarios"][2]["name"] == "again");
  CHECK(report["scenarios"][3]["name"] == "again dearer urea");
  CHECK(report["scenarios"][2]["difference_per_t"] == 0);
}

TEST_CASE("what was weighed is held against the plan of a trial") {
  const Json plan = asked("batch", two_rates);
  const auto& treatment = plan["treatments"][0];
  const std::string csv = "batch,material,actual_g\n" + treatment["batches"][0].get<std::string>() +
                          ",urea," + treatment["weighings"][0]["weigh_g"].dump() + "\n";
  const Json report = asked("batch", two_rates, Json{{"weighed", csv}}.dump());
  CHECK(report["report"] == "weighed_check");
  CHECK(report["batches"].size() == 1);
}

TEST_CASE("an unknown command is a finding that names the nearest") {
  const Json report = asked("blnd", order);
  CHECK(report["report"] == "blnd");
  CHECK(only_finding(report)["code"] == "unknown-command");
  CHECK(says(only_finding(report), "did you mean 'blend'?"));
  CHECK(says(only_finding(asked("harvest", order)), "expected one of 'blend'"));
}

TEST_CASE("a wrong option is a finding with its place in the options") {
  const Json unknown = refusal("blend", R"({"time_limits": 3})");
  CHECK(unknown["code"] == "unknown-key");
  CHECK(unknown["source"] == "options");
  CHECK(unknown["column"] == 2);
  CHECK(says(unknown, "did you mean 'time_limit_s'?"));
  CHECK(says(refusal("blend", R"({"step_kg": "a"})"), "expected a number for step_kg"));
  CHECK(says(refusal("blend", R"({"time_limit_s": 0})"), "more than 0 seconds"));
  CHECK(says(refusal("blend", R"({"step_kg": 5, "proof": true})"), "proof cannot stand beside"));
  CHECK(says(refusal("blend", R"({"batch_kg": 5})"), "batch_kg needs a step"));
  CHECK(says(refusal("risk", R"({"draws": 2.5})"), "expected a whole number for draws"));
  CHECK(says(refusal("risk", R"({"draws": 0})"), "draws expects a whole number from 1"));
  CHECK(says(refusal("blend", "[1, 2]"), "expected keys with values"));
  CHECK(refusal("blend", R"({"step_kg": )")["code"] == "syntax");
}

TEST_CASE("a question that does not fit the scenario is a finding with the nearest name") {
  const Json price = refusal("blend", R"({"price": {"ureaa": 3}})");
  CHECK(price["code"] == "bad-option");
  CHECK(price["path"] == "price");
  CHECK(says(price,
             "price names 'ureaa', which is no material of the scenario; did you mean 'urea'?"));
  CHECK(says(refusal("prices", R"({"limit": {"rule": "grade N mim", "from": 1, "to": 2}})"),
             "did you mean 'grade N min'?"));
  CHECK(says(refusal("prices", "{}"), "say what is to be varied"));
  CHECK(says(refusal("prices", R"({"vary": {"urea": {"from": 3}}})"), "lacks to"));
  CHECK(says(refusal("alternatives", R"({"within": 5})"), "needs one wish"));
  CHECK(says(refusal("alternatives", R"({"within": 5, "fewest": true, "least_mass": true})"),
             "found two"));
  CHECK(says(refusal("alternatives", R"({"within": 5, "least_of": "Xy"})"), "cannot be answered"));
  CHECK(says(refusal("compare", R"({"source": "B"})"), "source cannot be answered"));
}

TEST_CASE("a rejected scenario is a report with every finding") {
  const Json report =
      asked("blend", "leastwise: 1\nmaterials: {urea: {price_per_t: a}}\nrats: {}\n");
  CHECK(report["status"] == "rejected");
  CHECK(report["errors"] == 3);
  CHECK(report["diagnostics"][0]["code"] == "nothing-asked");
  CHECK(report["diagnostics"][0]["line"] == nullptr);
  CHECK(report["diagnostics"][1]["line"] == 2);
  CHECK(report["diagnostics"][1]["line_text"] == "materials: {urea: {price_per_t: a}}");
  CHECK(report["diagnostics"][2]["code"] == "unknown-key");
}

TEST_CASE("a text may name no files unless the caller gives a folder") {
  const std::string named = "leastwise: 1\ncatalogue: [more.yaml]\ngrade_percent: {N: {min: 1}}\n";
  CHECK(asked("blend", named)["diagnostics"][0]["code"] == "no-folder");
  const Json missing = Json::parse(run("blend", named, {}, {.folder = "."}));
  CHECK(missing["diagnostics"][0]["code"] == "file-missing");
}

TEST_CASE("who asks to stop gets a report that says so") {
  std::stop_source stop;
  stop.request_stop();
  const Json report = Json::parse(run("blend", order, {}, {.limits = {.stop = stop.get_token()}}));
  CHECK(report["status"] == "unread");
  CHECK(report["cause"] == "cancelled");
  const Json late = asked("blend", order, R"({"time_limit_s": 1e-9})");
  CHECK(late["status"] == "stopped");
  CHECK(late["cause"] == "time_limit");
}

TEST_CASE("numbers of a report are written as short as they read back") {
  const std::string report = run("blend", order);
  std::size_t longest = 0;
  for (std::size_t i = 0; i < report.size(); ++i) {
    std::size_t digits = 0;
    while (i < report.size() &&
           (std::isdigit(static_cast<unsigned char>(report[i])) != 0 || report[i] == '.'))
      digits += report[i++] == '.' ? 0 : 1;
    longest = std::max(longest, digits);
  }
  CHECK(longest <= 13);  // twelve, and a nought before the point
}

TEST_SUITE_END();
