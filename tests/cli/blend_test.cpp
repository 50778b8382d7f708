#include <doctest/doctest.h>

#include <algorithm>
#include <cstdint>
#include <iomanip>
#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/run.hpp"
#include "cli/scenarios.hpp"

using namespace leastwise::cli_test;
using Json = nlohmann::ordered_json;

namespace {

/// A search of minutes: a hundred materials that all hold a little of everything, of which at most
/// five may be used and none in small shares. The figures come from a fixed generator.
std::string slow_scenario() {
  std::uint32_t state = 12345;
  const auto next = [&] {
    state = (state * 1103515245U + 12345U) % 2147483648U;
    return state / 2147483648.0;
  };
  const std::vector<std::string> nutrients{"N", "P2O5", "K2O", "S", "Mg", "Ca", "Na"};
  std::ostringstream text;
  text << std::fixed << std::setprecision(2) << "leastwise: 1\nmaterials:\n";
  for (int i = 0; i < 100; ++i) {
    text << "  m" << i << ": {form: granule, contains_percent: {";
    for (const std::string& nutrient : nutrients) text << nutrient << ": " << next() * 12 << ", ";
    text << "filler: 0}, price_per_t: " << 200 + next() * 300;
    text << ", min_if_used_percent: " << 3 + next() * 6 << "}\n";
  }
  text << "grade_percent:\n";
  for (const std::string& nutrient : nutrients)
    text << "  " << nutrient << ": {min: 6.9, max: 7.18}\n";
  text << "blend: {bins: 5}\n";
  return text.str();
}

}  // namespace

TEST_SUITE_BEGIN("blend");

TEST_CASE("a blend is found: exit code 0, the page on standard output, nothing else") {
  const Folder folder;
  const Ran ran = run({"blend", folder.write("a.yaml", blendable)});
  CHECK(ran.exit_code == 0);
  CHECK(ran.err.empty());
  CHECK(ran.out.starts_with("Hand-worked blend\n=================\n"));
  CHECK(contains(ran.out, "The cheapest blend costs 211.30 USD/t."));
}

TEST_CASE("no blend obeys every rule: exit code 2, and the explanation is the report") {
  const Folder folder;
  const Ran ran = run({"blend", folder.write("a.yaml", impossible)});
  CHECK(ran.exit_code == 2);
  CHECK(ran.err.empty());
  CHECK(contains(ran.out, "No blend obeys every rule"));
  CHECK(contains(ran.out, "grade N min"));
  CHECK(contains(ran.out, "a.yaml:8"));
}

TEST_CASE("the input is rejected: exit code 1, every slip on standard error, no report") {
  const Folder folder;
  const Ran ran = run({"blend", folder.write("a.yaml", faulty)});
  CHECK(ran.exit_code == 1);
  CHECK(ran.out.empty());
  CHECK(contains(ran.err, "a.yaml:4:"));
  CHECK(contains(ran.err, "unknown-key"));
  CHECK(contains(ran.err, "a.yaml:6:"));
  CHECK(contains(ran.err, "2 errors; nothing was solved"));
}

TEST_CASE("a time limit too short for any proof: exit code 3, and nothing claims to be proved") {
  const Folder folder;
  const Ran ran =
      run({"blend", "--format", "json", "--time-limit", "1e-9", folder.write("a.yaml", blendable)});
  CHECK(ran.exit_code == 3);
  CHECK(ran.err.empty());
  const Json json = Json::parse(ran.out);
  CHECK(json["status"] == "stopped");
  CHECK(json["cause"] == "time_limit");
}

TEST_CASE("Ctrl-C stops a long search: exit code 3, with what is known by then") {
  const Folder folder;
  const Ran ran =
      run({.arguments = {"blend", "--format", "json", folder.write("a.yaml", slow_scenario())},
           .interrupt_after_s = 1.0});
  CHECK(ran.exit_code == 3);
  CHECK(ran.err.empty());
  const Json json = Json::parse(ran.out);
  CHECK(json["status"] == "stopped");
  CHECK(json["cause"] == "cancelled");
}

