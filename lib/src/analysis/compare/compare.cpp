#include <leastwise/compare.hpp>
#include <leastwise/formulate.hpp>

#include <algorithm>
#include <chrono>
#include <limits>
#include <set>
#include <stdexcept>
#include <utility>

#include "analysis/compare/compare_variants.hpp"
#include "base/text/wording.hpp"
#include "chemistry/materials/published_figures.hpp"
#include "solve/blend_indices.hpp"
#include "solve/time_left.hpp"

namespace leastwise {
namespace {

ComparedScenario line(const NamedScenario& named, const SolveOptions& options) {
  ComparedScenario line;
  line.name = named.name;
  line.title = named.scenario.title();
  line.currency = named.scenario.currency();
  line.answer = formulate(named.scenario, options);
  if (const Blend* blend = line.answer.blend()) {
    line.salt_index = solve::index_of(named.scenario, blend->portions, salt_index_name);
    line.acidity = solve::index_of(named.scenario, blend->portions, lime_need_name);
    if (line.acidity.value) line.acidity.value = 0 - *line.acidity.value;
  }
  return line;
}

void set_differences(std::vector<ComparedScenario>& lines) {
  const Blend* first = lines.front().answer.blend();
  if (first == nullptr) return;
  for (auto& line : lines) {
    const Blend* blend = line.answer.blend();
    if (blend == nullptr || line.currency != lines.front().currency) continue;
    line.difference_per_t = blend->cost_per_t - first->cost_per_t;
    if (blend->cost_per_ha && first->cost_per_ha)
      line.difference_per_ha = *blend->cost_per_ha - *first->cost_per_ha;
  }
}

void make_names_differ(std::vector<ComparedScenario>& lines) {
  std::set<std::string> taken;
  for (auto& line : lines) {
    const std::string name = line.name;
    for (int count = 2; !taken.insert(line.name).second; ++count)
      line.name = name + " (" + std::to_string(count) + ")";
  }
}

/// Why a line that has a blend has no difference to the first.
std::vector<Note> notes_on(const std::vector<ComparedScenario>& lines) {
  std::vector<Note> notes;
  const auto& first = lines.front();
  std::string currencies;
  std::set<std::string> seen;
  for (const auto& line : lines)
    if (seen.insert(line.currency).second)
      currencies += (currencies.empty() ? "" : ", ") +
                    (line.currency.empty() ? std::string("none stated") : line.currency);
  if (seen.size() > 1)
    notes.push_back({NoteLevel::info,
                     NoteCode::currencies_differ,
                     {seen.begin(), seen.end()},
                     "the lines have different currencies (" + currencies +
                         "): nothing is converted, and no difference is given to "
                         "a line in another currency than the first"});
  const bool others = std::any_of(lines.begin() + 1, lines.end(), [](const ComparedScenario& line) {
    return line.answer.blend() != nullptr;
  });
  if (others && first.answer.blend() == nullptr)
    notes.push_back({NoteLevel::info,
                     NoteCode::first_line_without_blend,
                     {first.name},
                     "there are no differences: the first line, " + in_quotes(first.name) +
                         ", has no blend to compare " + "with"});
  return notes;
}

/// What lines are ranked by: the cost that was minimised; after it those without a blend.
double rank(const ComparedScenario& line) {
  const Blend* blend = line.answer.blend();
  if (blend == nullptr) return std::numeric_limits<double>::infinity();
  return blend->cost_per_ha.value_or(blend->cost_per_t);
}

}  // namespace

Comparison compare(std::span<const NamedScenario> scenarios, const SolveOptions& limits) {
  Comparison comparison;
  const solve::TimeLeft left(limits);
  for (const auto& named : scenarios) {
    comparison.lines.push_back(line(named, left.brief()));
    if (limits.progress)
      limits.progress({"lines", static_cast<long>(comparison.lines.size()),
                       static_cast<long>(scenarios.size())});
  }
  if (comparison.lines.empty()) return comparison;
  make_names_differ(comparison.lines);
  set_differences(comparison.lines);
  comparison.notes = notes_on(comparison.lines);
  return comparison;
}

Comparison compare_sources(const Scenario& scenario, std::string_view nutrient,
                           const SolveOptions& limits) {
  const auto sources = analysis::sources_of(scenario, nutrient);
  if (sources.empty())
    throw std::invalid_argument("no material that may enter holds at least 1 % of " +
                                in_quotes(nutrient));
  std::vector<NamedScenario> scenarios{{"free choice", scenario}};
  for (const auto& source : sources) {
    VariantDraft only;
    only.name = "only " + source;
    only.only_source_of = {{std::string(nutrient), source}};
    scenarios.push_back({only.name, varied(scenario, only)});
  }
  auto comparison = compare(scenarios, limits);
  comparison.nutrient = std::string(nutrient);
  std::stable_sort(
      comparison.lines.begin() + 1, comparison.lines.end(),
      [](const ComparedScenario& a, const ComparedScenario& b) { return rank(a) < rank(b); });
  return comparison;
}

}  // namespace leastwise
