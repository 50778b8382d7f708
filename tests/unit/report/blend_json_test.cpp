#include <doctest/doctest.h>
#include <leastwise/report.hpp>

#include <cmath>
#include <limits>
#include <nlohmann/json.hpp>
#include <vector>

#include "sample_answers.hpp"

using namespace leastwise;
using Json = nlohmann::ordered_json;

namespace {

std::vector<std::string> keys_of(const Json& object) {
  std::vector<std::string> keys;
  for (const auto& [key, value] : object.items()) keys.push_back(key);
  return keys;
}

/// The number in `json` is `value` to 12 significant digits, or null where there is none.
void check_number(const Json& json, std::optional<double> value) {
  if (!value || !std::isfinite(*value)) {
    CHECK(json.is_null());
    return;
  }
  REQUIRE(json.is_number());
  CHECK(json.get<double>() == doctest::Approx(*value).epsilon(1e-11));
}

void check_portions(const Json& json, const std::vector<Portion>& portions) {
  REQUIRE(json.size() == portions.size());
  for (std::size_t i = 0; i < portions.size(); ++i) {
    CHECK(json[i]["material"] == portions[i].material);
    CHECK(json[i]["form"] == to_string(portions[i].form));
    check_number(json[i]["kg_per_ha"], portions[i].kg_per_ha);
    check_number(json[i]["kg_per_t"], portions[i].kg_per_t);
    check_number(json[i]["cost_per_t"], portions[i].cost_per_t);
    check_number(json[i]["cost_per_ha"], portions[i].cost_per_ha);
  }
}

void check_limits(const Json& json, const Limits& limits) {
  check_number(json["min"], limits.min);
  check_number(json["max"], limits.max);
}

void check_supply(const Json& json, const std::vector<Supply>& supply) {
  REQUIRE(json.size() == supply.size());
  for (std::size_t i = 0; i < supply.size(); ++i) {
    CHECK(json[i]["nutrient"] == supply[i].nutrient);
    check_number(json[i]["kg_per_ha"], supply[i].kg_per_ha);
    check_number(json[i]["effective_kg_per_ha"], supply[i].effective_kg_per_ha);
    check_number(json[i]["percent"], supply[i].percent);
    check_limits(json[i]["required_kg_per_ha"], supply[i].rate_kg_per_ha);
    check_limits(json[i]["required_percent"], supply[i].grade_percent);
    check_number(json[i]["declared_percent"], supply[i].declared_percent);
  }
}

/// Null stands for what a rule of its kind does not have.
void check_rule(const Json& json, const std::string& name, const RuleId& id) {
  const auto text = [](const Json& value) {
    return value.is_null() ? std::string() : value.get<std::string>();
  };
  CHECK(json["rule"] == name);
  CHECK(json["kind"] == to_string(id.kind));
  CHECK(text(json["subject"]) == id.subject);
  CHECK(text(json["object"]) == id.object);
  CHECK(json["side"].is_null() == (id.side == RuleSide::none));
  if (id.side != RuleSide::none) CHECK(json["side"] == to_string(id.side));
}

/// Absent when not computed, null when there is none.
void check_known(const Json& json, const char* name, const Known<double>& value) {
  CHECK(json.contains(name) == value.is_computed());
  if (!value.is_computed()) return;
  check_number(json[name], value ? std::optional(*value) : std::nullopt);
}

void check_binding(const Json& json, const std::vector<BindingRule>& binding) {
  REQUIRE(json.size() == binding.size());
  for (std::size_t i = 0; i < binding.size(); ++i) {
    check_rule(json[i], binding[i].rule, binding[i].id);
    check_number(json[i]["limit"], binding[i].limit);
    check_number(json[i]["declared"], binding[i].declared);
    check_number(json[i]["shadow_price"], binding[i].shadow_price);
    CHECK(json[i]["unit"] == binding[i].unit);
    check_known(json[i], "holds_from", binding[i].holds_from);
    check_known(json[i], "holds_to", binding[i].holds_to);
    check_known(json[i], "price_below", binding[i].price_below);
    check_known(json[i], "price_above", binding[i].price_above);
    CHECK(json[i]["known_sides"] == to_string(known_sides(binding[i])));
    CHECK(json[i].contains("unique") == binding[i].unique.has_value());
    if (binding[i].unique) CHECK(json[i]["unique"] == *binding[i].unique);
  }
}

void check_unused(const Json& json, const std::vector<UnusedMaterial>& unused) {
  REQUIRE(json.size() == unused.size());
  for (std::size_t i = 0; i < unused.size(); ++i) {
    CHECK(json[i]["material"] == unused[i].material);
    check_number(json[i]["price_per_t"], unused[i].price_per_t);
    check_known(json[i], "enters_below_price_per_t", unused[i].enters_below_price_per_t);
    CHECK(json[i]["why"] == unused[i].why);
  }
}

void check_notes(const Json& json, const std::vector<Note>& notes) {
  REQUIRE(json.size() == notes.size());
  for (std::size_t i = 0; i < notes.size(); ++i) {
    CHECK(json[i]["level"] == to_string(notes[i].level));
    CHECK(json[i]["text"] == notes[i].text);
  }
}

/// Everything a blend holds comes back from its JSON.
void check_blend(const Json& json, const Blend& blend) {
  CHECK(json["leastwise"] == 1);
  CHECK(json["status"] == "optimal");
  CHECK(json["title"] == blend.title);
  CHECK(json["currency"] == blend.currency);
  check_number(json["cost_per_ha"], blend.cost_per_ha);
  check_number(json["cost_per_t"], blend.cost_per_t);
  check_number(json["total_kg_per_ha"], blend.total_kg_per_ha);
  check_portions(json["portions"], blend.portions);
  check_supply(json["supply"], blend.supply);
  check_binding(json["binding"], blend.binding);
  check_unused(json["unused"], blend.unused);
  check_notes(json["notes"], blend.notes);
}

}  // namespace

