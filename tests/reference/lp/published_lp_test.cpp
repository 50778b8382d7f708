#include <doctest/doctest.h>
#include <leastwise/formulate.hpp>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>
#include <string>

#include "reference/lp/published_program.hpp"
#include "support/audit.hpp"
#include "support/csv.hpp"
#include "support/rule_changes.hpp"

// Published linear programs, recast as scenarios. The source of each stands beside it in
// tests/reference/data/lp_index.csv; optima there were recomputed in exact arithmetic.

using namespace leastwise;
using namespace leastwise::support;

namespace {

double amount(const Blend& blend, const std::string& column, double kg_per_unit) {
  for (const Portion& portion : blend.portions)
    if (portion.material == "good " + column) return portion.kg_per_ha.value() / kg_per_unit;
  return 0;
}

/// The shadow price of a published row, in published units; 0 when it does not bind.
double dual_of(const Blend& blend, const Recast& recast, const std::string& row) {
  for (const BindingRule& rule : blend.binding)
    if (rule.rule == recast.rule_of_row.at(row))
      return rule.shadow_price * recast.unit_of_row.at(row);
  return 0;
}

double close_to(double expected) { return 1e-7 * std::max(1e-4, std::fabs(expected)); }

}  // namespace

TEST_SUITE("published linear programs") {
  TEST_CASE("every program of our form has the published optimum") {
    std::set<std::string> other_form;
    for (const PublishedProgram& program : published_programs()) {
      CAPTURE(program.name);
      CAPTURE(program.source);
      const std::optional<Recast> scenario = recast(program);
      if (!scenario) {
        other_form.insert(program.name);
        continue;
      }
      const Formulation answer = formulate(Scenario(scenario->draft));
      REQUIRE(answer.blend() != nullptr);
      const Blend& blend = *answer.blend();
      for (const std::string& text : contradictions(Scenario(scenario->draft), blend))
        FAIL_CHECK(text);
      CHECK(std::fabs(*blend.cost_per_ha - program.objective) <=
            1e-9 * std::fabs(program.objective));
      if (program.x_unique)
        for (const auto& column : program.columns) {
          CAPTURE(column.name);
          const double x = amount(blend, column.name, scenario->kg_per_unit);
          CHECK(std::fabs(x - column.optimum) <= close_to(column.optimum));
        }
      if (program.dual_unique)
        for (const auto& row : program.rows) {
          CAPTURE(row.name);
          CHECK(std::fabs(dual_of(blend, *scenario, row.name) - row.dual) <= close_to(row.dual));
        }
    }
    // Maximised, or with negative coefficients or costs; the last two are recast by hand below.
    CHECK(other_form == std::set<std::string>{"lpsolve_farmer", "ncert_PQ_max", "highs_blending",
                                              "furnace_charge", "ozark_feed", "southfork"});
  }

  TEST_CASE("a material enters where the published reduced cost says") {
    int checked = 0;
    for (const PublishedProgram& program : published_programs()) {
      const std::optional<Recast> scenario = recast(program);
      if (!scenario || !program.x_unique || !program.dual_unique) continue;
      const Formulation answer = formulate(Scenario(scenario->draft));
      REQUIRE(answer.blend() != nullptr);
      CAPTURE(program.name);
      for (const UnusedMaterial& unused : answer.blend()->unused) {
        CAPTURE(unused.material);
        const auto column = std::find_if(
            program.columns.begin(), program.columns.end(),
            [&](const auto& candidate) { return "good " + candidate.name == unused.material; });
        REQUIRE(column != program.columns.end());
        const double enters = (column->cost - column->reduced_cost) * 1000 / scenario->kg_per_unit;
        if (enters < 1e-9 * unused.price_per_t) continue;  // free, and still too dear
        REQUIRE(unused.enters_below_price_per_t.has_value());
        CHECK(*unused.enters_below_price_per_t ==
              doctest::Approx(enters).epsilon(1e-7).scale(unused.price_per_t));
        ++checked;
      }
    }
    CHECK(checked > 70);
  }

  TEST_CASE("Stigler's diet costs 39.66 dollars in a year of 365 days and takes five foods") {
    // Exact rational solution over all 77 foods: stigler_optimum.csv. Data: GLPK example
    // stigler.mod, which cites Stigler 1945, J. Farm Econ. 27, 303-314.
    std::map<std::string, double> exact;
    for (const CsvLine& line : read_reference("stigler_optimum.csv"))
      if (line.at("quantity") != "objective_exact_fraction")
        exact[line.at("quantity")] = std::stod(line.at("value"));
    const PublishedProgram program = published_program("stigler77");
    const Recast scenario = recast(program).value();
    const Formulation answer = formulate(Scenario(scenario.draft));
    REQUIRE(answer.blend() != nullptr);
    const Blend& blend = *answer.blend();
    CHECK(*blend.cost_per_ha == doctest::Approx(exact.at("objective")).epsilon(1e-12));
    CHECK(std::round(*blend.cost_per_ha * 365 * 100) == 3966);
    CHECK(std::round(*blend.cost_per_ha * 365.25 * 100) == 3969);
    CHECK(blend.portions.size() == 5);
    for (const char* food : {"flour", "liver", "cabbage", "spinach", "navybeans"}) {
      CAPTURE(food);
      CHECK(amount(blend, food, scenario.kg_per_unit) ==
            doctest::Approx(exact.at(std::string("x_") + food)).epsilon(1e-9));
    }
    for (const char* row : {"calories", "calcium", "vitaminA", "riboflavin", "ascorbicAcid"}) {
      CAPTURE(row);
      CHECK(dual_of(blend, scenario, row) ==
            doctest::Approx(exact.at(std::string("dual_") + row)).epsilon(1e-9));
    }
  }

  TEST_CASE("shadow prices hold over the published ranges") {
    // GLPK Reference Manual, sensitivity report of PLAN; lp_solve 5.5 documentation,
    // sensitivity.htm. Printed to five decimals, six or seven digits.
    int checked = 0;
    for (const std::string name : {"plan_alloy", "lpsolve_sensitivity"}) {
      const PublishedProgram program = published_program(name);
      const Recast scenario = recast(program).value();
      const Formulation answer = formulate(Scenario(scenario.draft));
      REQUIRE(answer.blend() != nullptr);
      for (const CsvLine& line : read_reference("lp_published_ranges.csv")) {
        if (line.at("problem") != name || line.at("kind") != "row") continue;
        const std::string row = line.at("name"), quantity = line.at("quantity");
        CAPTURE(row);
        CAPTURE(quantity);
        const double expected = std::stod(line.at("value"));
        const double unit = scenario.unit_of_row.at(row);
        const double printed = std::max(6e-6, std::fabs(expected) * 4e-6);
        if (quantity == "dual") {
          CHECK(std::fabs(dual_of(*answer.blend(), scenario, row) - expected) <= printed);
          ++checked;
          continue;
        }
        const auto rule = std::find_if(
            answer.blend()->binding.begin(), answer.blend()->binding.end(),
            [&](const BindingRule& r) { return r.rule == scenario.rule_of_row.at(row); });
        REQUIRE(rule != answer.blend()->binding.end());
        const bool from = quantity == "rhs_from" || quantity == "obj_at_from";
        const auto& end = from ? rule->holds_from : rule->holds_to;
        REQUIRE(end.has_value());
        if (quantity == "rhs_from" || quantity == "rhs_to") {
          CHECK(std::fabs(*end / unit - expected) <= printed);
        } else {
          const Formulation there = formulate(Scenario(with_limit(scenario.draft, rule->id, *end)));
          REQUIRE(there.blend() != nullptr);
          CHECK(std::fabs(*there.blend()->cost_per_ha - expected) <= printed);
        }
        ++checked;
      }
    }
    CHECK(checked == 30);
  }

  TEST_CASE("published cost ranges say where an unused ingredient enters") {
    // GLPK Reference Manual, PLAN: bin5 stays out down to 0.13544. lp_solve 5.5 documentation,
    // sensitivity.htm: COLTWO stays out down to 2.698621.
    struct Entry {
      const char* program;
      const char* column;
      double cost, digits;
    };
    for (const Entry& entry : {Entry{"plan_alloy", "bin5", 0.13544, 5e-6},
                               Entry{"lpsolve_sensitivity", "COLTWO", 2.698621, 5e-7}}) {
      CAPTURE(entry.program);
      const Recast scenario = recast(published_program(entry.program)).value();
      const Formulation answer = formulate(Scenario(scenario.draft));
      REQUIRE(answer.blend() != nullptr);
      for (const UnusedMaterial& unused : answer.blend()->unused) {
        if (unused.material != std::string("good ") + entry.column) continue;
        REQUIRE(unused.enters_below_price_per_t.has_value());
        const double cost = *unused.enters_below_price_per_t * scenario.kg_per_unit / 1000;
        CHECK(std::fabs(cost - entry.cost) <= entry.digits);
      }
    }
  }

  TEST_CASE("a feed of 800 lb with 30 % protein and at most 5 % fibre costs 437.65") {
    // Taha, Operations Research, example 2.2-2 (lp_index.csv: ozark_feed): percentages of corn 9
    // and 2, of soybean meal 60 and 6. Here the two ratio rows are grades.
    ScenarioDraft draft;
    draft.currency = "USD";
    const auto add = [&](const char* name, double price, double protein, double fibre) {
      MaterialDraft material;
      material.name = name;
      material.form = Form::granule;
      material.price_per_t = price * 1000;
      material.contains_percent =
          std::vector<Content>{{"protein", protein}, {"fibre", fibre}, {"feed", 100}};
      draft.materials.push_back(material);
    };
    add("corn", 0.30, 9, 2);
    add("soybean meal", 0.90, 60, 6);
    draft.rates_kg_per_ha = {{"feed", {.min = 800}}};
    draft.grade_percent = {{"protein", {.min = 30}}, {"fibre", {.max = 5}}};
    const Formulation answer = formulate(Scenario(draft));
    REQUIRE(answer.blend() != nullptr);
    CHECK(*answer.blend()->cost_per_ha == doctest::Approx(7440.0 / 17).epsilon(1e-12));
    CHECK(std::round(*answer.blend()->portions[0].kg_per_ha * 10) == 4706);
    CHECK(std::round(*answer.blend()->portions[1].kg_per_ha * 10) == 3294);
  }

  TEST_CASE("a feed mix with ratios, shares and stocks costs 420") {
    // Exercise in the manner of Taylor, Introduction to Management Science (lp_index.csv:
    // southfork): at least 500 lb, soybeans at least 30 %, vitamins at least 20 %, corn at most
    // twice the oats, oats at most the soybeans, and so much of each at hand.
    ScenarioDraft draft;
    draft.currency = "USD";
    const auto add = [&](const char* name, double price, double stock, double least_share) {
      MaterialDraft material;
      material.name = name;
      material.form = Form::granule;
      material.price_per_t = price * 1000;
      material.contains_percent =
          std::vector<Content>{{std::string("amount of ") + name, 100}, {"feed", 100}};
      material.stock_kg = stock;
      if (least_share > 0) material.share_percent = Limits{.min = least_share};
      draft.materials.push_back(material);
    };
    add("oats", 0.50, 300, 0);
    add("corn", 1.20, 400, 0);
    add("soybeans", 0.60, 200, 30);
    add("vitamin", 2.00, 100, 20);
    draft.make_hectares = 1;
    draft.rates_kg_per_ha = {{"feed", {.min = 500}}};
    draft.ratios = {{"amount of corn", "amount of oats", {.max = 2}},
                    {"amount of oats", "amount of soybeans", {.max = 1}}};
    const Formulation answer = formulate(Scenario(draft));
    REQUIRE(answer.blend() != nullptr);
    CHECK(*answer.blend()->cost_per_ha == doctest::Approx(420).epsilon(1e-12));
  }
}
