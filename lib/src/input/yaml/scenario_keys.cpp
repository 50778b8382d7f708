#include "input/yaml/scenario_keys.hpp"
#include "input/yaml/key_locations.hpp"

#include <array>
#include <utility>

#include "base/codes.hpp"
#include "base/text/dates.hpp"
#include "base/text/wording.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/quote_keys.hpp"
#include "input/yaml/risk_keys.hpp"

namespace leastwise {
namespace {

void take_version(NodeReader&, const Node&, const std::string&, ScenarioText&) {
}  // read beforehand

void take_title(NodeReader& reader, const Node& value, const std::string& path,
                ScenarioText& scenario) {
  scenario.draft.title = reader.text(value, path).value_or("");
}

void take_currency(NodeReader& reader, const Node& value, const std::string& path,
                   ScenarioText& scenario) {
  scenario.draft.currency = reader.text(value, path).value_or("");
}

void take_units(NodeReader& reader, const Node& value, const std::string& path,
                ScenarioText& scenario) {
  if (reader.choice(value, path, unit_words)) scenario.draft.units = reader.units();
}

void take_catalogue(NodeReader& reader, const Node& value, const std::string& path,
                    ScenarioText& scenario) {
  const auto* files = reader.list(value, path, "[catalogue.yaml]");
  if (files == nullptr) return;
  for (std::size_t i = 0; i < files->size(); ++i) {
    const std::string place = path_below(path, std::to_string(i));
    const auto name = reader.text((*files)[i], place);
    if (name) scenario.catalogues.push_back({*name, place, (*files)[i].spot});
  }
}

void take_use(NodeReader& reader, const Node& value, const std::string& path,
              ScenarioText& scenario) {
  if (auto names = reader.material_names(value, path)) scenario.draft.use = std::move(names);
}

void take_prices(NodeReader& reader, const Node& value, const std::string& path,
                 ScenarioText& scenario) {
  if (const auto name = reader.text(value, path)) {
    scenario.prices = NamedFile{*name, path, value.spot};
  }
}

void take_prices_on(NodeReader& reader, const Node& value, const std::string& path,
                    ScenarioText& scenario) {
  const auto day = reader.text(value, path);
  if (!day) return;
  if (day_of(*day))
    scenario.draft.prices_on = *day;
  else
    reader.error(codes::bad_date, path, value.spot,
                 "prices_on must be a day such as 2026-03-02, found " + in_quotes(*day));
}

void take_plant(NodeReader& reader, const Node& value, const std::string& path,
                ScenarioText& scenario) {
  scenario.draft.plant = reader.text(value, path).value_or("");
}

void take_materials(NodeReader& reader, const Node& value, const std::string& path,
                    ScenarioText& scenario) {
  const auto take = [&](const Node& key, const Node& node, const std::string& place) {
    MaterialDraft material;
    material.name = key.text;
    if (read_material(reader, key, node, place, material)) {
      scenario.draft.materials.push_back(std::move(material));
    }
  };
  reader.names(value, path, materials_example, take);
}

template <auto Field>
void take_targets(NodeReader& reader, const Node& value, const std::string& path,
                  ScenarioText& scenario) {
  reader.names(value, path, "N: {min: 60}",
               [&](const Node& key, const Node& node, const std::string& place) {
                 (scenario.draft.*Field).push_back(read_target(reader, key, node, place));
               });
}

void take_ratios(NodeReader& reader, const Node& value, const std::string& path,
                 ScenarioText& scenario) {
  const auto* ratios = reader.list(value, path, "- {of: N-ammonium, to: N, min: 0.3}");
  if (ratios == nullptr) return;
  for (std::size_t i = 0; i < ratios->size(); ++i) {
    read_ratio(reader, (*ratios)[i], path_below(path, std::to_string(i)), scenario.draft);
  }
}

void take_blend(NodeReader& reader, const Node& value, const std::string& path,
                ScenarioText& scenario) {
  read_blend(reader, value, path, scenario.draft);
}

void take_compatibility(NodeReader& reader, const Node& value, const std::string& path,
                        ScenarioText& scenario) {
  read_compatibility(reader, value, path, scenario.draft);
}

constexpr std::array<Key<ScenarioDraft>, 2> make_keys{{
    {"hectares", [](NodeReader& reader, const Node& value, const std::string& path,
                    ScenarioDraft& draft) { draft.make_hectares = reader.number(value, path); }},
    {"tonnes", [](NodeReader& reader, const Node& value, const std::string& path,
                  ScenarioDraft& draft) { draft.make_tonnes = reader.number(value, path); }},
}};

void take_make(NodeReader& reader, const Node& value, const std::string& path,
               ScenarioText& scenario) {
  constexpr std::string_view example = "{hectares: 12} or {tonnes: 5}";
  read_keys<ScenarioDraft>(reader, value, path, example, make_keys, where_it_belongs,
                           scenario.draft);
  if (value.kind == Node::Kind::mapping && value.entries.empty()) {
    reader.error(codes::missing_key, path, value.spot,
                 "make must say how much, such as " + std::string(example) + ", found nothing");
  }
}

void take_variants(NodeReader& reader, const Node& value, const std::string& path,
                   ScenarioText& scenario) {
  read_variants(reader, value, path, scenario.draft);
}

using S = ScenarioDraft;
constexpr std::array<Key<ScenarioText>, 20> scenario_keys{{
    {"leastwise", take_version},
    {"title", take_title},
    {"currency", take_currency},
    {"units", take_units},
    {"catalogue", take_catalogue},
    {"use", take_use},
    {"prices", take_prices},
    {"prices_on", take_prices_on},
    {"plant", take_plant},
    {"materials", take_materials},
    {"rates_kg_per_ha", take_targets<&S::rates_kg_per_ha>},
    {"grade_percent", take_targets<&S::grade_percent>},
    {"ratios", take_ratios},
    {"blend", take_blend},
    {"compatibility", take_compatibility},
    {"make", take_make},
    {"risk", read_risk},
    {"quote", read_quote},
    {"declare", read_declare},
    {"variants", take_variants},
}};

}  // namespace

void read_scenario(NodeReader& reader, const Node& root, ScenarioText& scenario) {
  if (!reader.is_mapping(root, {}, "leastwise: 1")) return;
  if (!check_version(reader, root, true)) {
    reader.mark_unreadable({});
    return;
  }
  count_as_stated(reader, root);
  read_keys<ScenarioText>(reader, root, {}, "leastwise: 1", scenario_keys, where_it_belongs,
                          scenario);
}

}  // namespace leastwise
