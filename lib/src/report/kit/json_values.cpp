#include "report/kit/json_values.hpp"

#include "report/kit/numbers.hpp"

namespace leastwise::report {
namespace {

Json json_limits(const Limits& limits) {
  return {{"min", json_number(limits.min)}, {"max", json_number(limits.max)}};
}

}  // namespace

Json json_number(const std::optional<double>& value) {
  if (!value) return nullptr;
  const auto figure = rounded(*value);
  return figure ? Json(*figure) : Json(nullptr);
}

void add_known(Json& json, const char* name, const Known<double>& value) {
  if (value.is_computed()) json[name] = value ? json_number(*value) : Json(nullptr);
}

Json json_note(const Note& note) {
  Json json{{"level", to_string(note.level)},
            {"code", to_string(note.code)},
            {"subjects", note.subjects},
            {"text", note.text}};
  if (!note.source.empty()) json["source"] = note.source;
  return json;
}

void add_parts(Json& json, const RuleId& id) {
  const auto part = [](std::string_view text) { return text.empty() ? Json(nullptr) : Json(text); };
  json["kind"] = to_string(id.kind);
  json["subject"] = part(id.subject);
  json["object"] = part(id.object);
  json["side"] = id.side == RuleSide::none ? Json(nullptr) : Json(to_string(id.side));
}

Json json_rule(const std::string& name, const RuleId& id, const Json& rest) {
  Json json{{"rule", name}};
  json.update(rest);
  add_parts(json, id);
  return json;
}

Json json_supply(const Supply& s) {
  return {{"nutrient", s.nutrient},
          {"kg_per_ha", json_number(s.kg_per_ha)},
          {"effective_kg_per_ha", json_number(s.effective_kg_per_ha)},
          {"percent", json_number(s.percent)},
          {"required_kg_per_ha", json_limits(s.rate_kg_per_ha)},
          {"required_percent", json_limits(s.grade_percent)},
          {"declared_percent", json_number(s.declared_percent)}};
}

std::string json_text(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

}  // namespace leastwise::report
