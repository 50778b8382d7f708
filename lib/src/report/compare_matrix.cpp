#include "report/compare_matrix.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <functional>
#include <string>
#include <utility>
#include <vector>

#include "report/compare_words.hpp"
#include "report/kit/numbers.hpp"

namespace leastwise::report {
namespace {

/// Lines of a comparison that have the same recipe, by their positions.
struct SameRecipe {
  const ComparedScenario* line = nullptr;  ///< the first of them
  std::vector<std::size_t> positions{};
};

bool are_equal(const Blend& a, const Blend& b) {
  const auto differ = [](double x, double y) {
    return std::fabs(x - y) > 1e-6 * std::max({1.0, std::fabs(x), std::fabs(y)});
  };
  if (a.portions.size() != b.portions.size() || a.basis != b.basis) return false;
  for (const Portion& portion : a.portions) {
    const auto other = std::ranges::find(b.portions, portion.material, &Portion::material);
    if (other == b.portions.end() || differ(portion.kg_per_t, other->kg_per_t)) return false;
    if (differ(portion.kg_per_ha.value_or(0), other->kg_per_ha.value_or(0))) return false;
  }
  return true;
}

/// The different recipes of a comparison, in the order of its lines.
std::vector<SameRecipe> distinct_recipes(const Comparison& comparison) {
  std::vector<SameRecipe> recipes;
  for (std::size_t i = 0; i < comparison.lines.size(); ++i) {
    const Blend* blend = comparison.lines[i].answer.blend();
    if (blend == nullptr) continue;
    const auto known = std::ranges::find_if(recipes, [&](const SameRecipe& recipe) {
      return are_equal(*recipe.line->answer.blend(), *blend);
    });
    if (known != recipes.end())
      known->positions.push_back(i);
    else
      recipes.push_back({&comparison.lines[i], {i}});
  }
  return recipes;
}

/// `2, 3, 7`: the numbers of the lines.
std::string numbers_of(const SameRecipe& recipe) {
  std::vector<std::size_t> numbers;
  for (const std::size_t position : recipe.positions) numbers.push_back(position + 1);
  return fmt::format("{}", fmt::join(numbers, ", "));
}

/// A table with a column for each recipe.
Table table_of_recipes(const std::vector<SameRecipe>& recipes, const char* first) {
  Table table;
  table.add_words(first);
  for (const SameRecipe& recipe : recipes) table.add_numbers(numbers_of(recipe));
  return table;
}

/// Adds a row with `text` of each recipe; none where all are empty.
template <class Text>
void add_recipe_row(Table& table, const std::vector<SameRecipe>& recipes, std::string name,
                    Text text) {
  std::vector<std::string> cells{std::move(name)};
  for (const SameRecipe& recipe : recipes) cells.push_back(text(*recipe.line));
  if (std::any_of(cells.begin() + 1, cells.end(), [](const auto& cell) { return !cell.empty(); }))
    table.add_row(std::move(cells));
}

/// Materials by recipes, kg per tonne; the largest first.
void write_recipe_matrix(Page& page, const std::vector<SameRecipe>& recipes) {
  std::vector<std::pair<std::string, double>> materials;
  for (const SameRecipe& recipe : recipes)
    for (const Portion& portion : recipe.line->answer.blend()->portions) {
      const auto known =
          std::ranges::find(materials, portion.material, &std::pair<std::string, double>::first);
      if (known == materials.end())
        materials.emplace_back(portion.material, portion.kg_per_t);
      else
        known->second = std::max(known->second, portion.kg_per_t);
    }
  std::ranges::stable_sort(materials, std::greater{}, &std::pair<std::string, double>::second);
  Table table = table_of_recipes(recipes, "line");
  for (const auto& material : materials) {
    const std::string& name = material.first;
    add_recipe_row(table, recipes, name, [&](const ComparedScenario& line) {
      const auto& portions = line.answer.blend()->portions;
      const auto portion = std::ranges::find(portions, name, &Portion::material);
      return portion == portions.end() ? std::string() : amount_text(portion->kg_per_t);
    });
  }
  const Units units = recipes.front().line->answer.blend()->units;
  page.heading("The recipes, " + std::string(unit_name(Measure::dose, units)));
  page.table(table);
  if (std::ranges::any_of(recipes, [](const auto& recipe) { return recipe.positions.size() > 1; }))
    page.item("  ", "Lines with one recipe share a column.");
}

/// Rules by recipes: what one unit more of the limit costs in each.
void write_price_matrix(Page& page, const std::vector<SameRecipe>& recipes) {
  std::vector<std::string> rules;
  for (const SameRecipe& recipe : recipes)
    for (const auto& name : names_of(binding_rules(*recipe.line->answer.blend())))
      if (std::ranges::find(rules, name) == rules.end()) rules.push_back(name);
  if (rules.empty()) return;
  Table table = table_of_recipes(recipes, "line");
  for (const auto& name : rules)
    add_recipe_row(table, recipes, name, [&](const ComparedScenario& line) {
      const auto& binding = line.answer.blend()->binding;
      const auto rule = std::ranges::find(binding, name, &BindingRule::rule);
      if (rule == binding.end()) return std::string();
      const std::string price = price_text(std::fabs(rule->shadow_price));
      return (rule->shadow_price > 0 ? "+" : "-") + price;
    });
  page.heading("What one unit more of a limit adds to the cost");
  page.table(table);
}

std::string index_text(const BlendIndex& index) {
  return index.value ? share_text(*index.value) : std::string();
}

std::string uncovered_text(const BlendIndex& index) {
  return index.value && !index.unknown.empty() ? share_text(uncovered_percent(index))
                                               : std::string();
}

void write_indices(Page& page, const std::vector<SameRecipe>& recipes) {
  Table table = table_of_recipes(recipes, "line");
  const auto row = [&](const char* name, auto text) { add_recipe_row(table, recipes, name, text); };
  row("salt index, at least",
      [](const ComparedScenario& line) { return index_text(line.salt_index); });
  row("- % without a figure",
      [](const ComparedScenario& line) { return uncovered_text(line.salt_index); });
  row("acidity", [](const ComparedScenario& line) { return index_text(line.acidity); });
  row("- % without a figure",
      [](const ComparedScenario& line) { return uncovered_text(line.acidity); });
  const Units units = recipes.front().line->answer.blend()->units;
  const std::string lime_name =
      "lime, " + std::string(unit_name(Measure::rate, units)) + ", at least";
  row(lime_name.c_str(), [](const ComparedScenario& line) {
    const auto lime = lime_kg_per_ha(line.acidity, *line.answer.blend());
    return lime ? amount_text(*lime) : std::string();
  });
  if (table.rows().empty()) return;
  page.heading("Salt index and acidity");
  page.table(table);
  page.item("  - ", std::string(salt_index_series) + ".");
  page.item("  - ", std::string(acidity_series) + ".");
}

}  // namespace

void write_recipes_side_by_side(Page& page, const Comparison& comparison) {
  const auto recipes = distinct_recipes(comparison);
  if (recipes.empty()) return;
  write_recipe_matrix(page, recipes);
  write_price_matrix(page, recipes);
  write_indices(page, recipes);
}

}  // namespace leastwise::report
