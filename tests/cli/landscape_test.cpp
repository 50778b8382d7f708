#include <doctest/doctest.h>

#include <nlohmann/json.hpp>
#include <sstream>

#include "cli/run.hpp"
#include "cli/scenarios.hpp"

using namespace leastwise::cli_test;
using Json = nlohmann::ordered_json;

namespace {

/// Arguments that start a map, a list or a comparison of a file.
const std::vector<std::vector<std::string>> questions{
    {"prices", "--vary", "urea=300:600"},
    {"prices", "--vary", "urea=300:600", "--vary", "stone=10:50"},
    {"prices", "--limit", "grade N exactly=5:40"},
    {"alternatives", "--count", "3"},
    {"alternatives", "--within", "5", "--fewest"},
    {"compare"},
    {"compare", "--source", "N"},
    {"blend", "--step-kg", "0.5"}};

std::vector<std::string> asking(std::vector<std::string> question, const std::string& file,
                                const std::string& format = "text") {
  question.insert(question.end(), {"--format", format, file});
  return question;
}

/// Expects a usage error whose text holds `part`.
void refused(const std::vector<std::string>& arguments, std::string_view part) {
  const Ran ran = run(arguments);
  CAPTURE(part);
  INFO(ran.err);
  CHECK(ran.exit_code == 64);
  CHECK(ran.out.empty());
  CHECK(contains(ran.err, part));
}

}  // namespace

TEST_SUITE_BEGIN("maps, lists and comparisons");

TEST_CASE("each answers in text, JSON and CSV, with nothing on standard error") {
  const Folder folder;
  const auto file = folder.write("a.yaml", blendable);
  for (const auto& question : questions) {
    CAPTURE(question.front());
    const bool steps = question.front() == "blend";  // 20 % N exactly lies on no grid
    const Ran text = run(asking(question, file));
    CHECK(text.exit_code == (steps ? 2 : 0));
    CHECK(text.err.empty());
    std::istringstream page(text.out);
    for (std::string line; std::getline(page, line);) CHECK(line.size() <= 80);
    const Ran json = run(asking(question, file, "json"));
    Json parsed;
    REQUIRE_NOTHROW(parsed = Json::parse(json.out));
    CHECK(Json::parse(json.out)["leastwise"] == 1);
    const Ran csv = run(asking(question, file, "csv"));
    CHECK(std::count(csv.out.begin(), csv.out.end(), '\n') >= 2);
  }
}

TEST_CASE("an impossible scenario is exit code 2 and names the rules") {
  const Folder folder;
  const auto file = folder.write("a.yaml", impossible);
  for (const auto& question : questions) {
    if (question.size() > 2 && question[1] == "--limit") continue;
    CAPTURE(question.front());
    const Ran ran = run(asking(question, file));
    CHECK(ran.exit_code == 2);
    CHECK(ran.err.empty());
    CHECK(contains(ran.out, "N"));
    CHECK(contains(ran.out, "conflict"));
  }
}

TEST_CASE("mistakes on the command line are named, with the nearest name where there is one") {
  const Folder folder;
  const auto file = folder.write("a.yaml", blendable);
  refused({"prices", file}, "say what to vary");
  refused({"prices", "--vary", "ureaa=1:2", file}, "did you mean 'urea'?");
  refused({"prices", "--vary", "urea=600:300", file}, "must rise");
  refused({"prices", "--vary", "urea=1", file}, "NAME=FROM:TO");
  refused({"prices", "--vary", "urea=1:x", file}, "expects a number, found 'x'");
  refused({"prices", "--vary", "urea", "--vary", "urea", file}, "two different materials");
  refused({"prices", "--limit", "grade N exactlyy=5:40", file}, "did you mean 'grade N exactly'?");
  refused({"prices", "--limit", "grade N exactly=5:400", file}, "between 0 and 100");
  refused({"prices", "--limit", "grade N exactly", file}, "RULE=FROM:TO");
  refused({"alternatives", "--count", "0", file}, "--count expects");
  refused({"alternatives", "--within", "5", file}, "needs one of");
  refused({"alternatives", "--fewest", file}, "need --within");
  refused({"alternatives", "--within", "-5", "--fewest", file}, "0 percent or more");
  refused({"alternatives", "--within", "5", "--least-mass", file}, "a tonne always weighs a tonne");
  refused({"alternatives", "--within", "5", "--least-of", "Cd", file}, "contains 'Cd'");
  refused({"compare", "--source", "Zn", file}, "at least 1 % of 'Zn'");
  for (const char* step : {"0", "-1", "1e-300", "1e-400", "1e12", "1001"})
    refused({"blend", "--step-kg", step, file}, "from 0.001 to 1000 kg, found '");
  refused({"blend", "--step-kg", "1e400", file}, "too large");
  refused({"blend", "--step-kg", "1", "--batch-kg", "1e12", file}, "from 0.001 to 1e9 kg");
  refused({"blend", "--step-kg", "3", file}, "whole number of steps");
  refused({"blend", "--batch-kg", "3", file}, "need --step-kg");
  refused({"blend", "--step-kg", "1", "--batch-hectares", "3", file}, "per tonne");
}

TEST_CASE("several files are compared line by line, a broken one is rejected") {
  const Folder folder;
  const auto first = folder.write("a.yaml", blendable);
  const auto second = folder.write("b.yaml", impossible);
  const Ran ran = run({"compare", "--format", "csv", first, second});
  CHECK(ran.exit_code == 0);
  CHECK(contains(ran.out, "a.yaml,optimal,"));
  CHECK(contains(ran.out, "b.yaml,infeasible,"));
  CHECK(run({"compare", first, folder.write("c.yaml", faulty)}).exit_code == 1);
}

TEST_CASE("help pages of maps, lists and comparisons keep within 80 columns") {
  for (const char* command : {"prices", "alternatives", "compare"}) {
    const Ran ran = run({command, "--help"});
    CHECK(ran.exit_code == 0);
    CHECK(contains(ran.out, std::string("Examples:\n  leastwise ") + command));
    std::istringstream page(ran.out);
    for (std::string line; std::getline(page, line);) CHECK(line.size() <= 80);
  }
}

TEST_SUITE_END();
