#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "base/codes.hpp"
#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "scenario/builder.hpp"
#include "scenario/correlation.hpp"

namespace leastwise {
namespace {

constexpr std::string_view root = "risk";
constexpr Range draws_range{1, static_cast<double>(most_draws), false, ""};
constexpr Range normal_range{0, 100, false, "percent"};
constexpr Range lognormal_range{0, 300, false, "percent"};
constexpr Range correlation_range{-1, 1, false, ""};

std::string price_path(const PriceSpread& spread) {
  return below(below(root, "prices"), spread.material);
}

std::string correlation_path(std::size_t k) {
  return below(below(root, "correlations"), std::to_string(k));
}

const PriceSpread* find_spread(const PriceUncertainty& risk, std::string_view material) {
  const auto found = std::find_if(risk.prices.begin(), risk.prices.end(),
                                  [&](const PriceSpread& p) { return p.material == material; });
  return found == risk.prices.end() ? nullptr : &*found;
}

/// What would do, in thousandths, rounded so that it does.
std::string correlation_advice(const std::optional<CorrelationRoom>& room) {
  constexpr double thousandths = 1000;
  if (room) {
    const double from = std::ceil(room->from * thousandths) / thousandths;
    const double to = std::floor(room->to * thousandths) / thousandths;
    if (from <= to)
      return "all others as they are, it can be from " + number_text(from + 0.0) + " to " +
             number_text(to + 0.0);
  }
  return "bring it nearer to 0, or state how both move with the others";
}

}  // namespace

bool ScenarioBuilder::names_material(const std::string& name, const std::string& path,
                                     std::string_view what) {
  if (scenario_.index_of(name)) return true;
  if (diagnostics_.touched("materials") || diagnostics_.touched("catalogue") ||
      diagnostics_.touched("use"))
    return false;
  Suggestion suggestion(name);
  for (const auto& material : scenario_.materials_) suggestion.offer(material.name);
  diagnostics_.error(codes::unknown_material, path,
                     std::string(what) + " must name a material of the scenario, found " +
                         in_quotes(name) + suggestion.question());
  return false;
}

void ScenarioBuilder::check_risk() {
  if (!draft_.risk) return;
  const auto& risk = *draft_.risk;
  if (risk.draws)
    checks_.number(below(root, "draws"), "the number of draws", static_cast<double>(*risk.draws),
                   draws_range);
  std::set<std::string_view> seen;
  for (const auto& spread : risk.prices) {
    const std::string path = price_path(spread);
    if (!seen.insert(spread.material).second)
      diagnostics_.error(codes::duplicate_name, path,
                         "the price of " + in_quotes(spread.material) + " is spread twice");
    if (names_material(spread.material, path, "an uncertain price")) check_spread(spread, path);
  }
  if (risk.history) check_history();
  const bool silent = risk.prices.empty() && !risk.history;
  if (silent && !diagnostics_.touched(root))
    diagnostics_.error(
        codes::missing_key, std::string(root),
        "risk must say which prices are uncertain, found none; add prices or history");
  check_correlations();
}

void ScenarioBuilder::check_spread(const PriceSpread& spread, const std::string& path) {
  const std::string owner = " of " + in_quotes(spread.material);
  const double today = scenario_.materials_[*scenario_.index_of(spread.material)].price_per_t;
  if (spread.shape != PriceShape::triangular) {
    const bool normal = spread.shape == PriceShape::normal;
    const std::string key = below(path, normal ? "normal_percent" : "lognormal_percent");
    checks_.number(key, "the spread of the price" + owner, spread.percent,
                   normal ? normal_range : lognormal_range);
    const auto draft = drafts_.find(spread.material);
    const bool priced = prices_.find(spread.material) != prices_.end() ||
                        (draft != drafts_.end() && draft->second->price_per_t);
    if (!priced) return;  // complained of already
    if (normal ? today != 0 : today > 0) return;
    diagnostics_.error(codes::out_of_range, key,
                       std::string(normal ? "a spread in percent needs a price other than 0"
                                          : "a lognormal spread needs a price above 0") +
                           ", found " + number_text(today) + owner + "; use triangular instead");
    return;
  }
  const std::string place = below(path, "triangular");
  bool good = true;
  for (const auto& [key, value] :
       {std::pair{"min", spread.min}, std::pair{"mode", spread.mode}, std::pair{"max", spread.max}})
    good = checks_.number(below(place, key), std::string("the ") + key + " of the price" + owner,
                          value, price_range) &&
           good;
  if (!good) return;
  if (!(spread.min <= spread.mode && spread.mode <= spread.max && spread.min < spread.max))
    diagnostics_.error(codes::min_over_max, place,
                       (spread.min == spread.max
                            ? "the max of the price" + owner + " must be above its min, found "
                            : "min, mode and max of the price" + owner + " must not fall, found ") +
                           number_text(spread.min) + ", " + number_text(spread.mode) + " and " +
                           number_text(spread.max));
  else if (spread.min < 0 && !scenario_.cost_is_bounded())
    diagnostics_.error(codes::unbounded_cost, below(place, "min"),
                       "a price below 0 needs a maximum of total_kg_per_ha, found " +
                           number_text(spread.min) + owner);
}

bool ScenarioBuilder::check_correlation(std::size_t k) {
  const auto& risk = *draft_.risk;
  const auto& pair = risk.correlations[k];
  const std::string path = correlation_path(k);
  bool good = checks_.number(below(path, "r"), "a correlation", pair.r, correlation_range);
  const std::string between = below(path, "between");
  if (pair.first == pair.second) {
    diagnostics_.error(
        codes::duplicate_name, between,
        "a correlation is between two materials, found " + in_quotes(pair.first) + " twice");
    return false;
  }
  for (const auto& name : {pair.first, pair.second}) {
    if (find_spread(risk, name) != nullptr) continue;
    good = false;
    Suggestion suggestion(name);
    for (const auto& spread : risk.prices) suggestion.offer(spread.material);
    diagnostics_.error(codes::not_uncertain, between,
                       "a correlation must be between prices that are uncertain under risk.prices, "
                       "found " +
                           in_quotes(name) + suggestion.question());
  }
  for (std::size_t other = 0; other < k; ++other) {
    const auto& before = risk.correlations[other];
    if (std::minmax(before.first, before.second) != std::minmax(pair.first, pair.second)) continue;
    good = false;
    diagnostics_.error(codes::duplicate_name, between,
                       "the correlation of " + in_quotes(pair.first) + " and " +
                           in_quotes(pair.second) + " is given twice");
  }
  return good;
}

void ScenarioBuilder::check_correlations() {
  const auto& risk = *draft_.risk;
  if (diagnostics_.touched(below(root, "prices")) ||
      diagnostics_.touched(below(root, "correlations")))
    return;
  bool good = true;
  for (std::size_t k = 0; k < risk.correlations.size(); ++k) good = check_correlation(k) && good;
  if (!good) return;
  const auto matrix = correlation_matrix(risk);
  const auto root_found = correlation_root(matrix);
  if (root_found.broken) blame_pair(matrix, root_found);
}

/// Names the pair that breaks the correlations: the one that would have to change least, else the
/// strongest of the first price that does not fit.
void ScenarioBuilder::blame_pair(const std::vector<std::vector<double>>& matrix,
                                 const CorrelationRoot& found) {
  const auto& risk = *draft_.risk;
  const auto& row = matrix[*found.broken];
  const auto room = least_change(matrix, found);
  std::size_t other = 0;
  for (std::size_t j = 0; j < *found.broken; ++j)
    if (std::fabs(row[j]) > std::fabs(row[other])) other = j;
  if (room) other = room->other;
  const std::string& a = risk.prices[other].material;
  const std::string& b = risk.prices[*found.broken].material;
  std::string path = below(root, "correlations");
  for (std::size_t k = 0; k < risk.correlations.size(); ++k) {
    const auto& pair = risk.correlations[k];
    if (std::minmax(pair.first, pair.second) == std::minmax(a, b))
      path = below(correlation_path(k), "r");
  }
  diagnostics_.error(codes::impossible_correlations, path,
                     "the correlations must fit together (a positive semi-definite matrix), found "
                     "that " +
                         in_quotes(a) + " and " + in_quotes(b) +
                         " at r = " + number_text(row[other]) +
                         " do not go with those of the other prices; " + correlation_advice(room));
}

void ScenarioBuilder::check_history() {
  const auto& history = *draft_.risk->history;
  const std::string path = below(root, "history");
  if (diagnostics_.touched(path)) return;
  if (history.materials.empty() || history.rows.empty()) {
    diagnostics_.error(codes::missing_key, path,
                       "a price history must have a material and a row of prices, found none");
    return;
  }
  std::set<std::string_view> seen;
  for (std::size_t k = 0; k < history.materials.size(); ++k) {
    const auto& name = history.materials[k];
    const std::string place = below(path, name);
    if (!names_material(name, place, "a column of a price history")) continue;
    if (!seen.insert(name).second)
      diagnostics_.error(codes::duplicate_name, place,
                         "a material must have one column in a price history, found " +
                             in_quotes(name) + " again");
    if (const auto* spread = find_spread(*draft_.risk, name))
      diagnostics_.error(codes::duplicate_name, price_path(*spread),
                         "the price of " + in_quotes(name) +
                             " must be drawn in one way, found it under risk.prices and in the "
                             "history too");
    for (std::size_t i = 0; i < history.rows.size(); ++i) {
      const auto& row = history.rows[i];
      if (row.size() != history.materials.size()) {
        diagnostics_.error(
            codes::history_gap, path,
            "every row of a price history must have a price for each material, found " +
                std::to_string(row.size()) + " of " + std::to_string(history.materials.size()));
        return;
      }
      const std::string cell = below(place, std::to_string(i));
      checks_.number(cell, "the price of " + in_quotes(name), row[k], price_range);
      if (row[k] < 0 && !scenario_.cost_is_bounded())
        diagnostics_.error(codes::unbounded_cost, cell,
                           "a price below 0 needs a maximum of total_kg_per_ha, found " +
                               number_text(row[k]) + " of " + in_quotes(name));
    }
  }
}

}  // namespace leastwise
