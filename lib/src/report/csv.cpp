#include <leastwise/report.hpp>

#include <fmt/format.h>

#include <array>
#include <initializer_list>

#include "report/numbers.hpp"

namespace leastwise {
namespace {

/// A cell as RFC 4180 wants it: quoted where it holds a comma, a quote or a line break.
std::string quoted(std::string_view cell) {
  if (cell.find_first_of(",\"\r\n") == std::string_view::npos) return std::string(cell);
  std::string text = "\"";
  for (const char byte : cell) {
    if (byte == '"') text += '"';
    text += byte;
  }
  return text + '"';
}

std::string number(std::optional<double> value) {
  constexpr int digits = 12;
  return value ? report::plain_text(*value, digits) : std::string{};
}

void append_line(std::string& csv, std::initializer_list<std::string> cells) {
  bool first = true;
  for (const std::string& cell : cells) {
    if (!first) csv += ',';
    first = false;
    csv += quoted(cell);
  }
  csv += '\n';
}

constexpr std::string_view portions_header =
    "status,material,form,kg_per_ha,kg_per_t,cost_per_ha,cost_per_t\n";

void append_portion(std::string& csv, Status status, const Portion& portion) {
  append_line(
      csv, {std::string(to_string(status)), portion.material, std::string(to_string(portion.form)),
            number(portion.kg_per_ha), number(portion.kg_per_t), number(portion.cost_per_ha),
            number(portion.cost_per_t)});
}

std::string blend_csv(const Blend& blend) {
  std::string csv(portions_header);
  for (const Portion& portion : blend.portions) append_portion(csv, Status::optimal, portion);
  if (blend.binder.kg_per_t > 0) {
    std::optional<double> cost_per_ha;
    if (blend.total_kg_per_ha)
      cost_per_ha = blend.binder.cost_per_t * *blend.total_kg_per_ha / 1000;
    append_line(csv, {std::string(to_string(Status::optimal)), blend.binder.material, "binder",
                      number(blend.binder.kg_per_ha), number(blend.binder.kg_per_t),
                      number(cost_per_ha), number(blend.binder.cost_per_t)});
  }
  return csv;
}

std::string conflict_csv(const Conflict& conflict) {
  std::string csv = "status,rule,limit,shortfall,unit,source,detail\n";
  for (const ConflictingRule& rule : conflict.rules) {
    const Place& place = rule.place;
    append_line(csv, {std::string(to_string(Status::infeasible)), rule.rule, number(rule.limit),
                      number(rule.shortfall), rule.unit,
                      place ? fmt::format("{}:{}:{}", place.source, place.line, place.column)
                            : std::string{},
                      rule.detail});
  }
  return csv;
}

std::string stopped_csv(const Stopped& stopped) {
  std::string csv(portions_header);
  for (const Portion& portion : stopped.best_portions) {
    append_portion(csv, Status::stopped, portion);
  }
  return csv;
}

}  // namespace

std::string to_csv(const Formulation& answer) {
  if (const Blend* blend = answer.blend()) return blend_csv(*blend);
  if (const Conflict* conflict = answer.conflict()) return conflict_csv(*conflict);
  return stopped_csv(*answer.stopped());
}

std::string materials_to_csv(std::span<const Material> materials) {
  std::string csv = "material,family,form,contains_percent,sgn,bulk_density_kg_per_m3,source\n";
  for (const Material& material : materials) {
    std::string contents;
    for (const Content& content : material.contains_percent) {
      contents += fmt::format("{}{} {}", contents.empty() ? "" : "; ", content.name,
                              report::plain_text(content.percent));
    }
    append_line(csv,
                {material.name, material.family, std::string(to_string(material.form)), contents,
                 number(material.sgn), number(material.bulk_density_kg_per_m3), material.source});
  }
  return csv;
}

}  // namespace leastwise
