#include "report/landscape_cells.hpp"

#include <fmt/format.h>

#include "report/layout.hpp"
#include "report/numbers.hpp"
#include "report/rule_words.hpp"
#include "report/sections.hpp"

namespace leastwise::report {

Json json_portions(std::span<const Portion> portions) {
  Json list = Json::array();
  for (const Portion& p : portions)
    list.push_back({{"material", p.material},
                    {"form", to_string(p.form)},
                    {"kg_per_ha", json_number(p.kg_per_ha)},
                    {"kg_per_t", json_number(p.kg_per_t)},
                    {"cost_per_t", json_number(p.cost_per_t)}});
  return list;
}

Json json_blend(const Blend& blend) {
  Json supply = Json::array();
  for (const Supply& s : blend.supply)
    supply.push_back({{"nutrient", s.nutrient},
                      {"kg_per_ha", json_number(s.kg_per_ha)},
                      {"effective_kg_per_ha", json_number(s.effective_kg_per_ha)},
                      {"percent", json_number(s.percent)}});
  return {{"cost_per_ha", json_number(blend.cost_per_ha)},
          {"cost_per_t", json_number(blend.cost_per_t)},
          {"total_kg_per_ha", json_number(blend.total_kg_per_ha)},
          {"portions", json_portions(blend.portions)},
          {"binder_kg_per_t", json_number(blend.binder.kg_per_t)},
          {"supply", supply}};
}

Json json_head(std::string_view report, const Ending& ending, const std::string& title,
               const std::string& currency, Basis basis) {
  return {{"leastwise", 1}, {"report", report},     {"status", to_string(ending.status)},
          {"title", title}, {"currency", currency}, {"basis", unit_of_basis(basis)}};
}

void add_ending(Json& json, const Ending& ending) {
  if (ending.conflict) {
    Json rules = Json::array();
    for (const auto& rule : ending.conflict->rules)
      rules.push_back({{"rule", rule.rule},
                       {"limit", json_number(rule.limit)},
                       {"shortfall", json_number(rule.shortfall)},
                       {"unit", rule.unit}});
    json["conflict"] = rules;
  }
  if (ending.status == Status::stopped) {
    json["cause"] = to_string(ending.cause);
    json["detail"] = ending.detail;
  }
}

std::string json_text(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

std::string csv_line(const std::vector<std::string>& cells) {
  std::string line;
  for (const std::string& cell : cells) {
    if (&cell != &cells.front()) line += ',';
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

std::string csv_status(const Ending& ending) { return std::string(to_string(ending.status)); }

std::string csv_nothing(std::size_t columns, const Ending& ending) {
  std::vector<std::string> cells(columns);
  cells.back() = csv_status(ending);
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

double kg_of(const Blend& blend, const std::string& material) {
  const auto found = std::ranges::find(blend.portions, material, &Portion::material);
  return found == blend.portions.end() ? 0 : found->kg_per_ha.value_or(found->kg_per_t);
}

double cost_of(const Blend& blend) { return blend.cost_per_ha.value_or(blend.cost_per_t); }

std::string cost_heading(std::string_view currency, Basis basis) {
  return fmt::format("{}/{}", currency_words(currency), unit_of_basis(basis));
}

std::string price_heading(std::string_view currency) {
  return fmt::format("{}/t", currency_words(currency));
}

void write_ending(Page& page, const Ending& ending) {
  if (ending.conflict) {
    page.warning(ending.conflict->rules.size() == 1
                     ? "No blend can obey every rule. This one alone cannot be met:"
                     : "No blend can obey every rule. These conflict:");
    for (const auto& rule : ending.conflict->rules)
      page.item("  - ", fmt::format("{}{}", rule_in_words(rule.rule, rule.limit, rule.unit),
                                    place_text(rule.place)));
    page.paragraph("The command blend says by how much, and which limits to change.");
  }
  if (ending.status == Status::stopped) page.warning(with_full_stop(capitalised(ending.detail)));
}

}  // namespace leastwise::report