TEST_SUITE_BEGIN("json");

TEST_CASE("the fixed names of a blend's report come first and in their fixed order") {
  const Json json = Json::parse(to_json(samples::per_hectare_blend()));
  const std::vector<std::string> fixed{
      "leastwise",       "report",   "status", "title",   "currency", "cost_per_ha", "cost_per_t",
      "total_kg_per_ha", "portions", "supply", "binding", "unused",   "exclusions",  "notes"};
  auto keys = keys_of(json);
  REQUIRE(keys.size() >= fixed.size());
  keys.resize(fixed.size());
  CHECK(keys == fixed);
  CHECK(keys_of(json["portions"][0]) == std::vector<std::string>{"material", "form", "kg_per_ha",
                                                                 "kg_per_t", "cost_per_t",
                                                                 "cost_per_ha"});
  auto binding = keys_of(json["binding"][0]);
  binding.resize(7);
  CHECK(binding == std::vector<std::string>{"rule", "limit", "shadow_price", "unit", "holds_from",
                                            "holds_to", "unique"});
}

TEST_CASE("a blend per hectare comes back from its JSON") {
  const Blend blend = samples::per_hectare_blend();
  const Json json = Json::parse(to_json(blend));
  check_blend(json, blend);
  CHECK(json["exclusions"][0]["pair"] == Json::array({"urea", "ammonium-nitrate"}));
  check_number(json["exclusions"][0]["costs_per_t"], blend.exclusions[0].costs_per_t);
  CHECK(json["binding"][0]["source"] == "field.yaml:12:9");
  CHECK(json["binding"][1]["source"].is_null());
  CHECK(json["binder"]["material"] == "canola-oil");
  check_number(json["binder"]["kg_per_t"], blend.binder.kg_per_t);
  check_number(json["breakdown"]["materials_per_t"], blend.breakdown.materials_per_t);
}

TEST_CASE("a blend per tonne has null where the basis defines nothing") {
  const Blend blend = samples::per_tonne_blend();
  const Json json = Json::parse(to_json(blend));
  check_blend(json, blend);
  CHECK(json["cost_per_ha"].is_null());
  CHECK(json["total_kg_per_ha"].is_null());
  CHECK(json["portions"][0]["kg_per_ha"].is_null());
  CHECK(json["binder"].is_null());
}

