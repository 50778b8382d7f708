#include <doctest/doctest.h>

#include "cli/run.hpp"
#include "cli/scenarios.hpp"

using namespace leastwise::cli_test;

namespace {

/// Two orders of 20 % N that share this many kg of urea; each needs 435 kg of it per tonne.
std::string shared_urea(const std::string& kg) {
  const std::string scenario =
      "{currency: USD, materials: {urea: {price_per_t: 430}, ammonium-sulfate: {price_per_t: 260}, "
      "clay-filler: {price_per_t: 40}}, grade_percent: {N: {min: 20}}}";
  return "leastwise: 1\nseason: Two orders\nblends:\n  a: {tonnes: 10, scenario: " + scenario +
         "}\n  b: {tonnes: 20, scenario: " + scenario + "}\nstock_kg: {urea: " + kg + "}\n";
}

}  // namespace

TEST_SUITE_BEGIN("season");

TEST_CASE("a season is planned: exit code 0, in each format") {
  const Folder folder;
  const std::string file = folder.write("s.yaml", shared_urea("9000"));
  const Ran ran = run({"season", file});
  CHECK(ran.exit_code == 0);
  CHECK(ran.err.empty());
  CHECK(ran.out.starts_with("Two orders\n"));
  CHECK(contains(ran.out, "2 blends, 30.00 t in all"));
  CHECK(contains(run({"season", "--format", "json", file}).out, "\"report\": \"season_plan\""));
  CHECK(contains(run({"season", "--format", "csv", file}).out, "shared max,,,urea,,9000,"));
  CHECK(contains(run({"season", "--format", "html", file}).out, "<title>Two orders</title>"));
  CHECK(run({"season", "--format", "svg", file}).exit_code == 64);
}

TEST_CASE("a season that no stock can serve has no plan: exit code 2") {
  const Folder folder;
  std::string text = shared_urea("100");
  text.replace(text.find("min: 20"), 7, "min: 30");
  const Ran ran = run({"season", folder.write("s.yaml", text)});
  CHECK(ran.exit_code == 2);
  CHECK(contains(ran.out, "No plan obeys every rule of this season."));
  CHECK(contains(ran.out, "urea"));
}

TEST_CASE("a season without amounts is rejected where that is missing: exit code 1") {
  const Folder folder;
  std::string text = shared_urea("100");
  text.replace(text.find("tonnes: 10, "), 12, "");
  const Ran ran = run({"season", folder.write("s.yaml", text)});
  CHECK(ran.exit_code == 1);
  CHECK(ran.out.empty());
  CHECK(contains(ran.err, "s.yaml:4:3: error: blend 'a' must say how much is wanted"));
}

TEST_CASE("the schema of season files is printed by name") {
  CHECK(contains(run({"schema", "season"}).out, "leastwise season, format version 1"));
}

TEST_SUITE_END();
