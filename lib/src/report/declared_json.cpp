#include "report/declared_json.hpp"

namespace leastwise::report {
namespace {

Json json_or_null(const std::string& text) { return text.empty() ? Json(nullptr) : Json(text); }

Json declared_content(const DeclaredContent& line) {
  return {{"nutrient", line.nutrient},
          {"words", line.words},
          {"found_percent", json_number(line.found_percent)},
          {"declared_percent", json_number(line.declared_percent)},
          {"at_least", line.at_least},
          {"minimum_percent", json_number(line.minimum_percent)},
          {"minimum_source", json_or_null(line.minimum_source)},
          {"below_minimum", line.below_minimum},
          {"tolerance_below", json_number(line.tolerance_below)},
          {"tolerance_above", json_number(line.tolerance_above)},
          {"tolerance_source", json_or_null(line.tolerance_source)}};
}

}  // namespace

Json json_declared(const DeclaredAnalysis& declared) {
  Json json = {{"rules", json_or_null(declared.rules)}};
  json["contents"] = json_array(declared.contents, declared_content);
  json["derived_from"] = declared.derived_from;
  json["notes"] = json_array(declared.notes, json_note);
  return json;
}

}  // namespace leastwise::report
