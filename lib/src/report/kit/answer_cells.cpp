#include "report/kit/answer_cells.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <functional>
#include <utility>

#include "base/text/spreadsheet.hpp"
#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/sections.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {

std::string csv_line(const std::vector<std::string>& cells) {
  std::string line;
  for (std::size_t k = 0; k < cells.size(); ++k) {
    const std::string cell = text::spreadsheet_text(cells[k]);
    if (k > 0) line += ',';
    if (cell.find_first_of(",\"\r\n") == std::string::npos) {
      line += cell;
      continue;
    }
    line += '"';
    for (const char byte : cell) {
      if (byte == '"') line += '"';
      line += byte;
    }
    line += '"';
  }
  return line + '\n';
}

std::string csv_status(const Outcome& outcome) { return std::string(to_string(outcome.status)); }

std::string csv_nothing(std::size_t columns, const Outcome& outcome) {
  std::vector<std::string> cells(columns);
  cells.back() = csv_status(outcome);
  return csv_line(cells);
}

std::string csv_number(const std::optional<double>& value) {
  constexpr int digits = 12;
  return value ? plain_text(*value, digits) : std::string{};
}

std::string csv_recipe(std::span<const Portion> portions) {
  std::string text;
  for (const Portion& p : portions)
    text += (text.empty() ? "" : "; ") + p.material + " " + csv_number(p.kg_per_t);
  return text;
}

std::string recipe_words(std::span<const Portion> portions) {
  std::string text;
  for (const Portion& p : portions)
    text += (text.empty() ? "" : ", ") + p.material + " " + amount_text(p.kg_per_t);
  return text;
}

std::string told_apart(std::span<const Portion> recipe, std::span<const Portion> first) {
  const auto kg_in = [](std::span<const Portion> portions, const std::string& name) {
    const auto found = std::ranges::find(portions, name, &Portion::material);
    return found == portions.end() ? 0.0 : found->kg_per_t;
  };
  std::string words;
  const auto add = [&](const std::string& more) { words += (words.empty() ? "" : ", ") + more; };
  for (const Portion& portion : recipe)
    if (kg_in(first, portion.material) == 0)
      add(fmt::format("+ {} {}", portion.material, amount_text(portion.kg_per_t)));
  for (const Portion& portion : first)
    if (kg_in(recipe, portion.material) == 0) add("- " + portion.material);
  if (!words.empty()) return words;
  constexpr double shown_change = 0.05;  // kg per tonne
  const auto change = [&](const Portion& portion) {
    return std::fabs(portion.kg_per_t - kg_in(first, portion.material));
  };
  std::vector<Portion> by_change(recipe.begin(), recipe.end());
  std::ranges::stable_sort(by_change, std::greater{}, change);
  for (const Portion& portion : by_change)
    if (change(portion) > shown_change)
      add(fmt::format("{} {}", portion.material, amount_text(portion.kg_per_t)));
  return words;
}

double kg_of(const Blend& blend, const std::string& material) {
  const auto found = std::ranges::find(blend.portions, material, &Portion::material);
  return found == blend.portions.end() ? 0 : found->kg_per_ha.value_or(found->kg_per_t);
}

double cost_of(const Blend& blend) { return blend.cost_per_ha.value_or(blend.cost_per_t); }

std::string cost_heading(std::string_view currency, Basis basis, Units units) {
  return fmt::format("{}/{}", currency_words(currency), unit_of_basis(basis, units));
}

std::string price_heading(std::string_view currency, Units units) {
  return fmt::format("{}{}", currency_words(currency), unit_name(Measure::price_of_goods, units));
}

std::string csv_header(std::string_view metric_header, Units units) {
  if (units == Units::metric) return std::string(metric_header);
  constexpr std::array<std::pair<std::string_view, std::string_view>, 7> names{
      {{"kg_per_ha", "lb_per_acre"},
       {"kg_per_t", "lb_per_short_ton"},
       {"per_ha", "per_acre"},
       {"per_t", "per_short_ton"},
       {"tonnes", "short_tons"},
       {"hectares", "acres"},
       {"kg", "lb"}}};
  const auto ends_word = [&](std::size_t at) {
    return at >= metric_header.size() ||
           std::string_view(",_\n").find(metric_header[at]) != std::string_view::npos;
  };
  std::string header;
  for (std::size_t at = 0; at < metric_header.size();) {
    const bool starts = at == 0 || ends_word(at - 1);
    const auto found = std::ranges::find_if(names, [&](const auto& name) {
      const bool by_mass = metric_header.substr(at).starts_with("kg_caco3");  // per 100 of the same
      if (by_mass || (at >= 4 && metric_header.substr(at - 4, 4) == "100_")) return false;
      return starts && metric_header.substr(at).starts_with(name.first) &&
             ends_word(at + name.first.size());
    });
    header += found == names.end() ? metric_header.substr(at, 1) : found->second;
    at += found == names.end() ? 1 : found->first.size();
  }
  return header;
}

void write_outcome(Page& page, const Outcome& outcome) {
  if (outcome.conflict) {
    page.warning(outcome.conflict->rules.size() == 1
                     ? "No blend can obey every rule. This one alone cannot be met:"
                     : "No blend can obey every rule. These conflict:");
    for (const auto& rule : outcome.conflict->rules)
      page.item("  - ", fmt::format("{}{}", rule_in_words(rule.id, rule.limit, rule.unit),
                                    place_text(rule.place)));
    page.paragraph("The command blend says by how much, and which limits to change.");
  }
  if (outcome.status == Status::stopped) page.warning(with_full_stop(capitalised(outcome.detail)));
}

}  // namespace leastwise::report
