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

TEST_CASE("what is to be minded is said of the recipes it is about, in every format") {
  const Folder folder;
  const auto file = folder.write("a.yaml", R"(leastwise: 1
materials:
  urea: {price_per_t: 420}
  mop: {price_per_t: 340}
  ammonium-sulfate: {price_per_t: 230}
rates_kg_per_ha: {N: {min: 90}, K2O: {min: 60}}
risk: {draws: 200, prices: {urea: {lognormal_percent: 40}}}
)");
  // Dear urea gives way to ammonium sulfate, so some recipes hold urea and potassium chloride and
  // others do not.
  const std::vector<std::vector<std::string>> with_numbers{
      {"prices", "--vary", "urea"},
      {"prices", "--vary", "urea", "--vary", "mop"},
      {"alternatives"},
      {"risk"}};
  const std::string caution = "potassium-chloride with urea";
  for (const auto& question : with_numbers) {
    CAPTURE(question.size());
    CAPTURE(question.front());
    for (const char* format : {"text", "csv", "html", "svg"}) {
      CAPTURE(format);
      CHECK(contains(run(asking(question, file, format)).out, caution));
    }
    CHECK(contains(run(asking(question, file, "csv")).out, ",cautions"));
    const Json json = Json::parse(run(asking(question, file, "json")).out);
    REQUIRE(json.contains("notes"));
    std::size_t met = 0;
    for (const auto& note : json["notes"]) {
      if (!contains(note["text"].get<std::string>(), caution)) continue;
      ++met;
      CHECK(note["level"] == "caution");
      REQUIRE_FALSE(note["recipes"].empty());
      for (const auto& number : note["recipes"]) {
        const auto k = number.get<std::size_t>() - 1;
        const auto& recipe = json.contains("bands")          ? json["bands"][k]["blend"]
                             : json.contains("regions")      ? json["regions"][k]["blend"]
                             : json.contains("alternatives") ? json["alternatives"][k]["blend"]
                                                             : json["recipes"][k];
        const auto text = recipe["portions"].dump();
        CHECK(contains(text, "urea"));
        CHECK(contains(text, "mop"));
      }
    }
    CHECK(met == 1);
  }
}

TEST_CASE("the notes of the scenario go with every answer") {
  const Folder folder;
  std::string text(blendable);
  text.replace(text.find("family: filler"), std::string("family: filler").size(),
               "family: kieserite");
  text += "risk: {draws: 50, prices: {urea: {lognormal_percent: 20}}}\n";
  const auto file = folder.write("a.yaml", text);
  auto asked = questions;
  asked.resize(5);
  asked.push_back({"risk"});
  for (const auto& question : asked) {
    CAPTURE(question.front());
    CHECK(contains(run(asking(question, file)).out, "kieserite"));
    const Json json = Json::parse(run(asking(question, file, "json")).out);
    REQUIRE_FALSE(json["notes"].empty());
    CHECK(contains(json["notes"][0]["text"].get<std::string>(), "kieserite"));
    CHECK(json["notes"][0].value("recipes", Json()).is_null());
  }
}

TEST_CASE("large sums of money keep within 80 columns") {
  const Folder folder;
  const auto file = folder.write("a-file-with-quite-a-long-name-for-an-order.yaml", R"(leastwise: 1
currency: IDR
materials:
  urea: {price_per_t: 74000000}
  map: {price_per_t: 112000000}
  mop: {price_per_t: 69000000}
  a-material-with-a-long-name: {form: granule, family: kieserite, contains_percent: {N: 21, S: 24}, price_per_t: 43000000}
rates_kg_per_ha: {N: {min: 90}, P2O5: {min: 45}, K2O: {min: 60}, S: {min: 10}}
risk: {draws: 100, prices: {urea: {lognormal_percent: 20}}}
)");
  for (const std::vector<std::string>& question : {std::vector<std::string>{"risk"},
                                                   {"check"},
                                                   {"prices", "--vary", "urea"},
                                                   {"prices", "--limit", "rate N min=60:120"},
                                                   {"alternatives"}}) {
    CAPTURE(question.front());
    const Ran ran = run(asking(question, file));
    CHECK(ran.exit_code == 0);
    std::istringstream page(ran.out);
    for (std::string line; std::getline(page, line);) {
      CAPTURE(line);
      CHECK(line.size() <= 80);
    }
  }
}

