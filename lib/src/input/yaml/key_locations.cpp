#include "input/yaml/key_locations.hpp"

#include <functional>
#include <map>

#include "base/embedded.hpp"
#include "input/json_document.hpp"
#include "input/yaml/limits_keys.hpp"
#include "input/yaml/us_units.hpp"

namespace leastwise {
namespace {

using KeyPlaces = std::map<std::string, std::string, std::less<>>;

/// The value of `key` in a mapping; nullptr where there is none.
const Node* value_of(const Node& mapping, std::string_view key) {
  const NodeEntry* entry = find_entry(mapping, key);
  return entry == nullptr ? nullptr : &entry->value;
}

/// What `part` says under `keyword`; empty when it does not.
std::string place_in(const Node& part, std::string_view keyword) {
  const Node* place = value_of(part, keyword);
  return place == nullptr ? std::string() : place->text;
}

/// Adds the keys of every mapping that `schema` describes; the first place of a key stands.
void collect_places(const Node& schema, KeyPlaces& places) {
  const std::string here = place_in(schema, "x-place-of-keys");
  if (const Node* properties = value_of(schema, "properties")) {
    for (const auto& [key, value] : properties->entries) {
      const std::string own = place_in(value, "x-place");
      const std::string& place = own.empty() ? here : own;
      if (!place.empty() && !us_key(key.text)) places.try_emplace(key.text, place);
    }
  }
  for (const NodeEntry& entry : schema.entries) collect_places(entry.value, places);
  for (const Node& item : schema.items) collect_places(item, places);
}

KeyPlaces places_in(std::string_view schema) {
  KeyPlaces places;
  collect_places(parse_json_document(std::string(schema), {}).root, places);
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
