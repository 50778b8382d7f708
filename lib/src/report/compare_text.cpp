#include <leastwise/compare.hpp>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <string>
#include <vector>

#include "report/answers.hpp"
#include "report/compare_matrix.hpp"
#include "report/compare_words.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/own_units.hpp"
#include "report/kit/sections.hpp"
#include "report/pictures/pictures.hpp"

namespace leastwise::report {
namespace {

/// True when each line with a blend costs per hectare.
bool all_per_hectare(const Comparison& comparison) {
  return std::ranges::all_of(comparison.lines, [](const ComparedScenario& line) {
    return line.answer.blend() == nullptr || line.answer.blend()->cost_per_ha;
  });
}

std::string money_difference(const std::optional<double>& sum) {
  if (!sum) return {};
  const std::string text = money_text(*sum);
  return *sum > 0 && text != "0.00" ? "+" + text : text;
}

void write_compared(Page& page, const Comparison& comparison) {
  const bool per_hectare = all_per_hectare(comparison);
  const bool apart = currencies_differ(comparison);
  const std::string currency = apart ? "" : comparison.lines.front().currency;
  const Units units = units_of(comparison);
  Table table;
  table.add_numbers("line");
  table.add_words("");
  table.add_words("currency");
  table.add_numbers(
      cost_heading(currency, per_hectare ? Basis::per_hectare : Basis::per_tonne, units));
  table.add_numbers("difference");
  if (per_hectare) table.add_numbers(cost_heading(currency, Basis::per_tonne, units));
  table.add_numbers(std::string(unit_name(Measure::rate, units)));
  table.add_words("grade");
  for (const ComparedScenario& line : comparison.lines) {
    const Blend* blend = line.answer.blend();
    std::vector<std::string> cells{std::to_string(&line - comparison.lines.data() + 1), line.name,
                                   apart ? line.currency : ""};
    if (blend == nullptr) {
      cells.resize(per_hectare ? 7 : 6);  // in place of the grade, which such a line has not
      cells.emplace_back(to_string(line.answer.status()));
    } else {
      cells.push_back(money_text(per_hectare ? *blend->cost_per_ha : blend->cost_per_t));
      cells.push_back(
          money_difference(per_hectare ? line.difference_per_ha : line.difference_per_t));
      if (per_hectare) cells.push_back(money_text(blend->cost_per_t));
      cells.push_back(blend->total_kg_per_ha ? amount_text(*blend->total_kg_per_ha) : "");
      cells.push_back(grade_words(*blend));
    }
    table.add_row(std::move(cells));
  }
  page.illustrated(comparison_picture(comparison), table);
  for (const Note& note : comparison.notes) page.item("  ", capitalised(with_full_stop(note.text)));
}

/// Why lines have no blend.
void write_without_blend(Page& page, const Comparison& comparison) {
  for (const ComparedScenario& line : comparison.lines) {
    std::string why;
    if (const Conflict* conflict = line.answer.conflict()) {
      const auto rules = names_of(conflict_rules(*conflict));
      why = rules.size() == 1
                ? fmt::format("no blend obeys every rule: {} alone cannot be met.", rules[0])
                : fmt::format("no blend obeys every rule; these conflict: {}.",
                              fmt::join(rules, ", "));
    } else if (const Stopped* stopped = line.answer.stopped()) {
      why = with_full_stop(stopped->detail);
    }
    if (!why.empty()) page.item("  - ", line.name + ": " + why);
  }
}

/// Which lines have a note, where there is more than one line.
std::string lines_with(const Note& note, const Comparison& comparison) {
  std::vector<std::string> names;
  std::size_t blends = 0;
  for (const ComparedScenario& line : comparison.lines) {
    const Blend* blend = line.answer.blend();
    if (blend == nullptr) continue;
    ++blends;
    if (std::ranges::find(blend->notes, note) != blend->notes.end()) names.push_back(line.name);
  }
  if (comparison.lines.size() < 2) return {};
  if (names.size() == comparison.lines.size()) return " Lines: all";
  if (names.size() == blends && blends > 1) return " Lines: all with a blend";
  return fmt::format(" {}: {}", names.size() == 1 ? "Line" : "Lines", fmt::join(names, "; "));
}

/// A note that also says which lines have it.
Note with_lines(Note note, const std::string& lines) {
  note.text = with_full_stop(note.text) + lines;
  if (!note.reason.empty()) note.reason = with_full_stop(note.reason) + lines;
  return note;
}

/// The notes of all lines, each once, with the names of the lines that have it.
void write_cautions(Page& page, const Comparison& comparison) {
  std::vector<Note> all;
  std::vector<Portion> portions;
  std::vector<Supply> supply;
  for (const ComparedScenario& line : comparison.lines) {
    const Blend* blend = line.answer.blend();
    if (blend == nullptr) continue;
    for (const Note& note : blend->notes)
      if (std::ranges::find(all, note) == all.end()) all.push_back(note);
    portions.insert(portions.end(), blend->portions.begin(), blend->portions.end());
    supply.insert(supply.end(), blend->supply.begin(), blend->supply.end());
  }
  std::vector<Note> named;
  for (const Note& note : all) named.push_back(with_lines(note, lines_with(note, comparison)));
  write_notes(page, named);
  if (!portions.empty() || page.in_html()) write_safety(page, portions, supply, all);
}

}  // namespace

Page page_of(const Comparison& comparison, Medium medium) {
  Page page(medium);
  page.title(comparison.nutrient.empty() ? std::string("Comparison")
                                         : "Sources of " + comparison.nutrient);
  if (comparison.lines.empty()) return without_goods(std::move(page));
  if (!comparison.nutrient.empty())
    page.paragraph(fmt::format(
        "Each material with at least 1 % of {} in turn as its only source, everything else free. "
        "What other materials bring in traces still counts.",
        comparison.nutrient));
  if (!comparison.nutrient.empty()) page.blank();
  write_compared(page, comparison);
  write_without_blend(page, comparison);
  write_recipes_side_by_side(page, comparison);
  write_cautions(page, comparison);
  return page;
}

std::string svg_of(const Comparison& comparison) {
  const Picture picture = comparison_picture(comparison);
  return svg_document({&picture, 1});
}

}  // namespace leastwise::report
