#include <leastwise/report.hpp>

#include <array>
#include <cmath>
#include <iterator>
#include <limits>
#include <string>
#include <vector>

#include "report/kit/answer_cells.hpp"
#include "report/kit/own_units.hpp"

namespace leastwise {
namespace {

using namespace report;

constexpr double infinite = std::numeric_limits<double>::infinity();

/// Empty when not computed; infinite, on the side of `none`, for what there is not.
std::string tidy_number(const Known<double>& value, double none) {
  if (!value.is_computed()) return {};
  if (value) return csv_number(*value);
  return none < 0 ? "-inf" : "inf";
}

/// Empty where there is no such limit.
std::string tidy_limit(double limit) { return std::abs(limit) < infinite ? csv_number(limit) : ""; }

std::vector<std::string> tidy_rule(const std::string& name, const RuleId& id) {
  return {name, std::string(to_string(id.kind)), id.subject, id.object,
          id.side == RuleSide::none ? std::string() : std::string(to_string(id.side))};
}

using Cells = std::vector<std::string>;

/// `cells` after `rule`.
Cells joined(Cells rule, Cells cells) {
  rule.insert(rule.end(), std::make_move_iterator(cells.begin()),
              std::make_move_iterator(cells.end()));
  return rule;
}

struct TidyTable {
  Cells header{};
  std::vector<Cells> lines{};
};

Cells rule_header() { return {"rule", "kind", "subject", "object", "side"}; }

TidyTable portions_of(const Blend* blend) {
  TidyTable table{{"material", "form", "kg_per_ha", "kg_per_t", "cost_per_ha", "cost_per_t"}, {}};
  if (blend == nullptr) return table;
  for (const Portion& p : blend->portions)
    table.lines.push_back({p.material, std::string(to_string(p.form)), csv_number(p.kg_per_ha),
                           csv_number(p.kg_per_t), csv_number(p.cost_per_ha),
                           csv_number(p.cost_per_t)});
  return table;
}

/// A line for each nutrient in each unit that it is limited or stated in.
TidyTable supply_of(const Blend* blend) {
  TidyTable table{{"nutrient", "unit", "value", "effective", "min", "max"}, {}};
  if (blend == nullptr) return table;
  for (const Supply& s : blend->supply) {
    if (s.kg_per_ha)
      table.lines.push_back({s.nutrient, std::string(unit_name(Measure::rate, blend->units)),
                             csv_number(s.kg_per_ha), csv_number(s.effective_kg_per_ha),
                             tidy_limit(s.rate_kg_per_ha.min), tidy_limit(s.rate_kg_per_ha.max)});
    table.lines.push_back({s.nutrient, "%", csv_number(s.percent), "",
                           tidy_limit(s.grade_percent.min), tidy_limit(s.grade_percent.max)});
  }
  return table;
}

TidyTable binding_of(const Blend* blend) {
  TidyTable table{
      joined(rule_header(), {"limit", "limit_unit", "shadow_price", "unit", "holds_from",
                             "holds_to", "price_below", "price_above", "known_sides"}),
      {}};
  if (blend == nullptr) return table;
  for (const BindingRule& b : blend->binding)
    table.lines.push_back(
        joined(tidy_rule(b.rule, b.id),
               {csv_number(b.limit), std::string(to_string(b.price_unit.per)),
                csv_number(b.shadow_price), b.unit, tidy_number(b.holds_from, -infinite),
                tidy_number(b.holds_to, infinite), tidy_number(b.price_below, -infinite),
                tidy_number(b.price_above, infinite), std::string(to_string(known_sides(b)))}));
  return table;
}

TidyTable unused_of(const Blend* blend) {
  TidyTable table{{"material", "price_per_t", "enters_below_price_per_t", "why"}, {}};
  if (blend == nullptr) return table;
  for (const UnusedMaterial& u : blend->unused)
    table.lines.push_back({u.material, csv_number(u.price_per_t),
                           tidy_number(u.enters_below_price_per_t, -infinite), u.why});
  return table;
}

TidyTable conflict_of(const Conflict* conflict) {
  TidyTable table{joined(rule_header(), {"limit", "unit", "shortfall"}), {}};
  if (conflict == nullptr) return table;
  for (const ConflictingRule& r : conflict->rules)
    table.lines.push_back(joined(
        tidy_rule(r.rule, r.id),
        {csv_number(r.limit), std::string(to_string(r.unit)), tidy_number(r.shortfall, infinite)}));
  return table;
}

TidyTable notes_of(const Formulation& answer) {
  TidyTable table{{"level", "code", "subjects", "text"}, {}};
  const auto add = [&](const std::vector<Note>& notes) {
    for (const Note& note : notes) {
      std::string subjects;
      for (const auto& subject : note.subjects)
        subjects += (subjects.empty() ? "" : "; ") + subject;
      table.lines.push_back({std::string(to_string(note.level)), std::string(to_string(note.code)),
                             subjects, note.text});
    }
  };
  if (const auto* blend = answer.blend()) add(blend->notes);
  if (const auto* conflict = answer.conflict()) add(conflict->notes);
  if (const auto* stopped = answer.stopped()) add(stopped->notes);
  return table;
}

TidyTable tidy_table_of(const Formulation& answer, BlendTable table) {
  switch (table) {
    case BlendTable::portions:
      return portions_of(answer.blend());
    case BlendTable::supply:
      return supply_of(answer.blend());
    case BlendTable::binding:
      return binding_of(answer.blend());
    case BlendTable::unused:
      return unused_of(answer.blend());
    case BlendTable::conflict:
      return conflict_of(answer.conflict());
    case BlendTable::notes:
      break;
  }
  return notes_of(answer);
}

/// `table` with the names of its columns in `units`.
TidyTable in_units(TidyTable table, Units units) {
  for (std::string& name : table.header) name = csv_header(name, units);
  return table;
}

constexpr std::array<std::string_view, 6> table_names{"portions", "supply",   "binding",
                                                      "unused",   "conflict", "notes"};

}  // namespace

std::span<const std::string_view> blend_tables() { return table_names; }

std::optional<BlendTable> blend_table(std::string_view name) {
  for (std::size_t k = 0; k < table_names.size(); ++k)
    if (table_names[k] == name) return static_cast<BlendTable>(k);
  return std::nullopt;
}

std::string to_csv(const Formulation& metric, BlendTable table) {
  const Formulation answer = in_own_units(metric);
  const TidyTable tidy = in_units(tidy_table_of(answer, table), units_of(answer));
  std::string csv = csv_line(joined({"status"}, tidy.header));
  for (const Cells& line : tidy.lines)
    csv += csv_line(joined({std::string(to_string(answer.status()))}, line));
  return csv;
}

std::string to_csv(const Comparison& metric, BlendTable table) {
  const Comparison comparison = in_own_units(metric);
  std::string csv =
      csv_line(joined({"scenario", "status", "currency"},
                      in_units(tidy_table_of(Stopped{}, table), units_of(comparison)).header));
  for (const ComparedScenario& compared : comparison.lines)
    for (const Cells& line : tidy_table_of(compared.answer, table).lines)
      csv += csv_line(joined(
          {compared.name, std::string(to_string(compared.answer.status())), compared.currency},
          line));
  return csv;
}

}  // namespace leastwise