TEST_CASE("a map without a blend at any limit is exit code 2 and names the conflict") {
  const Folder folder;
  const auto file = folder.write("a.yaml", impossible);
  const std::vector<std::string> question{"prices", "--limit", "grade N min=50:60"};
  const Ran ran = run(asking(question, file));
  CHECK(ran.exit_code == 2);
  CHECK(contains(ran.out, "There is no blend at any limit of grade N min from 50 to 60 %."));
  CHECK(contains(ran.out, "conflict:"));
  const Json json = Json::parse(run(asking(question, file, "json")).out);
  CHECK(json["status"] == "infeasible");
  CHECK(json["conflict_at"] == 50);
  CHECK(json["conflict"][0]["rule"] == "grade N min");
  const Ran svg = run(asking(question, file, "svg"));
  CHECK(svg.exit_code == 2);
  CHECK(contains(svg.out, "There is no blend"));
  CHECK_FALSE(contains(svg.out, "class=\"grid\""));
}

TEST_CASE("CSV says how the answer ended in the last cell of each line") {
  const Folder folder;
  const auto file = folder.write("a.yaml", blendable);
  for (std::size_t k = 0; k < 5; ++k) {
    const auto& question = questions[k];
    CAPTURE(question[1]);
    const std::string csv = run(asking(question, file, "csv")).out;
    std::istringstream lines(csv);
    std::string line;
    std::getline(lines, line);
    CHECK(line.ends_with(",status"));
    while (std::getline(lines, line)) CHECK(line.ends_with(",optimal"));
  }
  const auto none = folder.write("b.yaml", impossible);
  CHECK(run(asking({"alternatives"}, none, "csv")).out.ends_with(",,,,,infeasible\n"));
}

TEST_CASE("a number of samples that an exact curve does not need is said to have no effect") {
  const Folder folder;
  const auto file = folder.write("a.yaml", blendable);
  const Ran ran = run({"prices", "--limit", "grade N exactly=5:40", "--samples", "9", file});
  CHECK(ran.exit_code == 0);
  CHECK(contains(ran.err, "--samples has no effect"));
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
    CHECK(contains(ran.out, "cannot be met"));
    CHECK_FALSE(contains(ran.out, "conflict"));  // one rule has nothing to be at odds with
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
  CHECK_FALSE(contains(run({"prices", "--limit", "grade Zn exactly=5:40", file}).err, "mean"));
  CHECK_FALSE(contains(run({"prices", "--vary", "zz=1:2", file}).err, "mean"));
  const auto in_bins = folder.write("bins.yaml", std::string(blendable) + "blend: {bins: 2}\n");
  refused({"prices", "--limit", "bins=1:2", in_bins}, "whose limit cannot be varied");
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
  const Ran twice = run({"compare", "--format", "csv", first, first});
  CHECK(contains(twice.out, "a.yaml,optimal,"));
  CHECK(contains(twice.out, "a.yaml (2),optimal,"));
}

TEST_CASE("a price that one of several files does not know names that file") {
  const Folder folder;
  const auto first = folder.write("a.yaml", blendable);
  const auto third = folder.write(
      "c.yaml",
      "leastwise: 1\nmaterials:\n  prilled: {form: granule, contains_percent: {N: 46}, "
      "price_per_t: 460}\ngrade_percent: {N: {min: 20}}\n");
  refused({"compare", "--price", "urea=300", first, third},
          "--price names 'urea', which is no material of " + third);
  refused({"compare", "--price", "prilled=300", third, first},
          "--price names 'prilled', which is no material of " + first);
}

TEST_CASE("a source left out for another may have a minimum if used or a share") {
  const Folder folder;
  const std::string start =
      "leastwise: 1\ncurrency: USD\nmaterials:\n  urea: {price_per_t: 455}\n"
      "  tsp: {price_per_t: 600}\n  map: {price_per_t: 665, ";
  const std::string rest = "}\ngrade_percent: {N: {min: 12}, P2O5: {min: 14}}\n";
  const Ran used = run({"compare", "--source", "P2O5", "--format", "csv",
                        folder.write("a.yaml", start + "min_if_used_percent: 10" + rest)});
  CHECK(used.err.empty());
  CHECK(used.exit_code == 0);
  CHECK(contains(used.out, "only map,optimal,"));
  const Ran share = run({"compare", "--source", "P2O5", "--format", "csv",
                         folder.write("b.yaml", start + "share_percent: {min: 5}" + rest)});
  CHECK(share.err.empty());
  CHECK(share.exit_code == 0);
  CHECK(contains(share.out, "only tsp,infeasible,"));
  CHECK(contains(share.out, "share map min; without map"));
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