TEST_CASE("a file that is not there, or is a folder, is rejected with its name") {
  const Folder folder;
  for (const std::string& file : {folder.path("none.yaml"), folder.path(".")}) {
    const Ran ran = run({"blend", file});
    CHECK(ran.exit_code == 1);
    CHECK(ran.out.empty());
    CHECK(contains(ran.err, file));
  }
}

TEST_CASE("a dash reads the scenario from standard input") {
  const Folder folder;
  const Ran ran =
      run({.arguments = {"blend", "-", "--format", "csv"}, .input = std::string(blendable)});
  CHECK(ran.exit_code == 0);
  CHECK(ran.out == run({"blend", folder.write("a.yaml", blendable), "--format", "csv"}).out);
  const Ran wrong = run({.arguments = {"check", "-"}, .input = std::string(faulty)});
  CHECK(wrong.exit_code == 1);
  CHECK(contains(wrong.err, "stdin:4:"));
}

TEST_CASE("the JSON of every outcome is valid and says the same as the exit code") {
  const Folder folder;
  const Ran found = run({"blend", "--format", "json", folder.write("a.yaml", blendable)});
  CHECK(Json::parse(found.out)["status"] == "optimal");
  CHECK(Json::parse(found.out)["cost_per_t"].get<double>() == doctest::Approx(211.304347826));
  const Ran none = run({"blend", "--format=json", folder.write("b.yaml", impossible)});
  CHECK(none.exit_code == 2);
  CHECK(Json::parse(none.out)["status"] == "infeasible");
  CHECK(Json::parse(none.out)["conflict"][0]["rule"] == "grade N min");
}

TEST_CASE("CSV has a header and a line for each portion") {
  const Folder folder;
  const Ran ran = run({"blend", "--format", "csv", folder.write("a.yaml", blendable)});
  CHECK(ran.exit_code == 0);
  CHECK(ran.out.starts_with("status,material,form,"));
  CHECK(std::count(ran.out.begin(), ran.out.end(), '\n') == 3);
}

TEST_CASE("a price on the command line takes the place of the one in the file") {
  const Folder folder;
  const std::string file = folder.write("a.yaml", blendable);
  const Ran ran = run({"blend", file, "--price", "urea=920", "--price", "stone=0"});
  CHECK(ran.exit_code == 0);
  CHECK(contains(ran.out, "The cheapest blend costs 400.00 USD/t."));  // 0.43478 x 920
}

TEST_CASE("check says that nothing is wrong, or what, and solves nothing") {
  const Folder folder;
  const Ran good = run({"check", folder.write("a.yaml", impossible)});
  CHECK(good.exit_code == 0);
  CHECK(good.err.empty());
  CHECK(contains(good.out, "nothing is wrong"));
  const Ran bad = run({"check", folder.write("b.yaml", faulty)});
  CHECK(bad.exit_code == 1);
  CHECK(bad.out.empty());
}

TEST_CASE("materials lists the built-in ones, or those of a scenario") {
  const Folder folder;
  const Ran all = run({"materials", "--format", "json"});
  CHECK(all.exit_code == 0);
  CHECK(Json::parse(all.out)["materials"].size() > 20);
  const Ran own = run({"materials", "--format", "json", folder.write("a.yaml", blendable)});
  CHECK(Json::parse(own.out)["materials"].size() == 2);
  CHECK(contains(run({"materials"}).out, "urea (granule)"));
}

TEST_CASE("the schemas are JSON, each of its own format") {
  const std::vector<std::pair<std::vector<std::string>, std::string>> schemas{
      {{"schema"}, "leastwise scenario, format version 1"},
      {{"schema", "scenario"}, "leastwise scenario, format version 1"},
      {{"schema", "trial"}, "leastwise trial, format version 1"}};
  for (const auto& [arguments, expected] : schemas) {
    const std::string& title = expected;
    CAPTURE(title);
    const Ran ran = run(arguments);
    CHECK(ran.exit_code == 0);
    CHECK(ran.err.empty());
    CHECK(Json::parse(ran.out)["title"] == title);
  }
}

TEST_SUITE_END();
