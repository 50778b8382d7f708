#include <leastwise/compare.hpp>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/answers.hpp"
#include "report/compare_words.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/answer_json.hpp"
#include "report/kit/own_units.hpp"

namespace leastwise::report {
namespace {

Json index_json(const BlendIndex& index, std::string_view series) {
  return {{"value", json_number(index.value)},
          {"known_percent", json_number(index.known_percent)},
          {"uncovered_percent", json_number(uncovered_percent(index))},
          {"at_least", !index.unknown.empty()},
          {"unknown", index.unknown},
          {"series", series}};
}

Json cautions(const Blend& blend) {
  Json list = Json::array();
  for (const Note& note : blend.notes)
    if (note.level != NoteLevel::info) list.push_back(note.text);
  return list;
}

Json rule_json(const RuleId& id) { return json_rule(to_string(id), id, Json::object()); }

Json line_json(const ComparedScenario& line) {
  Json json{{"name", line.name},
            {"title", line.title},
            {"status", to_string(line.answer.status())},
            {"currency", line.currency}};
  if (const Blend* blend = line.answer.blend()) {
    json["difference_per_ha"] = json_number(line.difference_per_ha);
    json["difference_per_t"] = json_number(line.difference_per_t);
    json["grade"] = grade_words(*blend);
    json["binding"] = names_of(binding_rules(*blend));
    json["binding_rules"] = json_array(binding_rules(*blend), rule_json);
    json["salt_index"] = index_json(line.salt_index, salt_index_series);
    json["acidity"] = index_json(line.acidity, acidity_series);
    json["acidity"]["lime_kg_per_ha"] = json_number(lime_kg_per_ha(line.acidity, *blend));
    json["cautions"] = cautions(*blend);
    json["blend"] = json_blend(*blend);
  } else if (const Conflict* conflict = line.answer.conflict()) {
    json["conflict"] = names_of(conflict_rules(*conflict));
    json["conflict_rules"] = json_array(conflict_rules(*conflict), rule_json);
  } else {
    json["cause"] = to_string(line.answer.stopped()->cause);
    json["detail"] = line.answer.stopped()->detail;
  }
  return json;
}

}  // namespace

std::string json_of(const Comparison& comparison) {
  Json json{{"leastwise", 1}, {"report", "comparison"}};
  json["nutrient"] = comparison.nutrient.empty() ? Json(nullptr) : Json(comparison.nutrient);
  Json lines = Json::array();
  for (const ComparedScenario& line : comparison.lines) lines.push_back(line_json(line));
  json["scenarios"] = lines;
  json["notes"] = json_array(comparison.notes, json_note);
  return json_text(json);
}

std::string csv_of(const Comparison& comparison) {
  std::string csv = csv_header(
      "scenario,status,cost_per_ha,cost_per_t,difference_per_ha,difference_per_t,total_kg_per_ha,"
      "grade,recipe_kg_per_t,binding,salt_index,acidity_kg_caco3_per_100_kg,currency,"
      "conflict,salt_index_uncovered_percent,acidity_uncovered_percent\n",
      units_of(comparison));
  for (const ComparedScenario& line : comparison.lines) {
    std::vector<std::string> cells{line.name, std::string(to_string(line.answer.status()))};
    if (const Blend* blend = line.answer.blend()) {
      for (const auto& number :
           {blend->cost_per_ha, std::optional<double>(blend->cost_per_t), line.difference_per_ha,
            line.difference_per_t, blend->total_kg_per_ha})
        cells.push_back(csv_number(number));
      cells.push_back(grade_words(*blend));
      cells.push_back(csv_recipe(blend->portions));
      cells.push_back(fmt::format("{}", fmt::join(names_of(binding_rules(*blend)), "; ")));
      cells.push_back(csv_number(line.salt_index.value));
      cells.push_back(csv_number(line.acidity.value));
    }
    cells.resize(12);
    cells.push_back(line.currency);
    const Conflict* conflict = line.answer.conflict();
    cells.push_back(conflict == nullptr
                        ? std::string{}
                        : fmt::format("{}", fmt::join(names_of(conflict_rules(*conflict)), "; ")));
    for (const BlendIndex* index : {&line.salt_index, &line.acidity})
      cells.push_back(line.answer.blend() == nullptr ? std::string{}
                                                     : csv_number(uncovered_percent(*index)));
    csv += csv_line(cells);
  }
  return csv;
}

}  // namespace leastwise::report
