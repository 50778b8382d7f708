#include "input/yaml/key_locations.hpp"

#include <functional>
#include <map>
#include <nlohmann/json.hpp>

#include "base/embedded.hpp"
#include "input/yaml/us_units.hpp"

namespace leastwise {
namespace {

using Schema = nlohmann::ordered_json;
using KeyPlaces = std::map<std::string, std::string, std::less<>>;

/// What `part` says under `keyword`; empty when it does not.
std::string place_in(const Schema& part, const char* keyword) {
  const auto found = part.find(keyword);
  return found == part.end() ? std::string() : found->get<std::string>();
}

/// Adds the keys of every mapping that `schema` describes; the first place of a key stands.
void collect_places(const Schema& schema, KeyPlaces& places) {
  if (!schema.is_structured()) return;
  if (schema.is_object()) {
    const auto properties = schema.find("properties");
    if (properties != schema.end()) {
      const std::string here = place_in(schema, "x-place-of-keys");
      for (const auto& [key, value] : properties->items()) {
        const std::string own = place_in(value, "x-place");
        const std::string& place = own.empty() ? here : own;
        if (!place.empty() && !us_key(key)) places.try_emplace(key, place);
      }
    }
  }
  for (const auto& part : schema) collect_places(part, places);
}

KeyPlaces places_in(std::string_view schema) {
  KeyPlaces places;
  collect_places(Schema::parse(schema), places);
  return places;
}

std::string place_of(const KeyPlaces& places, std::string_view key) {
  const auto found = places.find(key);
  return found == places.end() ? std::string() : found->second;
}

const KeyPlaces& scenario_places() {
  static const KeyPlaces places = places_in(embedded::scenario_schema_json());
  return places;
}

/// `places` of a file that holds scenarios, which belong `elsewhere`.
std::string place_among_scenarios(const KeyPlaces& places, std::string_view key,
                                  std::string_view elsewhere) {
  std::string place = place_of(places, key);
  if (place.empty() && scenario_places().contains(key)) place = elsewhere;
  return place;
}

}  // namespace

std::string where_it_belongs(std::string_view key) { return place_of(scenario_places(), key); }

std::string where_it_belongs_in_a_trial(std::string_view key) {
  static const KeyPlaces places = places_in(embedded::trial_schema_json());
  return place_among_scenarios(places, key, "to a scenario, such as base");
}

std::string where_it_belongs_in_a_season(std::string_view key) {
  static const KeyPlaces places = places_in(embedded::season_schema_json());
  return place_among_scenarios(places, key, "to a scenario");
}

bool belongs_at_top(std::string_view key) {
  return where_it_belongs(key) == where_it_belongs("leastwise");
}

}  // namespace leastwise
