#include <doctest/doctest.h>

#include "cli/run.hpp"
#include "cli/scenarios.hpp"

using namespace leastwise::cli_test;

namespace {

/// `blendable`, quoted with these lines under `quote:`.
std::string quotable(const std::string& terms) {
  return std::string(blendable) + "make: {tonnes: 10}\nquote: {" + terms + "}\n";
}

constexpr std::string_view with_days = R"(leastwise: 1
prices: list.csv
use: [urea, clay-filler]
grade_percent: {N: {min: 20}}
)";

}  // namespace

TEST_SUITE_BEGIN("quote");

TEST_CASE("a quote is the report, exit code 0: 211.30 a tonne and a margin of a tenth") {
  const Folder folder;
  const Ran ran = run({"quote", folder.write("a.yaml", quotable("margin_percent: 10"))});
  CHECK(ran.exit_code == 0);
  CHECK(ran.err.empty());
  CHECK(ran.out.starts_with("Quote: Hand-worked blend\n"));
  CHECK(contains(ran.out, "The price is 234.78 USD/t at the plant. 10 t cost 2347.80 USD."));
}

TEST_CASE("terms that cannot be are rejected where they stand, and nothing is written") {
  const Folder folder;
  const Ran ran = run({"quote", folder.write("a.yaml", quotable("margin_percent: 120"))});
  CHECK(ran.exit_code == 1);
  CHECK(ran.out.empty());
  CHECK(contains(ran.err, "must lie from 0 to below 100 percent, found 120"));
}

TEST_CASE("an impossible order has no quote: exit code 2, and the conflict is the report") {
  const Folder folder;
  const Ran ran = run({"quote", folder.write("a.yaml", impossible)});
  CHECK(ran.exit_code == 2);
  CHECK(contains(ran.out, "No blend obeys every rule"));
}

TEST_CASE("a quote in each format names its scenario") {
  const Folder folder;
  const std::string file = folder.write("a.yaml", quotable("valid_until: 2026-03-31"));
  CHECK(contains(run({"quote", "--format", "json", file}).out, "\"report\": \"quote\""));
  CHECK(contains(run({"quote", "--format", "csv", file}).out, "about,valid_until,2026-03-31"));
  CHECK(contains(run({"quote", "--format", "html", file}).out, "Valid until 2026-03-31."));
  CHECK(run({"quote", "--format", "svg", file}).exit_code == 64);
}

TEST_CASE("a price list with days takes the day from --on, which must be one") {
  const Folder folder;
  static_cast<void>(folder.write("list.csv",
                                 "material,price_per_t,until\nurea,460,2026-03-31\n"
                                 "urea,500,\nclay-filler,20,\n"));
  const std::string file = folder.write("a.yaml", with_days);
  CHECK(contains(run({"blend", file}).err, "needs-day"));
  CHECK(contains(run({"blend", "--on", "2026-03-02", file}).out, "211.30"));
  CHECK(contains(run({"blend", "--on", "2026-04-02", file}).out, "228.70"));
  const Ran ran = run({"blend", "--on", "soon", file});
  CHECK(ran.exit_code == 64);
  CHECK(contains(ran.err, "2026-03-02, found 'soon'"));
}

TEST_CASE("--why speaks of materials of the scenario, and of no others") {
  const Folder folder;
  const std::string file = folder.write("a.yaml", blendable);
  CHECK(contains(run({"blend", "--why", "urea", file}).out, "Why no more urea?"));
  const Ran ran = run({"blend", "--why", "ureea", file});
  CHECK(ran.exit_code == 64);
  CHECK(contains(ran.err, "did you mean 'urea'?"));
  CHECK(run({"blend", "--why", "urea", "--step-kg", "5", file}).exit_code == 64);
}

TEST_CASE("options that are nearly right say what to write") {
  const Folder folder;
  const std::string file = folder.write("a.yaml", blendable);
  CHECK(
      contains(run({"prices", "--limit", "N=10:20", file}).err, "did you mean 'grade N exactly'?"));
  CHECK(contains(run({"prices", "--vary", "urea=300-600", file}).err, "write urea=300:600"));
  CHECK(
      contains(run({"blend", "--step-kg", "0,5", file}).err, "a point in place of the comma: 0.5"));
  CHECK(contains(run({"alternatives", "--within", "3%", file}).err, "without the sign: 3"));
}

TEST_CASE("a quote names the plant to which its prices are delivered") {
  const Folder folder;
  static_cast<void>(folder.write("list.csv",
                                 "material,price_per_t,plant\nurea,410,quay\nurea,430,mill\n"
                                 "clay-filler,40,\n"));
  const std::string file = folder.write("a.yaml", std::string(with_days));
  const Ran ran = run({"quote", "--plant", "mill", file});
  CHECK(ran.exit_code == 0);
  CHECK(contains(ran.out, "Prices: list.csv, delivered to mill."));
  CHECK(
      contains(run({"quote", "--plant", "quay", "--format", "csv", file}).out, "about,plant,quay"));
}

TEST_SUITE_END();
