#include <leastwise/report.hpp>

#include <nlohmann/json.hpp>
#include <set>
#include <stdexcept>

#include "base/embedded.hpp"

namespace leastwise {
namespace {

using Json = nlohmann::ordered_json;

constexpr std::string_view definitions = "#/$defs/";

Json all_reports() { return Json::parse(embedded::reports_schema_json()); }

/// The definition that `part` refers to; empty when it refers to none.
std::string referred(const Json& part) {
  if (!part.contains("$ref")) return {};
  return part["$ref"].get<std::string>().substr(definitions.size());
}

/// Adds to `names` all that `part` refers to, directly or not.
void collect(const Json& part, const Json& defs, std::set<std::string>& names) {
  if (!part.is_structured()) return;
  if (part.is_object()) {
    const std::string name = referred(part);
    if (!name.empty() && names.insert(name).second) collect(defs[name], defs, names);
  }
  for (const Json& inner : part) collect(inner, defs, names);
}

}  // namespace

std::vector<std::string> report_kinds() {
  const Json all = all_reports();
  std::vector<std::string> kinds;
  for (const Json& part : all["anyOf"]) kinds.push_back(referred(part));
  return kinds;
}

std::string report_schema(std::string_view kind) {
  const Json all = all_reports();
  const Json& defs = all["$defs"];
  const Json start{{"$ref", std::string(definitions).append(kind)}};
  bool known = false;
  for (const Json& part : all["anyOf"]) known = known || part == start;
  if (!known) throw std::out_of_range("there is no report '" + std::string(kind) + "'");
  std::set<std::string> names;
  collect(start, defs, names);
  Json schema{{"$schema", all["$schema"]},
              {"title", "leastwise report " + std::string(kind) + ", format version 1"}};
  schema.update(start);
  for (const auto& [name, part] : defs.items())
    if (names.contains(name)) schema["$defs"][name] = part;
  return schema.dump(2) + '\n';
}

std::string_view report_schemas() { return embedded::reports_schema_json(); }

}  // namespace leastwise
