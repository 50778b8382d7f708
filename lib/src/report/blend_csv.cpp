#include <fmt/format.h>

#include "report/answers.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/own_units.hpp"

namespace leastwise::report {
namespace {

using report::csv_header;
using report::csv_line;
using report::csv_number;
using report::whole_product;

constexpr std::string_view portions_header =
    "status,material,form,kg_per_ha,kg_per_t,cost_per_ha,cost_per_t\n";

void append_portion(std::string& csv, Status status, const Portion& portion) {
  csv += csv_line({std::string(to_string(status)), portion.material,
                   std::string(to_string(portion.form)), csv_number(portion.kg_per_ha),
                   csv_number(portion.kg_per_t), csv_number(portion.cost_per_ha),
                   csv_number(portion.cost_per_t)});
}

std::string blend_csv(const Blend& blend) {
  std::string csv = csv_header(portions_header, blend.units);
  for (const Portion& portion : blend.portions) append_portion(csv, Status::optimal, portion);
  if (blend.binder.kg_per_t > 0) {
    std::optional<double> cost_per_ha;
    if (blend.total_kg_per_ha)
      cost_per_ha = blend.binder.cost_per_t * *blend.total_kg_per_ha / whole_product(blend.units);
    csv += csv_line({std::string(to_string(Status::optimal)), blend.binder.material, "binder",
                     csv_number(blend.binder.kg_per_ha), csv_number(blend.binder.kg_per_t),
                     csv_number(cost_per_ha), csv_number(blend.binder.cost_per_t)});
  }
  return csv;
}

std::string conflict_csv(const Conflict& conflict) {
  std::string csv = "status,rule,limit,shortfall,unit,source,detail\n";
  for (const ConflictingRule& rule : conflict.rules) {
    const Place& place = rule.place;
    csv += csv_line(
        {std::string(to_string(Status::infeasible)), rule.rule, csv_number(rule.limit),
         csv_number(rule.shortfall ? std::optional(*rule.shortfall) : std::nullopt),
         std::string(to_string(rule.unit)),
         place ? fmt::format("{}:{}:{}", place.source, place.line, place.column) : std::string{},
         rule.detail});
  }
  return csv;
}

std::string stopped_csv(const Stopped& stopped) {
  std::string csv = csv_header(portions_header, stopped.units);
  for (const Portion& portion : stopped.best_portions) {
    append_portion(csv, Status::stopped, portion);
  }
  return csv;
}

}  // namespace

std::string csv_of(const Formulation& answer) {
  if (const Blend* blend = answer.blend()) return blend_csv(*blend);
  if (const Conflict* conflict = answer.conflict()) return conflict_csv(*conflict);
  return stopped_csv(*answer.stopped());
}

std::string csv_of(std::span<const Material> materials) {
  std::string csv = "material,family,form,contains_percent,sgn,bulk_density_kg_per_m3,source\n";
  for (const Material& material : materials) {
    std::string contents;
    for (const Content& content : material.contains_percent) {
      contents += fmt::format("{}{} {}", contents.empty() ? "" : "; ", content.name,
                              report::plain_text(content.percent));
    }
    csv += csv_line({material.name, material.family, std::string(to_string(material.form)),
                     contents, csv_number(material.sgn),
                     csv_number(material.bulk_density_kg_per_m3), material.source});
  }
  return csv;
}

}  // namespace leastwise::report