TEST_CASE("a conflict comes back from its JSON and has no portions") {
  const Conflict conflict = samples::conflict();
  const Json json = Json::parse(to_json(conflict));
  CHECK(json["status"] == "infeasible");
  CHECK_FALSE(json.contains("portions"));
  CHECK(json["irreducible"] == true);
  REQUIRE(json["conflict"].size() == conflict.rules.size());
  for (std::size_t i = 0; i < conflict.rules.size(); ++i) {
    check_rule(json["conflict"][i], conflict.rules[i].rule, conflict.rules[i].id);
    check_known(json["conflict"][i], "shortfall", conflict.rules[i].shortfall);
    check_number(json["conflict"][i]["limit"], conflict.rules[i].limit);
    CHECK(json["conflict"][i]["unit"] == to_string(conflict.rules[i].unit));
  }
  CHECK(json["conflict"][0]["source"] == "beet.yaml:9:12");
  CHECK(json["conflict"][2]["detail"] == "Together they turn to slurry.");
  check_rule(json["nearest"][0], "total max", conflict.nearest[0].id);
  check_number(json["nearest"][0]["from"], 200);
  check_number(json["nearest"][0]["to"], conflict.nearest[0].to);
  check_number(json["nearest_cost_per_ha"], conflict.nearest_cost_per_ha);
}

TEST_CASE("a stop says its cause, what is known and nothing that looks proved") {
  const Stopped stopped = samples::stopped();
  const Json json = Json::parse(to_json(stopped));
  CHECK(json["status"] == "stopped");
  CHECK(json["cause"] == "time_limit");
  CHECK(json["detail"] == stopped.detail);
  check_number(json["best_cost"], stopped.best_cost);
  check_number(json["lower_bound"], stopped.lower_bound);
  check_portions(json["best_portions"], stopped.best_portions);
  CHECK_FALSE(json.contains("portions"));
  CHECK_FALSE(json.contains("cost_per_t"));
}

TEST_CASE("whole numbers stay numbers with a point and minus zero is zero") {
  Blend blend = samples::per_tonne_blend();
  blend.breakdown.freight_per_t = -0.0;
  const std::string text = to_json(blend);
  CHECK(text.find("\"cost_per_t\": 520.0") != std::string::npos);
  CHECK(text.find("-0.0") == std::string::npos);
}

TEST_CASE("numbers carry twelve significant digits") {
  Blend blend = samples::per_tonne_blend();
  blend.cost_per_t = 1.0 / 3;
  CHECK(to_json(blend).find("\"cost_per_t\": 0.333333333333,") != std::string::npos);
}

TEST_CASE("names with quotes, line breaks and broken UTF-8 still make valid JSON") {
  Blend blend = samples::per_tonne_blend();
  blend.title = "a \"b\"\n\x1b \xFF";
  const std::string text = to_json(blend);
  CHECK(Json::accept(text));
  CHECK(text.back() == '\n');
}

TEST_CASE(
    "noise of the arithmetic is stated as a bound, so that it cannot differ between machines") {
  const Json json = Json::parse(to_json(samples::per_hectare_blend()));
  CHECK(json["certificate"]["primal_violation"] == 1e-12);
  CHECK(json["certificate"]["gap"] == 1e-12);
  CHECK(json["certificate"]["linear_programs"] == 7);
}

TEST_CASE("a table of materials lists the contents by name") {
  Material urea;
  urea.name = "urea";
  urea.family = "urea";
  urea.contains_percent = {{"N", 46}, {"N-urea", 46}};
  const Json json = Json::parse(to_json(std::vector{urea}));
  CHECK(json["materials"][0]["material"] == "urea");
  CHECK(json["materials"][0]["contains_percent"]["N-urea"] == 46.0);
  CHECK(json["materials"][0]["sgn"].is_null());
}

TEST_SUITE_END();
