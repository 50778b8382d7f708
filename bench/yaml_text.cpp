#include "yaml_text.hpp"

#include <iomanip>
#include <sstream>

namespace leastwise::bench {
namespace {

void write_limits(std::ostream& out, const Limits& limits) {
  if (limits.exact()) {
    out << "{exactly: " << limits.min << "}";
    return;
  }
  out << "{";
  if (limits.has_min()) out << "min: " << limits.min;
  if (limits.has_max()) out << (limits.has_min() ? ", " : "") << "max: " << limits.max;
  out << "}";
}

void write_contents(std::ostream& out, const char* key, const std::vector<Content>& contents) {
  out << "    " << key << ": {";
  const char* comma = "";
  for (const Content& content : contents) {
    out << comma << std::quoted(content.name) << ": " << content.percent;
    comma = ", ";
  }
  out << "}\n";
}

void write_material(std::ostream& out, const MaterialDraft& material) {
  out << "  " << std::quoted(material.name) << ":\n    form: " << to_string(*material.form) << "\n";
  if (material.family) out << "    family: " << std::quoted(*material.family) << "\n";
  if (material.formula) {
    out << "    formula: " << *material.formula << "\n";
    out << "    purity_percent: " << material.purity_percent.value_or(100) << "\n";
    if (material.contains_also_percent)
      write_contents(out, "contains_also_percent", *material.contains_also_percent);
  } else {
    write_contents(out, "contains_percent", *material.contains_percent);
  }
  if (material.ground.value_or(false)) out << "    ground: true\n";
  if (material.micronutrient_granule.value_or(false)) out << "    micronutrient_granule: true\n";
  out << "    price_per_t: " << *material.price_per_t << "\n";
  if (material.freight_per_t) out << "    freight_per_t: " << *material.freight_per_t << "\n";
  if (material.sgn) out << "    sgn: " << *material.sgn << "\n";
  if (material.min_if_used_percent)
    out << "    min_if_used_percent: " << *material.min_if_used_percent << "\n";
  if (material.share_percent) {
    out << "    share_percent: ";
    write_limits(out, *material.share_percent);
    out << "\n";
  }
}

void write_materials(std::ostream& out, const ScenarioDraft& draft) {
  out << "materials:\n";
  for (const MaterialDraft& material : draft.materials) write_material(out, material);
}

void write_targets(std::ostream& out, const char* key, const std::vector<TargetDraft>& targets) {
  if (targets.empty()) return;
  out << key << ":\n";
  for (const TargetDraft& target : targets) {
    out << "  " << std::quoted(target.nutrient) << ": ";
    write_limits(out, target.limits);
    out << "\n";
  }
}

void write_blend(std::ostream& out, const ScenarioDraft& draft) {
  out << "blend:\n";
  if (draft.total_kg_per_ha) {
    out << "  total_kg_per_ha: ";
    write_limits(out, *draft.total_kg_per_ha);
    out << "\n";
  }
  if (draft.bins) out << "  bins: " << *draft.bins << "\n";
  out << "  binder: {material: sodium-silicate, percent_of_powder: 37.5, price_per_t: 400}\n";
}

}  // namespace

std::string catalogue_text(const ScenarioDraft& draft) {
  std::ostringstream out;
  write_materials(out, draft);
  return out.str();
}

std::string scenario_text(const ScenarioDraft& draft) {
  std::ostringstream out;
  out << "leastwise: 1\ntitle: " << draft.title << "\ncurrency: USD\n";
  write_materials(out, draft);
  write_targets(out, "rates_kg_per_ha", draft.rates_kg_per_ha);
  write_targets(out, "grade_percent", draft.grade_percent);
  write_blend(out, draft);
  return out.str();
}

}  // namespace leastwise::bench
