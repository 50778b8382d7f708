#include "model/model.hpp"

#include <doctest/doctest.h>
#include <leastwise/scenario.hpp>

#include <algorithm>
#include <string>

using namespace leastwise;
using model::Model;

namespace {

MaterialDraft material(const std::string& name, Form form, std::vector<Content> contents,
                       double price) {
  MaterialDraft m;
  m.name = name;
  m.form = form;
  m.contains_percent = std::move(contents);
  m.price_per_t = price;
  return m;
}

/// urea-like, map-like and a zinc powder and granule, per hectare.
ScenarioDraft field() {
  ScenarioDraft draft;
  draft.materials = {material("a", Form::granule, {{"N", 46}}, 400),
                     material("b", Form::granule, {{"N", 11}, {"P2O5", 52}}, 600),
                     material("z", Form::powder, {{"Zn", 80}}, 3000),
                     material("g", Form::granule, {{"Zn", 20}, {"S", 10}}, 1500)};
  draft.materials[3].micronutrient_granule = true;
  draft.rates_kg_per_ha = {{"N", {60, 66}}, {"P2O5", {46, model::infinity}}, {"Zn", {1, 3}}};
  return draft;
}

double value_at(const Model& m, int row, int column) {
  for (int e = m.row_start[static_cast<std::size_t>(row)];
       e < m.row_start[static_cast<std::size_t>(row) + 1]; ++e)
    if (m.entries[static_cast<std::size_t>(e)].column == column)
      return m.entries[static_cast<std::size_t>(e)].value;
  return 0;
}

const model::Rule& rule_named(const Model& m, const Scenario& s, const std::string& name) {
  const auto found = std::find_if(m.rules.begin(), m.rules.end(), [&](const auto& r) {
    return to_string(model::origin_of(r, s).id) == name;
  });
  REQUIRE_MESSAGE(found != m.rules.end(), name);
  return *found;
}

}  // namespace

TEST_SUITE("model") {
  TEST_CASE("a minimum counts a third of a zinc granule and a maximum all of it") {
    const Scenario s(field());
    const auto m = model::build(s);
    const auto& min = rule_named(m, s, "rate Zn min");
    const auto& max = rule_named(m, s, "rate Zn max");
    CHECK(value_at(m, min.row, 3) == doctest::Approx(0.20 / 3));
    CHECK(value_at(m, max.row, 3) == doctest::Approx(0.20));
    CHECK(value_at(m, min.row, 2) == doctest::Approx(0.80));
  }

  TEST_CASE("both sides of a nutrient without such granules share a row") {
    const Scenario s(field());
    const auto m = model::build(s);
    CHECK(rule_named(m, s, "rate N min").row == rule_named(m, s, "rate N max").row);
  }

  TEST_CASE("the coating row weighs powder and its binder against the granules") {
    auto draft = field();
    draft.binder = BinderDraft{"water-glass", 40.0, 0.0, false};
    draft.coating_percent = Limits{-model::infinity, 2};
    const Scenario s(draft);
    const auto m = model::build(s);
    const auto& coating = rule_named(m, s, "coating max");
    CHECK(value_at(m, coating.row, 2) == doctest::Approx(1.4));
    CHECK(value_at(m, coating.row, 0) == doctest::Approx(-0.02));
  }

  TEST_CASE("per hectare a grade is homogeneous and moves with its limit through the total") {
    auto draft = field();
    draft.grade_percent = {{"S", {-model::infinity, 4}}};
    const Scenario s(draft);
    auto m = model::build(s);
    const auto& grade = rule_named(m, s, "grade S max");
    REQUIRE(m.total_column >= 0);
    CHECK(m.row_upper[static_cast<std::size_t>(grade.row)] == 0);
    CHECK(value_at(m, grade.row, m.total_column) == doctest::Approx(-0.04));
    const auto r = static_cast<std::size_t>(&grade - m.rules.data());
    model::set_limit(m, r, 5);
    CHECK(value_at(m, m.rules[r].row, m.total_column) == doctest::Approx(-0.05));
    CHECK(value_at(m, m.total_row, 2) == doctest::Approx(1.375));
  }

  TEST_CASE("per tonne shares and stock are bounds and a limit moved moves them") {
    ScenarioDraft draft;
    draft.materials = {material("a", Form::granule, {{"N", 46}}, 400),
                       material("f", Form::granule, {{"Ca", 30}}, 40)};
    draft.materials[0].share_percent = Limits{5, 60};
    draft.materials[0].stock_kg = 1500;
    draft.make_tonnes = 5;
    draft.grade_percent = {{"N", {10, model::infinity}}};
    const Scenario s(draft);
    auto m = model::build(s);
    CHECK(m.column_lower[0] == 50);
    CHECK(m.column_upper[0] == 300);  // 1500 kg for 5 t is tighter than 600
    const auto& stock = rule_named(m, s, "stock a");
    model::set_limit(m, static_cast<std::size_t>(&stock - m.rules.data()), 5000);
    CHECK(m.column_upper[0] == 600);
    CHECK(m.row_lower[static_cast<std::size_t>(rule_named(m, s, "grade N min").row)] == 100);
  }

  TEST_CASE("an equality is named exactly") {
    auto draft = field();
    draft.rates_kg_per_ha[0].limits = {60, 60};
    draft.total_kg_per_ha = Limits{300, 300};
    const Scenario s(draft);
    const auto m = model::build(s);
    CHECK(rule_named(m, s, "rate N exactly").side == RuleSide::exactly);
    CHECK(rule_named(m, s, "total exactly").side == RuleSide::exactly);
  }

  TEST_CASE("a limit of zero keeps the entries that move with it") {
    auto draft = field();
    draft.grade_percent = {{"S", {-model::infinity, 0}}};
    draft.coating_percent = Limits{-model::infinity, 0};
    const Scenario s(draft);
    auto m = model::build(s);
    for (const std::string name : {"grade S max", "coating max"}) {
      const auto& rule = rule_named(m, s, name);
      const auto r = static_cast<std::size_t>(&rule - m.rules.data());
      const int column = rule.coefficient_derivatives.front().column;
      model::set_limit(m, r, 2);
      CHECK_MESSAGE(value_at(m, m.rules[r].row, column) == doctest::Approx(-0.02), name);
    }
  }

  TEST_CASE("materials whose form keeps them out have no column") {
    auto draft = field();
    draft.materials.push_back(material("c", Form::crystal, {{"N", 21}}, 100));
    draft.materials.push_back(material("d", Form::crystal, {{"Zn", 36}}, 100));
    draft.materials.back().ground = true;
    const Scenario s(draft);
    const auto m = model::build(s);
    CHECK(std::find(m.material_of.begin(), m.material_of.end(), 4) == m.material_of.end());
    const auto ground = std::find(m.material_of.begin(), m.material_of.end(), 5);
    REQUIRE(ground != m.material_of.end());
    CHECK_FALSE(m.is_granule[static_cast<std::size_t>(ground - m.material_of.begin())]);
  }
}
