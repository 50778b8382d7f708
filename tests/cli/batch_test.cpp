#include <doctest/doctest.h>

#include <string>

#include "run.hpp"

using namespace leastwise::cli_test;

namespace {

constexpr std::string_view trial = R"(leastwise: 1
base:
  materials: {urea: {price_per_t: 450}, map: {price_per_t: 690}}
  rates_kg_per_ha: {N: {min: 40}, P2O5: {min: 20}}
treatments:
  good: {}
  too little: {total_kg_per_ha: {max: 60}}
sites: {Hill: {replicates: 2, plot_area_m2: 100}}
equipment:
  mixers: {bucket: {capacity_kg: 10}}
  balances: {bench: {capacity_kg: 6, readability_g: 0.1}}
)";

std::string good_trial() {
  std::string text(trial);
  return text.erase(text.find("  too little"), text.find("sites:") - text.find("  too little"));
}

bool holds(const std::string& text, std::string_view word) {
  return text.find(word) != std::string::npos;
}

}  // namespace

TEST_CASE("a treatment without a blend is named with its conflict, and nothing is written") {
  const Folder folder;
  const std::string file = folder.write("trial.yaml", trial);
  const Ran ran = run({"batch", "--format", "html", "--output", folder.path("sheets.html"), file});
  CHECK(ran.exit_code == 2);
  CHECK(ran.out.empty());
  CHECK(holds(ran.err, "'too little' (T2)"));
  CHECK(holds(ran.err, "rate N min"));
  CHECK(holds(ran.err, "--keep-going"));
  CHECK(folder.names().size() == 1);
}

TEST_CASE("with --keep-going the other treatments get their sheets") {
  const Folder folder;
  const Ran ran = run({"batch", "--keep-going", folder.write("trial.yaml", trial)});
  CHECK(ran.exit_code == 2);
  CHECK(holds(ran.out, "Weigh for each load"));
  CHECK(holds(ran.out, "NOT MADE"));
  CHECK(holds(ran.err, "'too little' (T2)"));
}

TEST_CASE("a plot of no area is refused with its place, and nothing is written") {
  const Folder folder;
  std::string text = good_trial();
  text.replace(text.find("100"), 3, "0  ");
  const Ran ran = run({"plan", "--output", folder.path("plan.txt"), folder.write("t.yaml", text)});
  CHECK(ran.exit_code == 1);
  CHECK(ran.out.empty());
  CHECK(holds(ran.err, "t.yaml:7:"));
  CHECK(folder.names().size() == 1);
}

TEST_CASE("the batch list, filled in, is held against the plan") {
  const Folder folder;
  const std::string file = folder.write("trial.yaml", good_trial());
  const Ran list = run({"batch", "--format", "csv", file});
  REQUIRE(list.exit_code == 0);
  CHECK(holds(list.out, "T1-B1,T1,good,urea,granule"));
  const std::string weighed =
      folder.write("weighed.csv", "batch,material,actual_g\nT1-B1,urea,1710.8\nT1-B1,map,846.1\n");
  const Ran check = run({"batch", "--weighed", weighed, file});
  CHECK(check.exit_code == 0);
  CHECK(holds(check.out, "T1-B1  good"));
  const std::string wrong =
      folder.write("wrong.csv", "batch,material,actual_g\nT1-B1,urea,1500\nT1-B1,map,846.1\n");
  const Ran broken = run({"batch", "--weighed", wrong, file});
  CHECK(broken.exit_code == 2);
  CHECK(holds(broken.out, "broken"));
}

TEST_CASE("a name that a spreadsheet would compute is no formula in the list, and is read back") {
  const Folder folder;
  std::string text = good_trial();
  text.replace(text.find("urea: {"), 7,
               "\"=2+3\": {form: granule, family: urea, contains_percent: {N: 46, N-urea: 46}, ");
  const std::string file = folder.write("trial.yaml", text);
  const Ran list = run({"batch", "--format", "csv", file});
  REQUIRE_MESSAGE(list.exit_code == 0, list.err);
  CHECK(holds(list.out, ",'=2+3,"));
  CHECK_FALSE(holds(list.out, ",=2+3,"));
  const std::string weighed =
      folder.write("weighed.csv", "batch,material,actual_g\nT1-B1,'=2+3,1710.8\nT1-B1,map,846.1\n");
  const Ran check = run({"batch", "--weighed", weighed, file});
  CHECK_MESSAGE(check.exit_code == 0, check.err);
}

TEST_CASE("options of a trial that make no sense are wrong usage") {
  const Folder folder;
  const std::string file = folder.write("trial.yaml", good_trial());
  CHECK(run({"batch", "--format", "pdf", file}).exit_code == 64);
  CHECK(run({"batch", "--paper", "a5", file}).exit_code == 64);
  CHECK(run({"plan", "--table", "plots", file}).exit_code == 64);
  CHECK(run({"plan", "--weighed", "w.csv", file}).exit_code == 64);
  CHECK(run({"plan", "--format", "csv", "--table", "things", file}).exit_code == 64);
  CHECK(run({"batch"}).exit_code == 64);
}

TEST_CASE("recipes come as a list, and what was weighed as one of plots") {
  const Folder folder;
  const std::string file = folder.write("trial.yaml", good_trial());
  const Ran recipes = run({"plan", "--format", "csv", "--table", "recipes", file});
  CHECK(recipes.exit_code == 0);
  CHECK(holds(recipes.out, "T1,good,planned,urea,granule,"));
  Ran list = run({"batch", "--format", "csv", file});
  std::string filled = list.out;
  for (std::size_t at = filled.find(",,,\n"); at != std::string::npos; at = filled.find(",,,\n"))
    filled.replace(at, 3, ",700,L1,me");
  const std::string weighed = folder.write("weighed.csv", filled);
  const Ran applied =
      run({"batch", "--weighed", weighed, "--format", "csv", "--table", "applied", file});
  CHECK(holds(applied.out, "Hill,1,101,T1,good,100,"));
  CHECK(holds(applied.out, "urea L1"));
  const Ran wrong =
      run({"batch", "--weighed", weighed, "--format", "csv", "--table", "plots", file});
  CHECK(wrong.exit_code == 64);
}

TEST_CASE("treatments that cannot be held equal are refused with the rules that keep them apart") {
  const Folder folder;
  std::string text = good_trial();
  text.replace(text.find("  good: {}\n"), 11,
               "  low: {rates_kg_per_ha: {N: {exactly: 40}}}\n"
               "  high: {rates_kg_per_ha: {N: {exactly: 60}}}\n");
  text += "hold: [N]\n";
  const Ran ran = run({"batch", folder.write("trial.yaml", text)});
  CHECK(ran.exit_code == 2);
  CHECK(ran.out.empty());
  CHECK(holds(ran.err, "hold: one rate of N"));
  CHECK(holds(ran.err, "T1 low: exactly 40 kg/ha of N"));
}

TEST_CASE("a product that the balances cannot weigh is refused, and its rule named") {
  const Folder folder;
  std::string text = good_trial();
  text.replace(text.find("{min: 40}"), 9, "{exactly: 40}");
  text.replace(text.find("plot_area_m2: 100"), 17, "plot_area_m2: 0.05");
  text.replace(text.find("readability_g: 0.1"), 18, "readability_g: 0.5");
  const Ran ran = run({"batch", folder.write("trial.yaml", text)});
  CHECK(ran.exit_code == 2);
  CHECK(ran.out.empty());
  CHECK(holds(ran.err, "has no product: unweighable"));
  CHECK(holds(ran.err, "to within 1 %"));
}
